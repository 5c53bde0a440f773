"""A prescription, as answers show it, in words that a coach can say: whole, or in its parts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.message_templates import PHRASES
from service.messages.kinds import SINGLE, inline
from service.messages.setup import Instruction, depth_instruction, technique_instructions
from service.messages.template import Kind, Template, Writer

_PHRASES: Final = {code: Template(code, phrase, SINGLE).text for code, phrase in PHRASES.items()}
"""How each part is said, of a prescription as it is shown or of values by their names."""
_SETS, _HOLDS, _HOLDS_IN_SETS = (_PHRASES[code] for code in ("sets_of_reps", "holds", "holds_in_sets"))
_WITH_LOAD, _DAYS = _PHRASES["with_load"], _PHRASES["days_a_week"]
_SAID_ALWAYS: Final = ("one_dumbbell", "kettlebell")
_CUE: Final = SINGLE["cue"].writer("")


def load_words(shown: Mapping[str, Any]) -> str:
    """A load, as "62.5 kg", "two dumbbells of 20 kg", "body mass" or "12 kg of assistance"."""
    exercise, load = EXERCISES[shown["exercise"]], shown["load"]
    if shown.get("assistance"):
        return _PHRASES["assistance"](shown)
    if not load["value"]:
        return _PHRASES["body_mass"](shown)
    if exercise.carry == "body":
        return _PHRASES["added_to_body_mass"](shown)
    implement = shown.get("implement")
    if implement == "dumbbells" or (implement is None and exercise.dumbbells):
        return _PHRASES["two_dumbbells"]({"load": {"value": load["value"] / 2, "unit": load["unit"]}})
    if exercise.one_arm:
        return _PHRASES["each_arm_in_turn"](shown)
    plain = implement is None or (implement == exercise.implements[0] and implement not in _SAID_ALWAYS)
    return _PHRASES["plain_load" if plain else str(implement)](shown)


def sets_words(shown: Mapping[str, Any]) -> str:
    """Sets and repetitions of a session, or its holds, as "4 × 45 s"."""
    exercise = EXERCISES[shown["exercise"]]
    if shown.get("hold") is None:
        work = _SETS(shown)
    else:
        work = (_HOLDS if shown["reps"]["high"] == 1 else _HOLDS_IN_SETS)(shown)
    one_leg = exercise.family == "split" or exercise.stance == "single_leg"
    return _PHRASES["on_each_leg"]({"work": work}) if one_leg else work


def days_words(shown: Mapping[str, Any]) -> str:
    """How often a week; the days are stated."""
    return _PHRASES["one_day_a_week"](shown) if shown["days_per_week"] == 1 else _DAYS(shown)


def work_words(shown: Mapping[str, Any]) -> str:
    """Sets, repetitions, load and days, as "4 sets of 5 repetitions with 60 kg on 2 days a week"."""
    work = _WITH_LOAD({"work": sets_words(shown), "load": load_words(shown)})
    return f"{work} {days_words(shown)}" if shown.get("days_per_week") else work


def line_words(shown: Mapping[str, Any]) -> str:
    """The whole prescription in one line."""
    parts = [EXERCISES[shown["exercise"]].name, _WITH_LOAD({"work": sets_words(shown), "load": load_words(shown)})]
    if "days_per_week" in shown:
        parts.append(days_words(shown))
    if "depth" in shown:
        parts.append(_instruction(depth_instruction(shown)).split(";")[0])
    if technique := shown.get("technique"):
        parts += map(_instruction, technique_instructions(technique, {}))
        if "shin_angle" in technique:
            parts.append(_PHRASES["shins_forward"](technique))
    parts += map(_CUE, shown.get("cues", ()))
    if "tempo" in shown:
        parts.append(_PHRASES["tempo"](shown))
    if "rest" in shown:
        parts.append(_PHRASES["rest"](shown))
    return ", ".join(parts)


def _instruction(instruction: Instruction) -> str:
    code, values = instruction
    return inline(_PHRASES[code](values))


def _exercise_words(shown: Mapping[str, Any]) -> str:
    return EXERCISES[shown["exercise"]].name


def _exercise_in_text(shown: Mapping[str, Any]) -> str:
    return EXERCISES[shown["exercise"]].in_a_sentence


def _shown(value: object) -> dict[str, Any]:
    """The prescription without what is not stated; a table is taken as it is."""
    if isinstance(value, dict):
        return value
    return {name: part for name, part in msgspec.to_builtins(value).items() if part is not None and part != []}


FORMS: Final[dict[str, Writer]] = {
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
    FORMS.__getitem__,
    {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": {"value": 62.5, "unit": "kg"}},
)
