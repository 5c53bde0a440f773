"""Whatever an answer shows as a prescription every operation that takes one takes unchanged, over the whole catalogue.

Refused may it be only for what it says, never for how it is said: REASONS names every refusal that may come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final, TypeAlias

import msgspec
import pytest

from service.adjustment.prescription import lifts_the_body
from service.api.models.prescription import Prescription
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.dynamics import turns
from service.knowledge.posture_rules import EXERCISE_RULES
from tests.support.asking import Answered, ask, kg
from tests.support.consultations import AIMS, quantity
from tests.support.every_lift import LIFTER, LIFTS, LIFTS_AND_REGIONS, prescription

Shown: TypeAlias = dict[str, Any]
PAIN_FREE: Final = {"pain_in_session": 0, "pain_next_morning": 0}
SORE: Final = {"pain_in_session": 7, "pain_next_morning": 3}
REASONS: Final = {
    "rep-targets": {
        "/exercise": r"how much of body mass it moves is not published",
        "/current/reps/high": r"are outside the range of",
    },
    "rest": {
        "/hold": r"not between holds",
        "/reps": r"had first sets of 8 to 16 repetitions",
        "/reps_in_reserve": r"Every study took its sets to failure",
    },
    "spinal-load": {
        "/setups/0/exercise": r"no modelled load path through a standing spine",
        "/setups/0/trunk_lean": r"No lean is known|The single-muscle model",
    },
    "tempo": {
        "/tempo": r"Without a tempo|required and missing",
    },
}
"""What of a prescription an operation may refuse: the pointer, and what the words say."""


def original(exercise: str) -> Shown:
    """What is done now, with as much as can be said of it; not everything is known of every lift."""
    said = prescription(exercise) | {"rest": quantity(2, "min"), "side": "both"}
    if lifts_the_body(exercise):
        said |= {"load": kg(0), "assistance": kg(12.5)}
    if LIFTS.index(exercise) % 3 == 0:
        said["tempo"] = "3-1-X-0"
    if exercise in EXERCISE_RULES and LIFTS.index(exercise) % 2:
        said["technique"] = {"heel_lift": quantity(1.5, "cm")}
    if turns(exercise) and LIFTS.index(exercise) % 4 < 2:
        said["technique"] = said.get("technique", {}) | {"bounce": True}
    return said


def json(shown: Prescription) -> Shown:
    """A prescription as software gets it."""
    return dict(msgspec.json.decode(msgspec.json.encode(shown)))


def questions(shown: Shown, now: Shown, region: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every operation that takes a prescription, asked with one as it was shown."""
    body = {"body_mass": LIFTER["body_mass"]} if lifts_the_body(shown["exercise"]) else {}
    complaint = {"region": region, "pain_in_session": 4}
    course = {"region": region, "usual_pain": 1}
    yield "adjustments", {"lifter": LIFTER, "prescription": shown, "complaint": complaint, "aim": "strength"}
    yield "session-review", course | {"prescription": shown, "sessions": [PAIN_FREE, PAIN_FREE]}
    yield "session-review", course | {"prescription": now, "previous": shown, "sessions": [SORE]}
    yield "return-plan", {"lifter": LIFTER, "original": now, "adjusted": shown, "region": region}
    yield "rep-targets", {"current": shown, "new_sets": 3} | body
    yield "session-split", shown | {"days": 1}
    yield "rest", shown
    yield "tempo", shown
    yield "joint-demand", {"lifter": LIFTER, "setups": [shown | {"label": "now"}]}
    yield "spinal-load", {"lifter": LIFTER, "setups": [shown | {"label": "now"}, shown | {"label": "again"}]}


def answered(operation: str, question: dict[str, Any]) -> Answered | None:
    """The answer; None where it is refused for a reason that may be. Every other refusal fails the test."""
    try:
        return ask(operation, question)
    except Refusal as refusal:
        reasons = REASONS.get(operation, {})
        for fault in refusal.faults:
            assert fault.pointer in reasons, (operation, question, fault)
            assert re.search(reasons[fault.pointer], fault.detail), (operation, question, fault)
        return None


def shown_in(operation: str, answer: Answered) -> list[Shown]:
    """The prescriptions of an answer."""
    if operation == "adjustments":
        return [json(option.prescription) for option in answer.options]
    if operation == "return-plan":
        return [json(step.prescription) for step in answer.steps]
    return [json(answer.next)] if operation == "session-review" and answer.next is not None else []


