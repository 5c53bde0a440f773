"""The sentences for people as templates by their codes, and the words of ids: data/messages."""

from __future__ import annotations

from typing import Final

import msgspec

from service.knowledge.loader import DATA, UnusableData, read_tables, read_toml
from service.knowledge.records import Record


class MessageTemplate(Record, frozen=True):
    """A sentence for people.

    Attributes:
        text: words with places in braces: {name}, or {name:form} where its kind can be written in several forms
        values: what is put there: the kind of each value by its name, for a list in a list of its own
    """

    text: str
    values: dict[str, str | tuple[str]] = msgspec.field(default_factory=dict)


def read_templates(*names: str) -> dict[str, MessageTemplate]:
    """The templates of several files by their codes.

    Args:
        names: paths of the files, from the folder of data

    Raises:
        UnusableData: for a file that cannot be read, and for a code that stands in two of them
    """
    templates: dict[str, MessageTemplate] = {}
    for name in names:
        read = read_tables(name, MessageTemplate)
        if twice := templates.keys() & read.keys():
            raise UnusableData(name, min(twice), "The code stands in another file as well")
        templates |= read
    return templates


PHRASES: Final = read_templates("messages/phrases.toml", "messages/setup.toml")
"""What the words of a prescription are made of."""
TEMPLATES: Final = read_templates("messages/return_plan.toml", "messages/setup.toml")
"""Whole sentences."""
WORDS: Final[dict[str, dict[str, str]]] = read_toml(DATA / "messages/words.toml")
"""The words of each id of a closed list, by the name of the list."""
