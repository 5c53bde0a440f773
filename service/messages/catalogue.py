"""A sentence for people with what it says as values, so that another language can be made of code and values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import msgspec

from service.knowledge.message_templates import TEMPLATES
from service.messages.kinds import SINGLE
from service.messages.prescription import PRESCRIPTION
from service.messages.template import Template, Value

CATALOGUE: Final = {
    code: Template(code, template, {**SINGLE, "prescription": PRESCRIPTION}) for code, template in TEMPLATES.items()
}
"""Every sentence for people by its code."""


class Message(msgspec.Struct, frozen=True, kw_only=True):
    """A sentence for people. The code is stable; the text is made of the values alone and may be reworded.

    Attributes:
        code: what is said; the same code always has the same names of values
        values: what it says as numbers, ids, quantities, ranges of repetitions, prescriptions, and lists of these
        text: the sentence in English
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


def text_of(code: str, values: Mapping[str, Value]) -> str:
    """The sentence of a code and its values as an answer shows them."""
    return CATALOGUE[code].text(values)