def go_round(now: Shown, region: str, aim: str) -> int:
    """Asks every operation with each option of a consultation and what reviews and plans show of it; counts options."""
    consultation = {
        "lifter": LIFTER,
        "prescription": now,
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": aim,
        "limit": 20,
    }
    answer = answered("adjustments", consultation)
    options = [] if answer is None else shown_in("adjustments", answer)
    for option in options:
        for operation, question in questions(option, now, region):
            found = answered(operation, question)
            for shown in shown_in(operation, found) if found is not None and operation != "adjustments" else ():
                for other, further in questions(shown, now, region):
                    if other not in ("adjustments", "return-plan"):  # too long for each step of each plan
                        answered(other, further)
    return len(options)


def loaded_regions(exercise: str) -> list[str]:
    return [region for lift, region in LIFTS_AND_REGIONS if lift == exercise and region in EXERCISES[exercise].regions]


@pytest.mark.parametrize("exercise", LIFTS)
def test_what_is_shown_is_taken(exercise: str) -> None:
    """One aim for each lift and region: some 1,000 options. The finer ones, searched like the whole, by night."""
    place = LIFTS.index(exercise)
    options = 0
    for number, region in enumerate(one for one in loaded_regions(exercise) if not REGIONS[one].finer):
        options += go_round(original(exercise), region, AIMS[(place + number) % len(AIMS)])
    assert options > 0


@pytest.mark.nightly
@pytest.mark.parametrize("exercise", LIFTS)
@pytest.mark.parametrize("aim", AIMS)
def test_what_is_shown_is_taken_whatever_the_aim(exercise: str, aim: str) -> None:
    for region in loaded_regions(exercise):
        go_round(original(exercise), region, aim)
        go_round(original(exercise) | {"load": kg(100)}, region, aim)


def test_the_last_step_of_a_way_back_is_the_original_as_it_was_stated() -> None:
    now = original("back_squat_low_bar") | {
        "depth": {"box_height": quantity(0.4, "m")},
        "technique": {
            "heel_lift": quantity(0.015, "m"),
            "stance": "shoulder",
            "stance_width": quantity(0.36, "m"),
            "toe_out": quantity(12, "deg"),
            "knee_over_toe": False,
        },
        "implement": "barbell",
    }
    adjusted = now | {"load": kg(50), "sets": 3}
    plan = ask("return-plan", {"lifter": LIFTER, "original": now, "adjusted": adjusted, "region": "knee", "step": 0.2})
    last = json(plan.steps[-1].prescription)
    assert msgspec.convert(last, Prescription).depth == msgspec.convert(now, Prescription).depth
    assert {name: part for name, part in last.items() if part not in (None, [])} == now | {"rest": quantity(120, "s")}


def test_a_review_that_holds_carries_everything_through() -> None:
    now = {
        "exercise": "box_squat",
        "sets": 4,
        "reps": {"low": 1, "high": 1},
        "load": kg(60),
        "implement": "barbell",
        "reps_in_reserve": 22.5,
        "tempo": "4-1-X-0",
        "hold": quantity(45, "s"),
        "rest": quantity(90, "s"),
        "days_per_week": 3,
        "depth": {"box_height": quantity(0.41, "m")},
        "technique": {"heel_lift": quantity(0.02, "m"), "stance": "wide", "shin_angle": quantity(20, "deg")},
        "cues": ["lifting_straps"],
        "side": "left",
    }
    review = {"prescription": now, "region": "knee", "usual_pain": 1, "sessions": [{"pain_in_session": 2}]}
    assert json(ask("session-review", review).next) == now


@pytest.mark.parametrize("left_out", [{}, {"reps": None}])
def test_a_hold_without_repetitions_is_one(left_out: Shown) -> None:
    now = {name: part for name, part in prescription("front_squat").items() if name != "reps"} | left_out
    held = now | {"hold": quantity(45, "s")}
    review = {"prescription": held, "region": "knee", "usual_pain": 1, "sessions": [{"pain_in_session": 2}]}
    assert json(ask("session-review", review).next)["reps"] == {"low": 1, "high": 1}
    with pytest.raises(Refusal) as refused:
        ask("session-review", review | {"prescription": now})
    assert [fault.pointer for fault in refused.value.faults] == ["/prescription/reps"]
