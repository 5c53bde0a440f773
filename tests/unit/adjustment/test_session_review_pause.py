"""Pain above 7, above 5 at rest, or above 5 in two sessions running pauses the region, as in a consultation."""

from __future__ import annotations

from itertools import product
from typing import Any, Final

import pytest

from service.knowledge.catalogue import EXERCISES
from service.vocabulary import TIERS
from tests.support.asking import Answered, ask, kg

SQUAT: Final = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(60),
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
PERMISSIVE: Final = ("progress", "hold", "step_back", "pause_and_review")


def reviewed(*sessions: dict[str, Any], **more: object) -> Answered:
    request = {"prescription": SQUAT, "region": "low_back", "usual_pain": 1, "sessions": list(sessions), **more}
    return ask("session-review", request)


def session(pain: float, **more: object) -> dict[str, Any]:
    return {"pain_in_session": pain, "pain_next_morning": 1, "reps_done": [6, 6, 6, 6], **more}


@pytest.mark.parametrize(
    ("sessions", "rule"),
    [
        ([session(7.5)], "severe_pain"),
        ([session(1, pain_next_morning=8)], "severe_pain"),
        ([session(6), session(6)], "above_again"),
        ([session(6, earlier_prescription=True), session(5.5)], "above_again"),  # adjusted between them
        ([session(1, pain_next_morning=6), session(6)], "above_again"),
        ([session(6), session(9)], "above_again"),  # the stricter of two
        ([session(1, pain_at_rest=5.5)], "pain_at_rest"),
        ([session(6), session(6, pain_at_rest=6)], "pain_at_rest"),
    ],
)
def test_what_pauses_a_region(sessions: list[dict[str, Any]], rule: str) -> None:
    found = reviewed(*sessions, previous=SQUAT | {"load": kg(40)})
    assert (found.decision, found.tier, found.rule.id) == ("pause_and_review", "pause", rule)
    assert (found.pause.rule, found.pause.region) == (rule, "low_back")
    assert (found.next, found.changed, found.test_first) == (None, [], None)
    assert found.pause.professional.required_first == (rule != "severe_pain")
    trained = [one for group in found.meanwhile for one in group.exercises]
    assert trained
    assert not [one for one in trained if "low_back" in EXERCISES[one].regions]


@pytest.mark.parametrize(
    "sessions",
    [
        [session(7)],
        [session(6), session(5)],  # the last one was not above 5 again
        [session(6), session(2), session(6)],  # not running
        [session(1, pain_at_rest=5)],
        [session(4, pain_next_morning=4), session(4, pain_next_morning=4)],  # rises, and nothing above 5
    ],
)
def test_what_does_not(sessions: list[dict[str, Any]]) -> None:
    found = reviewed(*sessions)
    assert found.decision != "pause_and_review"
    assert (found.pause, found.tier != "pause") == (None, True)


def test_a_gym_without_anything_for_the_rest_of_the_body_leaves_rest() -> None:
    found = reviewed(session(8), region="knee", gym={"implements": [{"implement": "belt"}, {"implement": "barbell"}]})
    listed = {one for group in found.meanwhile for one in group.exercises}
    assert "bench_press" in listed
    assert "chest_press_machine" not in listed


def test_red_flags_and_what_is_to_be_confirmed_outrank_a_pause() -> None:
    flagged = reviewed(session(9), signs=["bladder_change"])
    assert (flagged.decision, flagged.pause, flagged.meanwhile) == ("refer", None, [])
    young = reviewed(session(9), circumstances={"age": 16})
    assert (young.decision, young.next, young.meanwhile) == ("confirm_first", None, [])
    assert young.pause.rule == "severe_pain"  # and says so: nothing that loads the region
    assert young.why[0] == young.pause.message
    confirmed = reviewed(session(9), circumstances={"age": 16, "confirmed_by_professional": True})
    assert confirmed.decision == "pause_and_review"


def test_a_lighter_lift_is_at_the_same_place_of_a_review_as_of_a_consultation() -> None:
    for pain, rest, morning in product((1, 3, 6, 8), (None, 1, 6), (None, 1, 4, 6, 8)):
        stated = {"pain_at_rest": rest, "pain_next_morning": morning}
        scores = {"pain_in_session": pain} | {name: score for name, score in stated.items() if score is not None}
        lifter = {"body_mass": kg(78), "stature": {"value": 1.79, "unit": "m"}}
        asked = {"lifter": lifter, "prescription": SQUAT, "aim": "strength"}
        complaint = {"region": "low_back", "usual_pain": 1, **scores}
        consulted = ask("adjustments", asked | {"complaint": complaint})
        found = reviewed(scores)
        assert found.tier == consulted.tier
        assert (found.decision == "pause_and_review") == (consulted.decision == "pause_and_review")


def test_more_pain_never_allows_more_over_a_grid_of_two_sessions() -> None:
    """In the session, at rest and the next morning, each raised alone."""
    grid = (0, 2, 4, 6, 8)
    decided: dict[tuple[int, ...], tuple[int, int]] = {}
    for before, pain, rest, morning in product(grid, grid, grid, grid):
        last = session(pain, pain_at_rest=rest, pain_next_morning=morning)
        found = reviewed(session(before), last)
        decided[before, pain, rest, morning] = PERMISSIVE.index(found.decision), TIERS.index(found.tier)
    for scores, (decision, tier) in decided.items():
        for place, score in enumerate(scores):
            if score < grid[-1]:
                more = (*scores[:place], score + 2, *scores[place + 1 :])
                assert decided[more][0] >= decision, (scores, more)
                assert decided[more][1] >= tier, (scores, more)
