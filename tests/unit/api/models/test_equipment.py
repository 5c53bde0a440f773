"""What can be put together: with a bar, in steps of dumbbells, and for a lift of the body alone."""

from __future__ import annotations

import pytest
from msgspec import UNSET

from service.api.models.equipment import STEP, BarSetup, GymLoads, PlateKind, bar_of, implement, loaded
from service.errors import Refusal
from service.units import Mass

BAR = BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(2.5, "kg"), pairs=2)])
GYM = GymLoads(bar_of(BAR, "kg"), 2.0, (31.0,))


@pytest.mark.parametrize(
    ("exercise", "load", "down", "above"),
    [
        ("front_squat", 19.9, 15.0, 20.0),
        ("front_squat", 20.0, 20.0, 25.0),
        ("front_squat", 14.0, None, 15.0),
        ("front_squat", 40.0, 25.0, None),
        ("leg_press", 7.0, 6.0, 8.0),
        ("leg_press", 1.0, None, 2.0),
        ("leg_press", 31.0, 31.0, 32.0),
        ("bench_press_dumbbell", 11.9, 8.0, 12.0),
        ("pull_up", -3.0, -4.0, -2.0),
        ("pull_up", 1.0, 0.0, 2.0),
    ],
)
def test_the_nearest_loads(exercise: str, load: float, down: float | None, above: float | None) -> None:
    assert (GYM.down(exercise, load), GYM.above(exercise, load)) == (down, above)


def test_the_usual_step_where_none_is_stated() -> None:
    round_down = implement(UNSET, UNSET, "kg", "")
    assert round_down("leg_press", 10 * STEP["kg"] + 0.1) == pytest.approx(10 * STEP["kg"])


def test_a_step_of_nothing_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        implement(UNSET, Mass(0.0, "kg"), "kg", "/constraints")
    assert refused.value.faults[0].pointer == "/constraints/increment"


def test_the_bar_keeps_its_unit_and_the_answer_that_of_the_request() -> None:
    shown = loaded(BAR, 20.0, "lb")
    assert shown is not None
    assert shown.unit == "lb"
    assert shown.value == pytest.approx(20.0 / 0.45359237, rel=1e-5)
    assert loaded(BAR, 10.0, "kg") is None


@pytest.mark.parametrize(
    ("setup", "pointer"),
    [
        (BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(0.0, "kg"))]), "/bar/plates/0/plate"),
        (BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(5.0, "kg"))] * 2), "/bar/plates/1/plate"),
        (BarSetup(bar=Mass(15.0, "kg"), collars=Mass(9000.0, "kg")), "/bar/collars"),
    ],
)
def test_a_bar_that_cannot_be_is_refused(setup: BarSetup, pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        bar_of(setup, "kg")
    assert refused.value.faults[0].pointer == pointer
