"""What a week asks of a region, against sums worked apart from the service; data/week_check_values.csv.

The week: squats, 25 repetitions, and a row, 32, on the first day; deadlifts on the third; squats, 24 repetitions, and a
Romanian deadlift of 310 N·m, 24, on the fifth. The moments at the lumbosacral joint are made up. Which of its changes
is the best turns with the weighting.
"""

from __future__ import annotations

from typing import Final

import pytest

from service.adjustment.week.exposure import Contribution, Spread, exposure, largest_moment, shares, size
from service.mechanics.uncertainty.intervals import changes_of
from service.vocabulary import WEIGHTINGS
from tests.support.asking import rows

CASES: Final = rows("week_check_values.csv")
CERTAIN: Final = Spread(lambda: (changes_of(()), ()))
THIRD_DECIMAL: Final = 6e-4
DAMAGE: Final = 0.2
"""Power of the cycles that goes with a tenth power of the force (coenen_2012: F² n^0.2 = (F¹⁰ n)^0.2)."""


def week(case: dict[str, str]) -> list[Contribution]:
    lifts = [
        (1, float(case["squat"]), 25.0),
        (1, float(case["row"]), 32.0),
        (3, float(case["deadlift"]), float(case["deadlifts"])),
        (5, float(case["squat_again"]), 24.0),
        (5, 310.0, 24.0),
    ]
    return [Contribution(day, times, moment, CERTAIN) for day, moment, times in lifts]


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_a_changed_week_against_the_present_one(case: dict[str, str]) -> None:
    changed, now = week(case), week(CASES[0])
    for weighting in WEIGHTINGS:
        ratio = exposure(changed, weighting) / exposure(now, weighting)
        assert ratio == pytest.approx(float(case[weighting]), abs=THIRD_DECIMAL)
    damage = (exposure(changed, "tenth_power") / exposure(now, "tenth_power")) ** DAMAGE
    assert damage == pytest.approx(float(case["tenth_power_of_cycles"]), abs=THIRD_DECIMAL)
    assert largest_moment(changed) / largest_moment(now) == pytest.approx(float(case["peak"]), abs=THIRD_DECIMAL)


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_on_the_scale_of_a_moment_the_power_is_taken_out(case: dict[str, str]) -> None:
    """So that a tenth off every moment is a tenth off each size; the tenth power's display scales with the square."""
    changed, now = (size(week(one), "tenth_power") for one in (case, CASES[0]))
    assert (changed / now) ** 2 == pytest.approx(float(case["tenth_power_of_cycles"]), abs=THIRD_DECIMAL)


def test_the_deadlift_is_a_fifth_of_the_linear_sum_and_most_of_the_tenth_power() -> None:
    of_deadlift = [shares(week(CASES[0]), weighting)[2] for weighting in WEIGHTINGS]
    assert of_deadlift == pytest.approx([0.19, 0.27, 0.88], abs=6e-3)


def test_no_one_change_is_the_best_under_every_weighting() -> None:
    best = {min(CASES[1:], key=lambda case: float(case[weighting]))["id"] for weighting in WEIGHTINGS}
    assert len(best) == len(WEIGHTINGS)
