"""Sentences as a client makes them of codes and values, by what GET /v1/messages says alone."""

from __future__ import annotations

from string import Formatter
from typing import Any


class ClientSentences:
    """The sentences of one language; catalogue: the answer of GET /v1/messages in it."""

    def __init__(self, catalogue: dict[str, Any]) -> None:
        self._entries = {entry["id"]: entry for entry in catalogue["messages"]}
        self._words: dict[str, dict[tuple[str, str], str]] = {
            kind["id"]: {(word["id"], word["form"]): word["word"] for word in kind["words"]}
            for kind in catalogue["kinds"]
        }

    def text(self, message: dict[str, Any]) -> str | None:
        """A sentence; None for one with a prescription, whose words are made of its parts."""
        entry = self._entries[message["code"]]
        values = {value["name"]: value for value in entry["values"]}
        said = ""
        for literal, name, form, _ in Formatter().parse(entry["text"]):
            said += literal
            if name is None:
                continue
            if values[name]["kind"] == "prescription":
                return None
            said += self._written(values[name], message["values"][name], form or "")
        return said

    def _written(self, value: dict[str, Any], stated: Any, form: str) -> str:  # noqa: ANN401 - any JSON value
        if not value["listed"]:
            return self._single(value["kind"], stated, form)
        if "|" in form:
            return form.split("|")[len(stated) != 1]
        further = {"start": "", "The": "the", "Your": "your"}.get(form, form)
        words = [self._single(value["kind"], one, further if at else form) for at, one in enumerate(stated)]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"

    def _single(self, kind: str, stated: Any, form: str) -> str:  # noqa: ANN401, PLR0911 - any JSON value; a return for each kind
        if "|" in form:
            one, many = form.split("|")
            return one if (stated["high"] if kind == "reps" else stated) == 1 else many
        match kind:
            case "number":
                return format(stated, f"z{form or 'g'}")
            case "share":
                return format(100 * stated, form or ".0f")
            case "quantity":
                return self._quantity(stated["value"], stated["unit"], form)
            case "reps":
                low, high = stated["low"], stated["high"]
                return str(low) if low == high else f"{low} to {high}"
            case "message":
                text: str = stated["text"]
                return text[0].lower() + text[1:].rstrip(".") if form == "inline" else text
        words = self._words[kind]
        if not words:
            return str(stated)
        if form not in ("start", "The", "Your"):
            return words[stated, form]
        word = words[stated, "" if form == "start" else form.lower()]
        return word[0].upper() + word[1:]

    def _quantity(self, value: float, unit: str, form: str) -> str:
        if unit == "m" and abs(value) < 1:
            value, unit = float(f"{100 * value:.6g}"), "cm"
        number, words = self._single("number", value, form), self._words["unit"]
        return f"{number} {words[unit, '1'] if number == '1' and (unit, '1') in words else words[unit, '']}"
