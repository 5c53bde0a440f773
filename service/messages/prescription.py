"""A prescription, as answers show it, in words that a coach can say: whole, or in its parts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.message_templates import PHRASES
from service.messages.kinds import SINGLE, inline
from service.messages.setup import Instruction, depth_instruction, technique_instructions
from service.messages.template import Kind, Template

_TEMPLATES: Final = {code: Template(code, phrase, SINGLE) for code, phrase in PHRASES.items()}


def _phrase(code: str, **values: object) -> str:
    template = _TEMPLATES[code]
    return template.text(template.shown(values))


def _instruction(instruction: Instruction) -> str:
    code, values = instruction
    return inline(_phrase(code, **values))


def load_words(shown: Mapping[str, Any]) -> str:
    """A load, as "62.5 kg", "two dumbbells of 20 kg", "body mass" or "12 kg of assistance"."""
    exercise, load = EXERCISES[shown["exercise"]], shown["load"]
    if assistance := shown.get("assistance"):
        return _phrase("assistance", load=assistance)
    if not load["value"]:
        return _phrase("body_mass")
    if exercise.carry == "body":
        return _phrase("added_to_body_mass", load=load)
    if exercise.dumbbells:
        return _phrase("two_dumbbells", load={"value": load["value"] / 2, "unit": load["unit"]})
    return _phrase("each_arm_in_turn" if exercise.one_arm else "plain_load", load=load)


def sets_words(shown: Mapping[str, Any]) -> str:
    """Sets and repetitions of a session, or its holds, as "4 × 45 s"."""
    exercise, sets, reps = EXERCISES[shown["exercise"]], shown["sets"], shown["reps"]
    hold = shown.get("hold")
    if hold is None:
        work = _phrase("sets_of_reps", sets=sets, reps=reps)
    elif reps["high"] == 1:
        work = _phrase("holds", sets=sets, hold=hold)
    else:
        work = _phrase("holds_in_sets", sets=sets, reps=reps, hold=hold)
    one_leg = exercise.family == "split" or exercise.stance == "single_leg"
    return _phrase("on_each_leg", work=work) if one_leg else work


def days_words(shown: Mapping[str, Any]) -> str:
    """How often a week; the days are stated."""
    days = shown["days_per_week"]
    return _phrase("one_day_a_week") if days == 1 else _phrase("days_a_week", days=days)


def work_words(shown: Mapping[str, Any]) -> str:
    """Sets, repetitions, load and days, as "4 sets of 5 repetitions with 60 kg on 2 days a week"."""
    work = _phrase("with_load", work=sets_words(shown), load=load_words(shown))
    return f"{work} {days_words(shown)}" if shown.get("days_per_week") else work


def line_words(shown: Mapping[str, Any]) -> str:
    """The whole prescription in one line."""
    return ", ".join(_line(shown))


def _line(shown: Mapping[str, Any]) -> Iterator[str]:
    yield EXERCISES[shown["exercise"]].name
    yield _phrase("with_load", work=sets_words(shown), load=load_words(shown))
    if shown.get("days_per_week"):
        yield days_words(shown)
    if shown.get("depth"):
        yield _instruction(depth_instruction(shown)).split(";")[0]
    technique = shown.get("technique") or {}
    yield from map(_instruction, technique_instructions(technique, {}))
    if technique.get("shin_angle"):
        yield _phrase("shins_forward", angle=technique["shin_angle"])
    for cue in shown.get("cues") or ():
        yield SINGLE["cue"].words(cue, "")
    if shown.get("tempo"):
        yield _phrase("tempo", tempo=shown["tempo"])
    if shown.get("rest"):
        yield _phrase("rest", rest=shown["rest"])


def _exercise_words(shown: Mapping[str, Any]) -> str:
    return EXERCISES[shown["exercise"]].name


def _exercise_in_text(shown: Mapping[str, Any]) -> str:
    return EXERCISES[shown["exercise"]].name.lower()


def _shown(value: object) -> dict[str, Any]:
    """The prescription without what is not stated."""
    shown: dict[str, Any] = msgspec.to_builtins(value)
    return {name: part for name, part in shown.items() if part is not None and part != []}


FORMS: Final[dict[str, Callable[[Mapping[str, Any]], str]]] = {
    "": line_words,
    "work": work_words,
    "sets": sets_words,
    "load": load_words,
    "exercise": _exercise_words,
    "lift": _exercise_in_text,
}
"""The forms in which a sentence names a prescription."""
PRESCRIPTION: Final = Kind(
    "a prescription",
    _shown,
    lambda shown, form: FORMS[form](shown),
    {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": {"value": 62.5, "unit": "kg"}},
)
