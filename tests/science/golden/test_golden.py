"""Golden consultations and courses of care: answers kept as readable files, so that a change of any shows as a diff.

Made and reviewed line by line with `python -m tests.science.golden.write`. What is in them is the service's own answer,
no source: the figures behind it are tested elsewhere.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest

from service.api.docs.course import course
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.vocabulary import LEVERS
from tests.science.golden.rendering import rendered
from tests.support.golden import Consultation, consultation, episode, episodes, files, scenario

FILES: Final = files()
OPERATIONS: Final = {"adjustments", "session-review", "return-plan", "week-demand", "week-adjustments"}


@cache
def asked() -> tuple[Consultation, ...]:
    return tuple(consultation(path) for path in FILES)


@cache
def adjusted() -> tuple[tuple[dict[str, Any], dict[str, Any]], ...]:
    """Requests of the main job with their answers."""
    return tuple((one.request, one.answer) for one in asked() if one.operation == "adjustments")


def changed() -> list[dict[str, Any]]:
    """Requests that end in options."""
    return [request for request, answer in adjusted() if answer["options"]]


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.stem))
def test_answer_is_the_one_reviewed(path: Path) -> None:
    assert rendered(consultation(path)) == path.read_text(encoding="utf-8")


def test_every_lever_is_in_an_option() -> None:
    found = {lever for _, answer in adjusted() for option in answer["options"] for lever in option["levers"]}
    assert found == set(LEVERS)


def test_both_programs_for_tendons_are_in_an_option() -> None:
    found = {option.get("program") for _, answer in adjusted() for option in answer["options"]}
    assert found == {"heavy_slow", "isometric", None}


def test_every_way_to_meet_a_target_is_shown() -> None:
    found = {option["meets_by"] for _, answer in adjusted() for option in answer["options"]}
    assert found == {"peak", "posture", "direction_only", "session_exposure", "week_exposure"}


def test_every_family_of_lifts_region_aim_and_unit_is_asked_about() -> None:
    lifts = [EXERCISES[request["prescription"]["exercise"]] for request in changed()]
    assert {lift.family for lift in lifts} == {"squat", "split", "hinge", "press", "pull", "calf"}
    assert {request["complaint"]["region"] for request in changed()} == set(REGIONS)
    assert {request["aim"] for request in changed()} == {"strength", "muscle_size", "tendon", "maintain"}
    assert {request["prescription"]["load"]["unit"] for request in changed()} == {"kg", "lb"}
    assert len({lift.id for lift in lifts}) >= 12


def test_bodies_differ() -> None:
    lifters = [request["lifter"] for request in changed()]
    statures = [one["stature"]["value"] for one in lifters if one["stature"]["unit"] == "cm"]
    assert max(statures) - min(statures) >= 30
    assert any("segment_lengths" in one for one in lifters)
    assert any("ankle_dorsiflexion" in one for one in lifters)


def test_every_decision_is_shown() -> None:
    assert {answer["decision"] for _, answer in adjusted()} == {
        "adjust",
        "no_change_needed",
        "confirm_first",
        "pause_and_review",
        "refer",
    }
    urgencies = {answer["referral"]["urgency"] for _, answer in adjusted() if "referral" in answer}
    assert "emergency_now" in urgencies
    assert {one.operation for one in asked()} == OPERATIONS


@pytest.mark.parametrize("path", episodes(), ids=lambda path: str(path.stem))
def test_course_of_care_is_the_one_reviewed(path: Path) -> None:
    assert episode(path) == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("path", episodes(), ids=lambda path: str(path.stem))
def test_course_of_care_has_a_bad_week_and_ends_at_the_original(path: Path) -> None:
    asked = [one.answer for one in course(scenario(path))]
    decisions = [answer["decision"] for answer in asked]
    assert decisions[0] == "adjust"
    assert "step_back" in decisions
    assert decisions[-1] == "back_to_original"


def test_courses_of_care_differ() -> None:
    questions = [scenario(path).question for path in episodes()]
    assert {question["complaint"]["region"] for question in questions} == {"knee", "shoulder"}
    assert {question["aim"] for question in questions} >= {"strength", "tendon", "muscle_size"}
    assert {question["prescription"]["load"]["unit"] for question in questions} == {"kg", "lb"}
