"""The transition rule after weeks off, asked as a client: caterisano_2019 through two clinical summaries (secondary).

Its weekly shares were written for conditioning; their use for lifting volume is a design choice.
"""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.training.return_to_training import judged, relative_volume
from tests.support.asking import Answered, ask, kg

# 20 sets a week on five days, one repetition short of nothing changed: only the break shapes the way back
ORIGINAL: Final[dict[str, Any]] = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 5},
    "load": kg(62.5),
    "reps_in_reserve": 2,
    "days_per_week": 5,
}
REQUEST: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(64), "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
    "original": ORIGINAL,
    "adjusted": ORIGINAL,
    "region": "low_back",
    "step": 0.5,
    "bar": {"bar": kg(15)},
}
SHARES: Final = (0.50, 0.70, 0.80, 0.90, 1.00)  # row 8: 10, 14, 16, 18, 20 sets of normally 20
MOST_DAYS: Final = (3, 4)  # in weeks 1 and 2


def after(weeks_off: float, **change: object) -> Answered:
    return ask("return-plan", {**REQUEST, **change, "weeks_off": weeks_off})


def weekly_reps(prescription: Any) -> float:  # noqa: ANN401 - an answer of the service
    middle = (prescription.reps.low + prescription.reps.high) / 2
    return float(prescription.sets * middle * prescription.days_per_week)


@pytest.mark.parametrize("weeks_off", [2, 3, 12])
def test_weekly_volume_keeps_to_the_shares_of_the_first_weeks(weeks_off: float) -> None:
    # row 8: caterisano_2019 (secondary)
    steps = after(weeks_off).steps
    normal = 4 * 5 * 5
    for step in steps:
        if step.week <= len(SHARES):
            assert weekly_reps(step.prescription) <= SHARES[step.week - 1] * normal
    assert weekly_reps(steps[-1].prescription) == normal
    assert steps[-1].week >= len(SHARES)


def test_days_are_limited_in_the_first_two_weeks() -> None:
    # caterisano_2019 (secondary): three lifting days in week 1, four in week 2
    days = {step.week: step.prescription.days_per_week for step in after(3).steps}
    assert days[1] <= MOST_DAYS[0]
    assert all(count <= MOST_DAYS[1] for week, count in days.items() if week == 2)


def test_below_two_weeks_off_the_rule_does_not_apply() -> None:
    # caterisano_2019 (secondary): after an inactivity of two weeks or more
    answer = after(1.9)
    assert [step.week for step in answer.steps] == [1]
    assert "transition_was_for_conditioning" not in {caution.code for caution in answer.cautions}


def test_relative_volume_of_the_first_two_weeks_is_told_and_never_above_30() -> None:
    # rows 9 and 10: sets × repetitions × share of the maximum stays within 11 to 30 (caterisano_2019, secondary)
    heavy = {**ORIGINAL, "sets": 6, "reps": {"low": 10, "high": 10}, "days_per_week": 2}
    answer = after(4, original=heavy, adjusted=heavy)
    told = {step.week: step.relative_volume for step in answer.steps if step.relative_volume is not None}
    assert set(told) <= {1, 2}
    assert 1 in told
    assert all(volume <= 30 for volume in told.values())


def test_relative_volume_below_11_is_pointed_out() -> None:
    # row 10: 2 × 5 at 60 % is 6, below 11 (derived); half of the normal repetitions leaves no more
    once = {**ORIGINAL, "days_per_week": 1}
    answer = after(4, original=once, adjusted=once)
    first = answer.steps[0]
    share = first.relative_volume / (first.prescription.sets * first.prescription.reps.high)
    assert judged(relative_volume(2, 5, 0.60)) == "low"
    assert first.relative_volume < 11
    assert 0.5 < share < 1
    assert "first_weeks_small" in {caution.code for caution in answer.cautions}
    assert any("11 to 30" in text.text for text in first.why)
