"""Results of setups that were solved again with each input moved, arranged by the scopes of the inputs."""

from __future__ import annotations

from math import sqrt

import pytest

from service.mechanics.body import build_body
from service.mechanics.uncertainty.intervals import average_of, interval_of, ratio_of_two
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.mechanics.uncertainty.scopes import EVEN, LIFTER, UNEVEN, changes_by_sides


def test_an_even_input_enters_by_its_change_and_an_uneven_one_by_its_mean_too() -> None:
    (even,) = changes_by_sides({"shank": ((-3.0,), (3.0,))})
    (uneven,) = changes_by_sides({"shank": ((1.0,), (3.0,))})
    assert (interval_of(10.0, even).low, interval_of(10.0, even).high) == pytest.approx((7.0, 13.0))
    assert uneven.shift == pytest.approx(sqrt(2 / 3.141592653589793) * 2.0)


@pytest.mark.parametrize("name", LIFTER)
def test_what_is_the_lifter_s_cancels_between_families(name: str) -> None:
    (one,) = changes_by_sides({name: ((-9.0,), (12.0,)), "lean": ((-1.0,), (1.0,))}, ["lean"])
    (other,) = changes_by_sides(
        {name: ((-18.0,), (24.0,)), "drop": ((-1.0,), (1.0,)), "arm": ((0.0,), (0.0,))}, ["drop"]
    )
    ratio = ratio_of_two(200.0, other, 100.0, one, same_exercise=False).on_average
    assert ratio.high - ratio.low < 0.06


@pytest.mark.parametrize("name", [*UNEVEN, "shank"])
def test_the_order_is_that_of_the_closed_forms(name: str) -> None:
    changes = uncertain_demand(build_body(80.0, 1.78), "back_squat_high_bar", 100.0).changes["lumbosacral"]
    even = changes.of_lifter[LIFTER.index(name)]
    uneven = changes.of_lifter[len(LIFTER) + UNEVEN.index(name)] if name in UNEVEN else 0.0
    (alone,) = changes_by_sides({name: ((-1.0,), (1.0,))})
    assert [index for index, part in enumerate(alone.of_lifter) if part] == [LIFTER.index(name)]
    assert even
    assert bool(uneven) == (name == "above_mass")
    assert len(changes.of_lifter) == len(LIFTER) + len(UNEVEN) == len(EVEN) + 2 * len(UNEVEN)


def test_repetitions_scatter_by_a_part_of_what_lifters_do_and_an_exercise_departs_by_another() -> None:
    (found,) = changes_by_sides(
        {"shin_angle": ((4.0,), (-4.0,))}, own={"shin_angle": 0.75}, repeated={"shin_angle": 0.5}
    )
    assert average_of(0.0, found).high == pytest.approx(sqrt(4.0**2 + 3.0**2))
    assert found.repeated == pytest.approx(2.0**2)
