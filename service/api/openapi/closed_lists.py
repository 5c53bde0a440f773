"""The closed lists of values in requests and answers: what the description calls each, and its words.

Words stand in service/vocabulary.toml; ids of the catalogue have them there, fields of an answer with the answer.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import msgspec

from service.api.catalogue.messages import MessageEntry
from service.api.catalogue.models import SourceEntry
from service.api.catalogue.resources import RESOURCES
from service.api.operations.registry import OPERATIONS
from service.api.serialization.answer_fields import AnswerFields
from service.knowledge.evidence import QUANTITIES
from service.messages.catalogue import CATALOGUE

VOCABULARY: Final = Path(__file__).parents[2] / "vocabulary.toml"


class ClosedList(msgspec.Struct, frozen=True):
    """A list of values as the description shows it.

    Attributes:
        name: of its schema
        words: what it is about
        values: each value with its words; none where these stand elsewhere, as `words` says
        may_grow: whether answers may have values that a client does not know yet, as the catalogue grows
    """

    name: str
    words: str
    values: Mapping[str, str]
    may_grow: bool = False

    def schema(self, values: Iterable[str]) -> dict[str, Any]:
        """Its JSON Schema: the words of each value as generators look for them, and unless it grows in the description too."""
        listed = sorted(values)
        schema: dict[str, Any] = {"title": self.name, "description": self.words, "type": "string", "enum": listed}
        if self.values:
            schema["x-enum-descriptions"] = [self.values[value] for value in listed]
        if self.may_grow:
            return schema | {"x-may-grow": True}
        lines = [f"- `{value}`: {self.values[value]}" for value in listed if self.values]
        return schema | {"description": "\n".join([self.words, "", *lines]).strip()}


def _of_vocabulary() -> Iterator[ClosedList]:
    for name, table in tomllib.loads(VOCABULARY.read_text(encoding="utf-8")).items():
        yield ClosedList(name, table["words"], table["values"])


def _of_catalogue() -> Iterator[ClosedList]:
    for resource in RESOURCES:
        if resource.entry is MessageEntry:
            continue
        entries = {entry: _said(one) for entry, one in resource.entries.items()}
        words = f"Id of an entry of GET /v1/{resource.name}."
        yield ClosedList(f"{resource.singular}Id", words, entries, may_grow=True)
    names = {quantity: _sentence(one.name) for quantity, one in QUANTITIES.items()}
    yield ClosedList("EvidenceQuantityId", "Id of a quantity of GET /v1/evidence.", names, may_grow=True)


def _of_answers() -> Iterator[tuple[frozenset[str], ClosedList]]:
    for operation in OPERATIONS:
        words = (
            f"Fields of {operation.answer.__name__} by which a part of it is chosen, described there; "
            "after a dot, a field of the object or of the objects in it."
        )
        names = frozenset(AnswerFields(operation.answer).names)
        yield names, ClosedList(f"{operation.title}Fields", words, {})


def _said(entry: Any) -> str:
    if isinstance(entry, SourceEntry):
        return _sentence(": ".join(filter(None, (f"{entry.authors} {entry.year or ''}".strip(), entry.title))))
    return _sentence(getattr(entry, "text", None) or entry.name)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."


CLOSED_LISTS: Final[dict[frozenset[str], ClosedList]] = {
    **{frozenset(listed.values): listed for listed in (*_of_vocabulary(), *_of_catalogue())},
    **dict(_of_answers()),
    frozenset(CATALOGUE): ClosedList(
        "MessageId", "Code of a message; GET /v1/messages has its words.", {}, may_grow=True
    ),
}
"""Every closed list by its values."""
