"""Days of a week: more and shorter sessions, or fewer with more days between; what each of them does not do."""

from __future__ import annotations

from typing import Any

import pytest

from service.adjustment.levers.volume import days_apart
from service.knowledge.design_choices import CHOICES
from tests.support.asking import Answered, ask, kg


def asked(region: str, days: int | None, exercise: str = "front_squat", pain: float = 3) -> Answered:
    request: dict[str, Any] = {
        "lifter": {"body_mass": kg(71), "stature": {"value": 175, "unit": "cm"}},
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": 6, "high": 6},
            "load": kg(60),
            "reps_in_reserve": 2,
            **({} if days is None else {"days_per_week": days}),
        },
        "complaint": {"region": region, "pain_in_session": pain},
        "aim": "strength",
        "constraints": {"levers": ["days"]},
        "detail": "full",
    }
    return ask("adjustments", request)


def fewer(answer: Answered) -> list[Answered]:
    return [option for option in answer.options if option.meets_by == "week_exposure"]


@pytest.mark.parametrize(("region", "days", "expected"), [("knee", 3, 2), ("ankle", 4, 2), ("low_back", 4, 3)])
def test_fewer_days_leave_a_region_its_days_between_and_each_session_as_it_is(
    region: str, days: int, expected: int
) -> None:
    [option] = fewer(asked(region, days))
    new = option.prescription
    assert (new.days_per_week, new.sets, new.reps.low, new.load.value) == (expected, 4, 6, 60)
    assert option.session_exposure == pytest.approx(1)
    assert option.stimulus.weekly_sets == pytest.approx(expected / days, abs=1e-4)
    assert option.basis.evidence == "practice"


@pytest.mark.parametrize(("region", "days"), [("knee", 2), ("low_back", 3), ("hip", 1), ("knee", None)])
def test_days_that_can_be_far_enough_apart_already_stay(region: str, days: int | None) -> None:
    assert fewer(asked(region, days)) == []


def test_tendons_have_a_day_more() -> None:
    apart = CHOICES.adjustments.days_apart
    assert apart.tendon > apart.no_tendon
    assert days_apart("knee") == days_apart("calf_achilles") == apart.tendon
    assert days_apart("low_back") == apart.no_tendon
