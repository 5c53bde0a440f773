"""The kinds of single values in sentences: how answers show them, and how they are written in English."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any, Final

import msgspec

from service.knowledge.catalogue import EXERCISES, REGIONS, STANCES
from service.knowledge.cues import CUES
from service.knowledge.message_templates import WORDS
from service.messages.template import Kind
from service.units import SI, Quantity, significant


def number(value: float) -> float:
    """A number to six significant digits. Raises TypeError for anything else."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if not isinstance(value, float) or not isfinite(value):
        raise TypeError(f"not a number: {value!r}")
    return significant(value)


def number_words(value: float, form: str) -> str:
    """A number, as Python writes it in a form such as .0f; "one|other" chooses the word that goes with the number."""
    if "|" in form:
        one, other = form.split("|")
        return one if value == 1 else other
    return format(value, form or "g")


def _share_words(value: float, form: str) -> str:
    return format(100 * value, form or ".0f")


def _quantity(value: Quantity | Mapping[str, Any]) -> dict[str, Any]:
    shown: dict[str, Any] = msgspec.to_builtins(value)
    return {"value": number(shown["value"]), "unit": shown["unit"]}


def quantity_words(quantity: Mapping[str, Any], form: str) -> str:
    """A quantity with its unit; a form is that of its number. What is shorter than a metre is said in centimetres."""
    value, unit = quantity["value"], quantity["unit"]
    if unit == "m" and abs(value) < 1:
        value, unit = significant(value / SI["cm"]), "cm"
    return f"{format(value, form or 'g')} {WORDS['unit'][unit]}"


def _reps(value: object) -> dict[str, int]:
    shown: dict[str, int] = msgspec.to_builtins(value)
    return {"low": int(shown["low"]), "high": int(shown["high"])}


def reps_words(reps: Mapping[str, int], form: str) -> str:
    """A range of repetitions, as "5" or "5 to 6"; "one|other" chooses the word that goes with it."""
    if "|" in form:
        return number_words(reps["high"], form)
    return str(reps["low"]) if reps["low"] == reps["high"] else f"{reps['low']} to {reps['high']}"


def _text(value: str) -> str:
    if not isinstance(value, str):
        raise TypeError(f"not a text: {value!r}")
    return value


def _id(words: Callable[[str], str]) -> Callable[[str], str]:
    """An id that has words."""

    def shown(value: str) -> str:
        words(value)
        return value

    return shown


def _id_kind(meaning: str, words: Callable[[str], str], example: str) -> Kind:
    """An id; the form "start" begins with a capital letter."""

    def written(value: str, form: str) -> str:
        if form not in {"", "start"}:
            raise ValueError(form)
        said = words(value)
        return said[:1].upper() + said[1:] if form else said

    return Kind(meaning, _id(words), written, example)


def inline(sentence: str) -> str:
    """A sentence as a part of another one."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _message(value: object) -> dict[str, Any]:
    shown: dict[str, Any] = msgspec.to_builtins(value)
    return shown


SINGLE: Final[dict[str, Kind]] = {
    "number": Kind("a number", number, number_words, 2),
    "share": Kind("a ratio; the sentence says it in percent", number, _share_words, 0.7),
    "quantity": Kind("a quantity with its unit", _quantity, quantity_words, {"value": 62.5, "unit": "kg"}),
    "reps": Kind("a range of repetitions", _reps, reps_words, {"low": 5, "high": 6}),
    "label": Kind("a name that the request gave", _text, lambda value, _: value, "front"),
    "tempo": Kind(
        "seconds of lowering, at the bottom, of lifting, at the top", _text, lambda value, _: value, "3-1-X-1"
    ),
    "formula": Kind("a formula", _text, lambda value, _: value, "a + b"),
    "stance": _id_kind("an id of a stance", lambda stance: STANCES[stance].name, "lunge"),
    "id": Kind("an id, written as it is", _text, lambda value, _: value, "thomee_1997"),
    "region": _id_kind("an id of GET /v1/regions", lambda region: REGIONS[region].name.lower(), "knee"),
    "exercise": _id_kind(
        "an id of GET /v1/exercises", lambda exercise: EXERCISES[exercise].name.lower(), "front_squat"
    ),
    "cue": _id_kind("an id of GET /v1/cues", lambda cue: inline(CUES[cue].text), next(iter(CUES))),
    "message": Kind(
        "a sentence of its own, as a message",
        _message,
        lambda message, form: inline(message["text"]) if form == "inline" else str(message["text"]),
        {"code": "", "values": {}, "text": "As before."},
    ),
    **{
        name: _id_kind(f"one of {', '.join(words)}", words.__getitem__, next(iter(words)))
        for name, words in WORDS.items()
    },
}
"""By name; every list of words.toml is a kind of its own."""
