"""The kinds of single values in sentences: how answers show them, and how they are written in English."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any, Final, TypeAlias

import msgspec

from service.knowledge.catalogue import EXERCISES, REGIONS, STANCES
from service.knowledge.cues import CUES
from service.knowledge.message_templates import WORDS
from service.knowledge.muscles import MUSCLES
from service.messages.template import Kind, Writer
from service.units import SI, Quantity, significant

IdWords: TypeAlias = Callable[[str], str]
"""The words of an id; raises KeyError for one that has none."""


def number(value: float) -> float:
    """A number to six significant digits. Raises TypeError for anything else."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if not isinstance(value, float) or not isfinite(value):
        raise TypeError(f"not a number: {value!r}")
    return significant(value)


def chosen_word(form: str) -> Writer:
    """The form "one|other": the word that goes with a number."""
    one, other = form.split("|")
    return lambda value: one if value == 1 else other


def number_words(form: str) -> Writer:
    """A number as Python writes it in a form such as .0f, without a negative zero, or the word that goes with it."""
    return chosen_word(form) if "|" in form else f"{{:z{form or 'g'}}}".format


def share_words(form: str) -> Writer:
    """A ratio in percent, without the sign."""
    write = f"{{:{form or '.0f'}}}".format
    return lambda value: write(100 * value)


def _quantity(value: Quantity | dict[str, Any]) -> dict[str, Any]:
    if isinstance(value, dict):
        return {"value": number(value["value"]), "unit": value["unit"]}
    return {"value": number(value.value), "unit": value.unit}


_OF_ONE: Final = {"degrees": "degree"}
"""Words of units that have a singular."""


def quantity_words(form: str) -> Writer:
    """A quantity with its unit; a form is that of its number. What is shorter than a metre is said in centimetres."""
    write, units = number_words(form), WORDS["unit"]

    def words(quantity: Mapping[str, Any]) -> str:
        value, unit = quantity["value"], quantity["unit"]
        if unit == "m" and abs(value) < 1:
            value, unit = significant(value / SI["cm"]), "cm"
        written, word = write(value), units[unit]
        return f"{written} {_OF_ONE.get(word, word) if written == '1' else word}"

    return words


def _reps(value: object) -> dict[str, int]:
    shown: dict[str, int] = msgspec.to_builtins(value)
    return {"low": int(shown["low"]), "high": int(shown["high"])}


def reps_words(form: str) -> Writer:
    """A range of repetitions, as "5" or "5 to 6", or the word that goes with it."""
    if form:
        word = chosen_word(form)
        return lambda reps: word(reps["high"])
    return lambda reps: str(reps["low"]) if reps["low"] == reps["high"] else f"{reps['low']} to {reps['high']}"


_PHASES: Final = ("down", "at the bottom", "up", "at the top")


def tempo_words(form: str) -> Writer:
    """A tempo as it is written, or with the form "aloud" as a coach says it: "3 s down, up as fast as you can"."""
    if not form:
        return str

    def aloud(tempo: str) -> str:
        phases = zip(_PHASES, tempo.split("-"), strict=True)
        said = (
            f"{phase} as fast as you can" if one == "X" else f"{one} s {phase}" for phase, one in phases if one != "0"
        )
        return ", ".join(said) or tempo

    return {"aloud": aloud}[form]


def _text(value: str) -> str:
    if not isinstance(value, str):
        raise TypeError(f"not a text: {value!r}")
    return value


def _text_kind(meaning: str, example: str) -> Kind:
    """A text that is written as it is."""
    return Kind(meaning, _text, lambda _: _text, example)


def _id_kind(meaning: str, words: IdWords, example: str) -> Kind:
    """An id; the form "start" begins with a capital letter."""

    def shown(value: str) -> str:
        words(value)
        return value

    def started(value: str) -> str:
        said = words(value)
        return said[:1].upper() + said[1:]

    return Kind(meaning, shown, {"": words, "start": started}.__getitem__, example)


def _region_kind() -> Kind:
    """A region of the body; the forms "your" and "Your" say whose it is, which not every name takes before it."""
    named = _id_kind("an id of GET /v1/regions", lambda region: REGIONS[region].name.lower(), "knee")

    def yours(region: str) -> str:
        return REGIONS[region].yours

    def started(region: str) -> str:
        return yours(region).capitalize()

    return msgspec.structs.replace(
        named, writer=lambda form: {"your": yours, "Your": started}.get(form) or named.writer(form)
    )


def inline(sentence: str) -> str:
    """A sentence as a part of another one."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _message(value: Any) -> dict[str, Any]:  # noqa: ANN401 - a message, which is made of kinds itself, or one that is shown
    if isinstance(value, dict):
        return value
    return {"code": value.code, "values": value.values, "text": value.text}


_MESSAGE_FORMS: Final[dict[str, Writer]] = {
    "": lambda message: str(message["text"]),
    "inline": lambda message: inline(message["text"]),
}
SINGLE: Final[dict[str, Kind]] = {
    "number": Kind("a number", number, number_words, 2),
    "share": Kind("a ratio; the sentence says it in percent", number, share_words, 0.7),
    "quantity": Kind("a quantity with its unit", _quantity, quantity_words, {"value": 62.5, "unit": "kg"}),
    "reps": Kind("a range of repetitions", _reps, reps_words, {"low": 5, "high": 6}),
    "label": _text_kind("a name that the request gave", "front"),
    "tempo": Kind("seconds of lowering, at the bottom, of lifting, at the top", _text, tempo_words, "3-1-X-1"),
    "formula": _text_kind("a formula", "a + b"),
    "id": _text_kind("an id, written as it is", "thomee_1997"),
    "stance": _id_kind("an id of a stance", lambda stance: STANCES[stance].name, "lunge"),
    "region": _region_kind(),
    "exercise": _id_kind("an id of GET /v1/exercises", lambda lift: EXERCISES[lift].in_a_sentence, "front_squat"),
    "muscle": _id_kind("an id of GET /v1/muscles", lambda muscle: MUSCLES[muscle].name.lower(), "quads"),
    "cue": _id_kind("an id of GET /v1/cues", lambda cue: inline(CUES[cue].text), next(iter(CUES))),
    "message": Kind(
        "a sentence of its own, as a message",
        _message,
        _MESSAGE_FORMS.__getitem__,
        {"code": "", "values": {}, "text": "As before."},
    ),
    **{
        name: _id_kind(f"one of {', '.join(words)}", words.__getitem__, next(iter(words)))
        for name, words in WORDS.items()
    },
}
"""By name; every list of words.toml is a kind of its own."""
