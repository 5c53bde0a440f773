"""A course of care as a client asks it: an invented lifter whose front squats hurt the low back, until she is back; her week."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, repeat
from typing import Any, Final, TypeAlias

import msgspec

from service.api.operations.adjustments.examples import EXAMPLES
from service.api.operations.registry import OPERATIONS
from service.api.operations.session_review.models import MOST_SESSIONS
from service.api.operations.week_adjustments.examples import EXAMPLES as WEEKS
from service.api.serialization.json import Reader

Json: TypeAlias = dict[str, Any]
BY_NAME: Final = {operation.name: operation for operation in OPERATIONS}
MOST: Final = 80
"""Sessions after which a course that has not come to its end is broken off."""


class Scenario(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A lifter with a complaint, and what came of each session.

    question: to adjustments; option: rank of the one that is taken; sessions: as session-review takes them, the last
    one again until the course ends; where they state no repetitions, those prescribed were done.
    """

    question: Json
    sessions: list[Json]
    option: int = 1


class Asked(msgspec.Struct, frozen=True):
    """A question of the course with its answer."""

    operation: str
    question: Json
    answer: Json


SCENARIO: Final = Scenario(
    EXAMPLES[0].request,
    [
        {"pain_in_session": 3, "pain_next_morning": 1.5},
        {"pain_in_session": 2, "pain_next_morning": 1},
        {"pain_in_session": 1.5, "pain_next_morning": 1},
        {"pain_in_session": 2, "pain_next_morning": 1},
        {"pain_in_session": 1.5, "pain_next_morning": 1},
        {"pain_in_session": 4, "pain_next_morning": 3.5},  # too much, by the next morning
        {"pain_in_session": 1.5, "pain_next_morning": 1},
    ],
)


def ask(operation: str, question: Json) -> Asked:
    """A question with its answer, JSON for JSON. Raises Refusal as the service would."""
    reader: Reader[Any] = Reader(BY_NAME[operation].request)
    answer = BY_NAME[operation].compute(reader.read(msgspec.json.encode(question)))
    return Asked(operation, question, msgspec.to_builtins(answer))


def course(scenario: Scenario) -> Iterator[Asked]:
    """Every question from the first adjustment to the full program, each prescription sent on as it was answered."""
    consultation = ask("adjustments", scenario.question)
    yield consultation
    given = scenario.question
    case = {"lifter": given["lifter"], "original": given["prescription"], "region": given["complaint"]["region"]}
    case["gym"] = given.get("constraints", {}).get("gym")
    now = consultation.answer["options"][scenario.option - 1]["prescription"]
    yield ask("return-plan", case | {"adjusted": now})

    case |= {"aim": given["aim"], "usual_pain": given["complaint"]["usual_pain"]}
    done: list[Json] = []
    previous = None
    for came in chain(scenario.sessions, repeat(scenario.sessions[-1], MOST - len(scenario.sessions))):
        done.append({"reps_done": [now["reps"]["high"]] * now["sets"]} | came)
        now_asked = {"prescription": now, "previous": previous, "sessions": done[-MOST_SESSIONS:]}
        review = ask("session-review", case | now_asked)
        yield review
        if review.answer["next"] is None or review.answer["decision"] == "back_to_original":
            return
        if review.answer["changed"]:
            done = [one | {"earlier_prescription": True} for one in done]
            previous = now if review.answer["decision"] == "progress" else None
            now = review.answer["next"]


def week_asked() -> tuple[Asked, Asked]:
    """What her whole week asks as it is, and which week instead."""
    question = WEEKS[0].request
    as_it_is = {name: question[name] for name in ("lifter", "week", "aim")}
    return ask("week-demand", as_it_is), ask("week-adjustments", question)
