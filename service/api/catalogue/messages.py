"""The sentences of answers by their codes, as the catalogue lists them: for clients that say them in another language."""

from __future__ import annotations

from typing import Any

from service.api.models.base import ResponseModel
from service.knowledge.message_templates import TEMPLATES
from service.messages.catalogue import CATALOGUE, KINDS


class MessageValue(ResponseModel, kw_only=True, frozen=True):
    """A value of a message.

    Attributes:
        name: Its name in `values` of the message, and between braces in the text.
        kind: What kind of value it is, such as number, share, quantity, reps, region or prescription.
        listed: Whether it is a list of values of this kind, written as "a, b and c".
        meaning: The kind in words.
        example: The value, as an answer might have it.
    """

    name: str
    kind: str
    listed: bool
    meaning: str
    example: Any


class MessageEntry(ResponseModel, kw_only=True, frozen=True):
    """A sentence of answers, by its code, with what it takes: for clients that say it in another language.

    Attributes:
        id: The `code` of the message.
        text: The sentence in English, with a place in braces for each value: `{name}`, or `{name:form}` where the value
            is written in one of several forms: a number as Python formats it, `one|many` for the word that goes with a
            number, `your` for whose a region is.
        values: What the sentence says, by name; empty where it has none.
    """

    id: str
    text: str
    values: list[MessageValue]


def message_entry(code: str) -> MessageEntry:
    """The entry of a code. Raises KeyError for one that the catalogue does not have."""
    template = TEMPLATES[code]
    values = [_value(name, kind, CATALOGUE[code].example[name]) for name, kind in template.values.items()]
    return MessageEntry(id=code, text=template.text, values=values)


def _value(name: str, stated: str | tuple[str], example: Any) -> MessageValue:
    """A value of a message; stated: its kind, for a list in a list of its own."""
    listed = not isinstance(stated, str)
    kind = stated if isinstance(stated, str) else stated[0]
    return MessageValue(name=name, kind=kind, listed=listed, meaning=KINDS[kind].meaning, example=example)
