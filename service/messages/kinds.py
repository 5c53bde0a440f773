"""The kinds of single values in sentences: how answers show them, and how a language writes them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from math import isfinite
from typing import Any, Final

import msgspec

from service.knowledge.cues import CUES
from service.knowledge.languages import Language
from service.messages.names import Forms, Vocabulary, inline, with_start
from service.messages.template import Kind, Writer
from service.units import SI, Quantity, significant


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


def _reps(value: object) -> dict[str, int]:
    shown: dict[str, int] = msgspec.to_builtins(value)
    return {"low": int(shown["low"]), "high": int(shown["high"])}


def _quantity(value: Quantity | dict[str, Any]) -> dict[str, Any]:
    if isinstance(value, dict):
        return {"value": number(value["value"]), "unit": value["unit"]}
    return {"value": number(value.value), "unit": value.unit}


def _text(value: str) -> str:
    if not isinstance(value, str):
        raise TypeError(f"not a text: {value!r}")
    return value


def _message(value: Any) -> dict[str, Any]:  # noqa: ANN401 - a message, which is made of kinds itself, or one that is shown
    if isinstance(value, dict):
        return value
    return {"code": value.code, "values": value.values, "text": value.text}


_MESSAGE_FORMS: Final[dict[str, Writer]] = {
    "": lambda message: str(message["text"]),
    "inline": lambda message: inline(message["text"]),
}


class Writers:
    """How one language writes single values, each method by the form that a sentence asks for."""

    def __init__(self, language: Language) -> None:
        self._language: Final = language

    def number(self, form: str) -> Writer:
        """A number in a form of Python such as .0f, without a negative zero, or the word that goes with it."""
        if "|" in form:
            return chosen_word(form)
        sign = form[:1] if form.startswith("+") else ""
        return self._marked(f"{{:{sign}z{form.removeprefix(sign) or 'g'}}}".format)

    def share(self, form: str) -> Writer:
        """A ratio in percent, without the sign."""
        write = self._marked(f"{{:{form or '.0f'}}}".format)
        return lambda value: write(100 * value)

    def _marked(self, write: Writer) -> Writer:
        """Numbers with the language's decimal mark."""
        mark = self._language.decimal_mark
        return write if mark == "." else lambda value: write(value).replace(".", mark)

    def quantity(self, units: Mapping[str, str], form: str) -> Writer:
        """A quantity with its unit; a form is that of its number. Less than a metre is said in centimetres."""
        write, singular = self.number(form), self._language.singular

        def words(quantity: Mapping[str, Any]) -> str:
            value, unit = quantity["value"], quantity["unit"]
            if unit == "m" and abs(value) < 1:
                value, unit = significant(value / SI["cm"]), "cm"
            written, word = write(value), units[unit]
            return f"{written} {singular.get(word, word) if written == '1' else word}"

        return words

    def reps(self, form: str) -> Writer:
        """A range of repetitions, as "5" or "5 to 6", or the word that goes with it."""
        if form:
            word = chosen_word(form)
            return lambda reps: word(reps["high"])
        span = self._language.span.format
        return lambda reps: str(reps["low"]) if reps["low"] == reps["high"] else span(**reps)

    def tempo(self, form: str) -> Writer:
        """A tempo as it is written, or with the form "aloud" as a coach says it: "3 s down, up as fast as you can"."""
        if not form:
            return str
        how = self._language.tempo

        def aloud(tempo: str) -> str:
            phases = zip(how.phases, tempo.split("-"), strict=True)
            said = (
                how.fast.format(phase=phase) if one == "X" else how.seconds.format(phase=phase, seconds=one)
                for phase, one in phases
                if one != "0"
            )
            return ", ".join(said) or tempo

        return {"aloud": aloud}[form]

    def joined(self, words: list[str]) -> str:
        """Several as "a, b and c", apart by semicolons where a comma in them is a decimal mark."""
        *first, last = words
        if not first:
            return last
        before, mark = self._language.joined_before, self._language.decimal_mark
        conjunction = next((before[start] for start in before if last.startswith(start)), self._language.last_joined_by)
        comma = ";" if mark == "," and any(mark in word for word in words) else ","
        return f"{f'{comma} '.join(first)} {conjunction} {last}"


def single_kinds(vocabulary: Vocabulary) -> dict[str, Kind]:
    """The kinds of single values by name, as a language writes them; every list of words.toml is a kind of its own."""
    write = Writers(vocabulary.language)

    def kind(meaning: str, shown: Callable[[Any], Any], writer: Callable[[str], Writer], example: Any) -> Kind:  # noqa: ANN401 - any value
        return Kind(meaning, shown, writer, example, write.joined)

    def text(meaning: str, example: str) -> Kind:
        return kind(meaning, _text, lambda _: _text, example)

    def named(meaning: str, forms: Forms, example: str) -> Kind:
        words = forms("")

        def shown(value: str) -> str:
            words(value)
            return value

        return kind(meaning, shown, forms, example)

    return {
        "number": kind("a number", number, write.number, 2),
        "share": kind("a ratio; the sentence says it in percent", number, write.share, 0.7),
        "quantity": kind(
            "a quantity with its unit",
            _quantity,
            partial(write.quantity, vocabulary.words["unit"]),
            {"value": 62.5, "unit": "kg"},
        ),
        "reps": kind("a range of repetitions", _reps, write.reps, {"low": 5, "high": 6}),
        "label": text("a name that the request gave", "front"),
        "tempo": kind("seconds of lowering, at the bottom, of lifting, at the top", _text, write.tempo, "3-1-X-1"),
        "formula": text("a formula", "a + b"),
        "id": text("an id, written as it is", "thomee_1997"),
        "stance": named("an id of a stance", vocabulary.stance, "lunge"),
        "region": named("an id of GET /v1/regions", vocabulary.region, "knee"),
        "exercise": named("an id of GET /v1/exercises", vocabulary.exercise, "front_squat"),
        "muscle": named("an id of GET /v1/muscles", vocabulary.muscle, "quads"),
        "cue": named("an id of GET /v1/cues", vocabulary.cue, next(iter(CUES))),
        "message": kind(
            "a sentence of its own, as a message",
            _message,
            _MESSAGE_FORMS.__getitem__,
            {"code": "", "values": {}, "text": "As before."},
        ),
        **{
            name: named(f"one of {', '.join(words)}", with_start(words.__getitem__), next(iter(words)))
            for name, words in vocabulary.words.items()
        },
    }
