"""The guide: signs, pain, adjust, return, review, week, asked of the service when it is first read.

The consultation is the course of care of service.api.docs.course: what one answer prescribes stands in the next question.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Final
from urllib.parse import urlencode

import msgspec

from service.api.catalogue.resources import RESOURCES
from service.api.docs.course import BY_NAME, SCENARIO, Asked, ask, course, week_asked
from service.api.docs.guide.models import ADDRESS, GuideStep, Json, Message
from service.api.docs.guide.writing import cells, snippets, written
from service.api.models.operation import Operation
from service.api.serialization.answer_fields import chosen, cut
from service.api.serialization.json import Reader
from service.api.serialization.json_pointer import selected
from service.api.serialization.query import ERRORS, FORM, IN_CELLS, SELECT, QueryForm

SIGNS_SHOWN: Final = 2
OF_A_SIGN: Final = ("id", "text", "urgency", "what_to_do")
OPTIONS_SHOWN: Final = 3
SIGN: Final = "bladder_change"
"""The sign of the step that refers."""


class Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the guide says of a step, and what it shows of the answer: some fields, and in a cell the value at a pointer."""

    id: str
    title: str
    paragraphs: list[str]
    fields: list[str] = []
    select: str = ""


class _Words(msgspec.Struct, forbid_unknown_fields=True):
    steps: list[Words]


@cache
def guide(address: str = ADDRESS) -> tuple[GuideStep, ...]:
    """The steps in their order, with snippets that ask at an address."""
    text = (Path(__file__).parent / "guide.toml").read_text(encoding="utf-8")
    asked = _consultation()
    return tuple(
        _step(words, asked[words.id], address) if words.id in asked else _signs(words, address)
        for words in msgspec.convert(tomllib.loads(text), _Words).steps
    )


@cache
def _consultation() -> dict[str, Asked]:
    """Every question of the guide with its answer, by the id of its step."""
    consultation, plan, *reviews = course(SCENARIO)
    first = consultation.question
    week = week_asked()[1].question | {"aim": first["aim"], "limit": 1}
    by_decision = {review.answer["decision"]: review for review in reversed(reviews)}  # the first of each
    return {
        "red-flag": ask("adjustments", first | {"complaint": first["complaint"] | {"signs": [SIGN]}}),
        "pain": consultation,
        "adjust": ask("adjustments", first | {"limit": OPTIONS_SHOWN}),
        "return": plan,
        "review": by_decision["progress"],
        "setback": by_decision["step_back"],
        "week": ask("week-adjustments", week),
    }


def _step(words: Words, asked: Asked, address: str) -> GuideStep:
    operation = BY_NAME[asked.operation]
    reader: Reader[Json] = Reader(operation.request)
    question = {name: value for name, value in asked.question.items() if value is not None}
    answer = operation.compute(reader.fit(question))
    shown = msgspec.to_builtins(cut(answer, chosen(words.fields)))
    message = Message("POST", f"{operation.path}?fields={','.join(words.fields)}", written(question))
    number = not isinstance(selected(answer, words.select), str)
    return GuideStep(
        words.id,
        words.title,
        words.paragraphs,
        message.method,
        message.target,
        question,
        message.body,
        shown,
        written(shown),
        "",
        [
            *snippets(message, address),
            *cells(_in_a_cell(operation, question, words.select, number=number), number=number, address=address),
        ],
    )


def _signs(words: Words, address: str) -> GuideStep:
    """The step that reads the signs of the sore region from the catalogue."""
    region = SCENARIO.question["complaint"]["region"]
    (signs,) = (resource for resource in RESOURCES if resource.name == "signs")
    ids = signs.filter.ids[region] if signs.filter else ()
    message = Message("GET", f"/v1/{signs.name}?region={region}")
    entries = [msgspec.to_builtins(signs.entries[one]) for one in ids[:SIGNS_SHOWN]]
    shown = {signs.name: [{name: entry[name] for name in OF_A_SIGN} for entry in entries]}
    return GuideStep(
        words.id,
        words.title,
        words.paragraphs,
        message.method,
        message.target,
        None,
        "",
        shown,
        written(shown),
        f"The first {SIGNS_SHOWN} of {len(ids)}, with some of their fields.",
        snippets(message, address),
    )


def _in_a_cell(operation: Operation, question: Json, select: str, *, number: bool) -> str:
    """The address that answers with one value: the question with what it states, and its faults as text where that is one."""
    reader: Reader[Json] = Reader(operation.request)
    flat = QueryForm(operation, reader).flat
    texts = flat.to_texts(reader.fit(question))
    stated = {
        name: text
        for name, text in texts.items()
        if _states(question, (*flat.leaves[name].path, *(flat.leaves[name].item or ())))
    }
    asked = {FORM: "text"} | ({} if number else {ERRORS: IN_CELLS}) | {SELECT: select}
    return f"{operation.path}?{urlencode(stated | asked, safe=',;/')}"


def _states(question: Json, steps: tuple[str, ...]) -> bool:
    """Whether a question, or an object of a list in it, has a value where some steps lead."""
    if isinstance(question, list):
        return any(_states(one, steps) for one in question)
    if not steps:
        return True
    return isinstance(question, dict) and steps[0] in question and _states(question[steps[0]], steps[1:])
