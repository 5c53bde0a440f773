"""Work that stays short of the prescription with calm pain: less is asked, and the next step is a smaller one."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.units import SI
from tests.support.asking import Answered, ask, kg
from tests.unit.adjustment.test_session_review import GOOD, LIFTER, SORE, reviewed

SHORT: Final[dict[str, Any]] = GOOD | {"reps_done": [5, 5, 4, 4]}
ORIGINAL: Final[dict[str, Any]] = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(100),
    "reps_in_reserve": 2,
    "days_per_week": 2,
}


def kilograms(answer: Answered) -> float:
    return float(answer.next.load.value * SI[answer.next.load.unit])


def test_after_three_short_sessions_there_is_less_load_and_before_the_same_again() -> None:
    assert reviewed(SHORT, SHORT).rule.id == "not_completed"
    found = reviewed(SHORT, SHORT, SHORT)
    assert (found.decision, found.rule.id, found.changed) == ("step_back", "stays_short", ["load"])
    assert 55 <= kilograms(found) < 62.5  # what four repetitions with 62.5 kg say of five


@given(st.lists(st.integers(0, 4), min_size=4, max_size=4), st.integers(1, 3))
def test_the_fewer_were_done_the_less_is_asked(done: list[int], fewer: int) -> None:
    least, less = done, [max(0, reps - fewer) for reps in done]
    first, then = (reviewed(*[GOOD | {"reps_done": reps}] * 3) for reps in (least, less))
    assert kilograms(then) <= kilograms(first) < 62.5


def test_where_sets_alone_were_missed_there_are_as_many_as_were_done() -> None:
    found = reviewed(*[GOOD | {"reps_done": [6, 6, 6]}] * 3)
    assert (found.changed, found.next.sets, kilograms(found)) == (["sets"], 3, 62.5)


def test_where_nothing_lighter_can_be_loaded_there_are_fewer_repetitions() -> None:
    bar_alone = {"exercise": "front_squat", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(15)}
    found = reviewed(*[GOOD | {"reps_done": [6, 6, 5]}] * 3, prescription=bar_alone)
    assert (found.changed, found.next.reps.high) == (["reps"], 5)


def test_a_hold_that_is_not_held_in_full_gets_shorter() -> None:
    plank = {"exercise": "plank", "sets": 3, "hold": {"value": 45, "unit": "s"}, "load": kg(0)}
    found = reviewed(*[GOOD | {"reps_done": [1, 1, 0]}] * 3, prescription=plank)
    assert (found.changed, found.next.hold.value) == (["hold"], 40)


@pytest.mark.parametrize("last", [SHORT | {"pain_next_morning": 2}, SHORT | {"pain_in_session": 3}])
def test_pain_that_is_not_calm_decides_before(last: dict[str, Any]) -> None:
    assert reviewed(SHORT, SHORT, last).decision == "hold"


def rise_after(*earlier: dict[str, Any]) -> float:
    """How much the load rises after sessions of an earlier prescription and two good ones [kg]."""
    now = ORIGINAL | {"load": kg(70)}
    before = [one | {"earlier_prescription": True} for one in earlier]
    done = [{"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [6, 6, 6, 6]}] * 2
    request = {"prescription": now, "original": ORIGINAL, "lifter": LIFTER, "region": "knee", "usual_pain": 1}
    answer = ask("session-review", {**request, "sessions": [*before, *done]})
    assert answer.decision == "progress"
    assert (len(earlier) > 1) == ("review_smaller_step" in {one.code for one in answer.why})
    return kilograms(answer) - 70


@pytest.mark.parametrize("earlier", [(GOOD, SORE), (SHORT | {"reps_done": [5, 5, 4, 4]},) * 3])
def test_after_a_step_that_was_too_much_the_next_one_is_smaller(earlier: tuple[dict[str, Any], ...]) -> None:
    assert 0 < rise_after(*earlier) <= 0.6 * rise_after()


def test_what_hurt_to_begin_with_was_no_step() -> None:
    assert rise_after(SORE) == rise_after()
