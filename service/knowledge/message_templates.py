"""The sentences for people as templates by their codes, and the words of ids: data/messages."""

from __future__ import annotations

from string import Formatter
from typing import Final

import msgspec

from service.knowledge.confirmations import Condition
from service.knowledge.cues import CUES
from service.knowledge.loader import DATA, UnusableData, read_rows, read_tables, read_toml
from service.knowledge.records import Record
from service.knowledge.signs import URGENCIES, Sign


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


def _of_records() -> dict[str, MessageTemplate]:
    """The sentences that stand with what they are about: signs, cues, urgencies, circumstances to confirm."""
    texts = {f"sign_{sign.id}": sign.text for sign in read_rows("signs.csv", Sign)}
    texts |= {f"cue_{cue.id}": cue.text for cue in CUES.values()}
    for urgency in URGENCIES.values():
        texts |= {f"urgency_{urgency.id}": urgency.what_to_do, f"stop_rule_{urgency.id}": urgency.stop_rule}
    for one in read_tables("confirmations.toml", Condition).values():
        texts |= {f"confirm_{one.id}": one.text, f"before_{one.id}": one.what_to_do}
        texts[f"confirmed_{one.id}"] = one.once_confirmed
    return {code: MessageTemplate(text, _limits(text)) for code, text in texts.items()}


def _limits(text: str) -> dict[str, str | tuple[str]]:
    """The limits of ours that a text names: all of them numbers."""
    return {name: "number" for _, name, _, _ in Formatter().parse(text) if name}


_SENTENCES: Final = {
    file: read_templates(f"messages/{file}.toml")
    for file in (
        "basis",
        "cautions",
        "chart",
        "decision",
        "option",
        "pause",
        "refusals",
        "report",
        "return_plan",
        "review",
        "review_rules",
        "ruled_out",
        "setup",
        "week",
    )
}
FILES: Final = {code: file for file, templates in _SENTENCES.items() for code in templates}
"""The file of each sentence that stands in one of data/messages, by its code."""
TEMPLATES: Final = _of_records() | read_templates(*(f"messages/{file}.toml" for file in _SENTENCES))
"""Whole sentences."""
WORDS: Final[dict[str, dict[str, str]]] = read_toml(DATA / "messages/words.toml")
"""The words of each id of a closed list, by the name of the list."""
