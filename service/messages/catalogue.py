"""A sentence for people with what it says as values, so that another language can be made of code and values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import msgspec

from service.knowledge.message_templates import TEMPLATES
from service.messages.kinds import SINGLE
from service.messages.prescription import PRESCRIPTION
from service.messages.template import Template, Value

KINDS: Final = {**SINGLE, "prescription": PRESCRIPTION}
"""Every kind of value in sentences, by its name."""
CATALOGUE: Final = {code: Template(code, template, KINDS) for code, template in TEMPLATES.items()}
"""Every sentence for people by its code."""


class Message(msgspec.Struct, frozen=True, kw_only=True):
    """A sentence for people, with what it says as values, so that another language can be made of code and values.

    Attributes:
        code: What is said: stable, and always with the same names of values.
        values: What the sentence says, by name: numbers, shares of 1, ids, quantities, ranges of repetitions,
            prescriptions, messages, and lists of these. Empty where the sentence has none.
        text: The sentence in English, made of the values alone; it may be reworded.
    """

    code: str
    values: dict[str, Any]
    text: str


_FIXED: Final = {
    code: Message(code=code, values={}, text=template.text({}))
    for code, template in CATALOGUE.items()
    if not template.kinds
}


def message(code: str, **values: object) -> Message:
    """A sentence of the catalogue.

    Args:
        code: of data/messages
        values: exactly those that the catalogue describes for it

    Raises:
        KeyError: for a code that the catalogue does not have
        TypeError: for values that are not those of the code, or not of their kinds
    """
    if not values and code in _FIXED:
        return _FIXED[code]
    template = CATALOGUE[code]
    shown = template.shown(values)
    return Message(code=code, values=shown, text=template.text(shown))


def from_facts(code: str, facts: Mapping[str, object]) -> Message:
    """A sentence of the catalogue, with those of the facts that it names."""
    return message(code, **{name: facts[name] for name in CATALOGUE[code].kinds})


def text_of(code: str, values: Mapping[str, Value]) -> str:
    """The sentence of a code and its values as an answer shows them."""
    return CATALOGUE[code].text(values)
