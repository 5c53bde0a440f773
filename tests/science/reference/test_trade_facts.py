"""Facts that every coach knows, asked through the operations, and the exact factors of the units."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from service.units import SI
from tests.support.asking import Answered, ask, kg, lb

TO_FIVE_POUNDS: Final = 2.5  # half a step of five


def test_three_sets_of_four_to_six_at_185_become_six_to_eight_at_135() -> None:
    # common practice, no source
    current = {"sets": 3, "reps": {"low": 4, "high": 6}, "load": lb(185)}
    found = ask("rep-targets", {"current": current, "new_load": lb(135)}).equal_volume
    assert (found.sets, found.reps.low, found.reps.high) == (3, 6, 8)
    assert (found.volume_load.current.low.value, found.volume_load.current.high.value) == (2220, 3330)
    assert (found.volume_load.new.low.value, found.volume_load.new.high.value) == (2430, 3240)
    assert found.volume_load.new.low.unit == "lb"
    assert (found.ratio.low, found.ratio.high) == pytest.approx((1, 1), abs=0.10)


def legs(stance: str, load: float, **more: object) -> Answered:
    return ask("leg-distribution", {"stance": stance, "load": lb(load), **more})


def test_squat_of_200_puts_100_on_each_leg() -> None:
    # common practice, no source
    found = legs("bilateral", 200).load_only
    assert (found.lead.value, found.trail.value) == (100, 100)
    assert found.lead.unit == "lb"


@pytest.mark.parametrize("more", [{}, {"lead_share": 0.75}], ids=["published share", "stated share"])
def test_split_squat_of_135_puts_100_on_the_lead_and_35_on_the_trail_leg(more: dict[str, Any]) -> None:
    # common practice, no source; to 5 lb
    found = legs("split_squat", 135, **more).load_only
    assert (found.lead.value, found.trail.value) == pytest.approx((100, 35), abs=TO_FIVE_POUNDS)
    assert found.lead.value + found.trail.value == pytest.approx(135)


def test_split_squat_that_matches_a_200_squat_is_loaded_with_135() -> None:
    # common practice, no source; to 5 lb
    match = legs("split_squat", 135, match={"stance": "bilateral", "load": lb(200)}).matching_load.load_only
    assert match.value == pytest.approx(135, abs=TO_FIVE_POUNDS)
    assert ask("bar-loading", {"target": {"value": match.value, "unit": match.unit}}).load.value == 135


def test_split_squat_puts_135_instead_of_200_through_the_spine() -> None:
    # common practice, no source
    setups = [
        {"label": "squat", "exercise": "back_squat_high_bar", "load": lb(200)},
        {"label": "split squat", "exercise": "split_squat", "load": lb(135)},
    ]
    squat, split = ask("spinal-load", {"setups": setups}).setups
    assert (squat.load_through_spine.value, split.load_through_spine.value) == (200, 135)
    assert split.load_through_spine.unit == "lb"
    assert split.relative.load_through_spine == pytest.approx(0.675, abs=1e-9)
    assert split.relative.moment.value < 1


def test_tempo_3_1_3_1_is_eight_seconds_a_repetition() -> None:
    # common practice, no source
    found = ask("tempo", {"tempo": "3-1-3-1", "reps": {"low": 6, "high": 8}, "sets": 3})
    one = found.seconds_per_rep
    assert (one.low, one.value, one.high, one.unit) == (8, 8, 8, "s")
    assert (found.time_under_tension_per_set.low.value, found.time_under_tension_per_set.high.value) == (48, 64)
    assert (found.time_under_tension_total.low.value, found.time_under_tension_total.high.value) == (144, 192)


def test_four_to_six_sets_over_two_days_are_two_to_three_a_day() -> None:
    # common practice, no source
    found = ask("session-split", {"weekly_sets": {"low": 4, "high": 6}, "days": 2})
    assert [(day.sets.low, day.sets.high) for day in found.days] == [(2, 3), (2, 3)]
    assert (found.ratio_to_current.low, found.ratio_to_current.high) == (0.5, 0.5)


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("kg", 1.0),
        ("lb", 0.45359237),  # NIST SP 811, appendix B: the avoirdupois pound, exactly
        ("m", 1.0),
        ("cm", 0.01),
        ("in", 0.0254),  # NIST SP 811, appendix B: the inch, exactly
        ("ft", 0.3048),  # NIST SP 811, appendix B: the foot, exactly
        ("deg", math.pi / 180),
        ("rad", 1.0),
        ("s", 1.0),
        ("min", 60.0),
    ],
)
def test_factor_of_a_unit_is_its_exact_definition(unit: str, exact: float) -> None:
    assert SI[unit] == exact


def test_every_unit_offered_has_its_factor_checked() -> None:
    assert set(SI) == {"kg", "lb", "m", "cm", "in", "ft", "deg", "rad", "s", "min"}


def test_pounds_on_a_kilogram_bar_are_converted_by_the_exact_pound() -> None:
    # NIST SP 811: 45 lb are 20.41 kg, a bar of 20 kg with a pair of 0.2 kg holds 20.4 kg
    bar = {"bar": kg(20), "plates": [{"plate": kg(0.2), "pairs": 1}]}
    found = ask("bar-loading", {"target": lb(45), "bar": bar, "rounding": "down"})
    assert (found.load.value, found.load.unit) == (20.4, "kg")
    assert found.difference == pytest.approx(20.4 / 0.45359237 - 45, abs=1e-4)
