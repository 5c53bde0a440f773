"""A week is adjusted, reviewed and comes back to the original: one change a week, each within its bound."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.knowledge.design_choices import CHOICES
from tests.science.episodes.prescribed import Json
from tests.science.episodes.whole_week import POWERS, Step, adjusted, course, plan, sizes
from tests.support.asking import kg
from tests.support.weeks import lift

STEP: Final = CHOICES.return_plan.step
TOLERANCE: Final = 2e-3  # of shown and rounded numbers
LIFTER: Final[dict[str, Any]] = {
    "body_mass": kg(83),
    "stature": {"value": 179, "unit": "cm"},
    "sex": "male",
    "training": "trained",
}


def consultation(region: str, *week: Json) -> Json:
    return {
        "lifter": LIFTER,
        "week": list(week),
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "strength",
    }


WEEKS: Final = {
    "low back": consultation(
        "low_back",
        lift(1, "back_squat_high_bar", 4, 5, 115),
        lift(1, "barbell_row", 3, 8, 62.5),
        lift(3, "deadlift_conventional", 3, 5, 142.5),
        lift(5, "back_squat_high_bar", 3, 8, 97.5),
    ),
    "knee": consultation(
        "knee",
        lift(1, "back_squat_high_bar", 4, 6, 107.5),
        lift(2, "romanian_deadlift", 3, 8, 90),
        lift(4, "front_squat", 4, 6, 77.5),
    ),
    "two days alike": consultation(
        "low_back",
        lift(1, "deadlift_conventional", 3, 5, 132.5),
        lift(2, "front_squat", 3, 6, 72.5),
        lift(4, "deadlift_conventional", 3, 5, 132.5),
    ),
}
each_week = pytest.mark.parametrize("name", list(WEEKS))


def taken(name: str) -> tuple[Json, list[Json], list[Step]]:
    asked = WEEKS[name]
    week = adjusted(asked)
    return asked, week, course(asked, week)


@each_week
def test_the_week_that_is_tried_comes_back_to_the_original(name: str) -> None:
    asked, week, steps = taken(name)
    assert week != asked["week"]
    assert steps
    assert steps[-1].after == asked["week"]


@each_week
def test_each_week_changes_one_lift_within_the_bound_of_the_week(name: str) -> None:
    asked, _, steps = taken(name)
    for step in steps:
        if step.answer is None:
            assert step.after == step.before[: len(step.after)]
            continue
        places = [at for at, (one, new) in enumerate(zip(step.before, step.after, strict=True)) if one != new]
        changed = [step.before[at]["prescription"] for at in places]
        assert changed
        assert all(one == changed[0] for one in changed)
        assert isinstance(step.answer["next"], dict)
        wanted = asked["week"][places[0]]["prescription"]
        before, after = sizes(asked, step.before, wanted), sizes(asked, step.after, wanted)
        rises = {one: after[one] / before[one] for one in POWERS}
        other_lift = changed[0]["exercise"] != step.answer["next"]["exercise"]
        if other_lift and step.answer["test_first"] is not None:
            continue  # another exercise has a least load, which a test comes before
        assert max(rises.values()) <= 1 + STEP + TOLERANCE, (step.answer["changed"], rises)
        assert step.answer["of_week"] is not None
        for one, ratio in rises.items():
            assert step.answer["of_week"][one] == pytest.approx(ratio, abs=TOLERANCE)


@each_week
def test_the_plan_in_the_week_leads_as_the_reviews_do(name: str) -> None:
    asked, week, _ = taken(name)
    for place, (one, now) in enumerate(zip(asked["week"], week, strict=False)):
        if one == now:
            continue
        planned = plan(asked, week, place)["steps"]
        assert planned[-1]["prescription"]["load"] == one["prescription"]["load"]
        for step in planned:
            of_week = step["of_week"]
            assert step["over_step"] or max(of_week["linear"], of_week["tenth_power"]) <= 1 + STEP + TOLERANCE


def test_a_week_that_was_adjusted_asks_for_less_than_the_original() -> None:
    for name in WEEKS:
        asked, week, _ = taken(name)
        now, then = sizes(asked, asked["week"]), sizes(asked, week)
        assert all(then[one] < now[one] for one in POWERS)
