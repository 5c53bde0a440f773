"""A course of care in the words of its answers, as the golden files have it."""

from __future__ import annotations

from typing import Final

from service.api.docs.course import Json, Scenario, course


def course_text(scenario: Scenario) -> str:
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
