"""What a week asks of a region: sums under three weightings, shares and days."""

from __future__ import annotations

from math import isclose

import pytest

from service.adjustment.week.exposure import (
    Contribution,
    exposure,
    largest_moment,
    shares,
    shares_of_days,
    shortest_gap,
    uncertain_shares,
)
from service.mechanics.uncertainty.intervals import changes_of
from service.vocabulary import WEIGHTINGS

CERTAIN = changes_of(())


def lift(day: int, moment: float, repetitions: float) -> Contribution:
    return Contribution(day, repetitions, moment, CERTAIN, (str(moment),))


def week(
    *, squat: float = 334.0, row: float = 190.0, pull: float = 450.0, pulls: float = 15, again: float = 290.0
) -> list[Contribution]:
    """Two squats, a row, a deadlift and a Romanian deadlift: illustrative lumbosacral moments."""
    return [lift(1, squat, 25), lift(1, row, 32), lift(3, pull, pulls), lift(5, again, 24), lift(5, 310.0, 24)]


# derived apart from the project: sums of repetitions times moments to the first, second and tenth power
CHANGED = [
    ("deadlift a tenth lighter", week(pull=405.0), (0.981, 0.949, 0.430), 0.900),
    ("deadlift for fewer repetitions", week(pulls=8), (0.911, 0.875, 0.592), 1.000),
    ("row with the chest supported", week(row=0.0), (0.829, 0.898, 1.000), 1.000),
    ("both squats a tenth lighter", week(squat=300.6, again=261.0), (0.957, 0.919, 0.941), 1.000),
    ("deadlift as from a frame", week(pull=335.0), (0.952, 0.880, 0.171), 0.744),
]


@pytest.mark.parametrize(("changed", "ratios", "peak"), [one[1:] for one in CHANGED], ids=[one[0] for one in CHANGED])
def test_which_change_relieves_a_week_depends_on_the_weighting(
    changed: list[Contribution], ratios: tuple[float, ...], peak: float
) -> None:
    for weighting, ratio in zip(WEIGHTINGS, ratios, strict=True):
        assert exposure(changed, weighting) / exposure(week(), weighting) == pytest.approx(ratio, abs=5e-4)
    assert largest_moment(changed) / largest_moment(week()) == pytest.approx(peak, abs=5e-4)


def test_the_heaviest_lift_has_a_fifth_of_the_linear_sum_and_most_of_the_tenth_power() -> None:
    of_deadlift = [shares(week(), weighting)[2] for weighting in WEIGHTINGS]
    assert of_deadlift == pytest.approx([0.19, 0.27, 0.88], abs=6e-3)


def test_shares_of_lifts_and_of_days_add_up_to_the_week() -> None:
    for weighting in WEIGHTINGS:
        assert isclose(sum(shares(week(), weighting)), 1.0)
        days = shares_of_days(week(), weighting)
        assert list(days) == [1, 3, 5]
        assert isclose(sum(days.values()), 1.0)


def test_a_week_that_asks_nothing_has_shares_of_nothing() -> None:
    assert shares([lift(1, 0.0, 20)], "linear") == [0.0]
    assert uncertain_shares([], "squared") == []
    assert largest_moment([]) == 0.0


@pytest.mark.parametrize(
    ("days", "gap"), [((1, 3, 5), 2), ((1, 7), 1), ((2, 6), 3), ((4,), None), ((), None), ((3, 3), None), ((1, 4), 3)]
)
def test_the_week_comes_round_from_its_last_day_to_its_first(days: tuple[int, ...], gap: int | None) -> None:
    assert shortest_gap(days) == gap


def test_an_input_of_the_lifter_moves_all_lifts_and_cancels_from_their_shares() -> None:
    two = [
        Contribution(day, 10, moment, changes_of((0.1 * moment,)), (str(day),))
        for day, moment in ((1, 200.0), (4, 300.0))
    ]
    for weighting in WEIGHTINGS:
        for share, alone in zip(uncertain_shares(two, weighting), shares(two, weighting), strict=True):
            assert (share.low, share.value, share.high) == pytest.approx((alone, alone, alone))


def test_an_input_of_one_exercise_moves_its_share_by_what_the_sum_says() -> None:
    one = Contribution(1, 10, 200.0, changes_of((), (20.0,)), ("squat",))
    other = Contribution(4, 10, 200.0, changes_of((), (0.0,)), ("deadlift",))
    share = uncertain_shares([one, other], "tenth_power")[0]
    assert share.low == pytest.approx(0.9**10 / (0.9**10 + 1))
    assert share.high == pytest.approx(1.1**10 / (1.1**10 + 1))
    again = uncertain_shares([one, one], "tenth_power")[0]
    assert (again.low, again.high) == pytest.approx((0.5, 0.5)), "the same exercise twice shares what is its own"
