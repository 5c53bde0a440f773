"""A course of care as text: an invented lifter whose front squats hurt the low back, until she is back; her week."""

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
from service.knowledge.catalogue import EXERCISES

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


def report(scenario: Scenario = SCENARIO) -> str:
    """A course of care in the words of its answers; of what stays the same in several of them, what is new."""
    lines: list[str] = []
    warned: set[str] = set()
    sessions = 0
    for asked in course(scenario):
        sessions += asked.operation == "session-review"
        title, messages = SAID[asked.operation](asked.answer, scenario)
        lines += ["", f"## {title.format(session=sessions)}", "", *(f"- {one['text']}" for one in messages)]
        new = [one for one in asked.answer["cautions"] if one["text"] not in warned]
        lines += [f"- Caution: {one['text']}" for one in new]
        warned |= {one["text"] for one in new}
    return "\n".join(lines[1:]) + "\n"


def _adjusted(answer: Json, scenario: Scenario) -> tuple[str, list[Json]]:
    option = answer["options"][scenario.option - 1]
    return f"Adjustments: {answer['decision']}, option {scenario.option}", [
        *answer["why"],
        {"text": option["words"]},
        *option["why"],
    ]


def _planned(answer: Json, _: Scenario) -> tuple[str, list[Json]]:
    low, high = answer["weeks"]["low"], answer["weeks"]["high"]
    return f"Return plan: {low} to {high} weeks", [one for step in answer["steps"] for one in step["why"]]


def _reviewed(answer: Json, _: Scenario) -> tuple[str, list[Json]]:
    rules = [answer["rule"], *answer["other_rules"]]
    said = [*(rule["message"] for rule in rules), *answer["why"]]
    if answer["professional_review"]:
        said += [answer["professional_review"]["what_to_do"], *answer["professional_review"]["reasons"]]
    return f"After session {{session}}: {answer['decision']}", said


SAID: Final = {"adjustments": _adjusted, "return-plan": _planned, "session-review": _reviewed}


def week_asked() -> tuple[Asked, Asked]:
    """What her whole week asks as it is, and which week instead."""
    question = WEEKS[0].request
    as_it_is = {name: question[name] for name in ("lifter", "week", "aim")}
    return ask("week-demand", as_it_is), ask("week-adjustments", question)


def week_report() -> str:
    """Her week in the words of its answers: what each lift is of the sore region's week, and the first option."""
    demand, adjusted = week_asked()
    week, region = demand.question["week"], adjusted.question["complaint"]["region"]
    lines = ["## Week demand: what each lift is of the week of the sore region", ""]
    for one in demand.answer["regions"][region]["lifts"]:
        name = EXERCISES[week[one["entry"]]["prescription"]["exercise"]].name
        linear, tenth = (f"{100 * one['share'][weighting]['value']:.0f} %" for weighting in ("linear", "tenth_power"))
        lines.append(f"- Day {one['day']:g}, {name}: {linear} by moments, {tenth} by their tenth power")
    answer = adjusted.answer
    option = answer["options"][0]
    lines += ["", f"## Week adjustments: {answer['decision']}, option 1", ""]
    said = [*answer["why"], *({"text": one["words"]} for one in option["changes"]), *option["why"]]
    lines += [f"- {one['text']}" for one in said]
    lines += [f"- Caution: {one['text']}" for one in answer["cautions"]]
    return "\n".join(lines) + "\n"
