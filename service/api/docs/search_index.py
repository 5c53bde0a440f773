"""What the search of the page looks through: operations, fields, parameters, codes and exercises, with their anchors."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Final

import msgspec

from service.api.docs.contents import Operation, contents
from service.api.docs.reference import ValueList
from service.http.problems import KINDS
from service.knowledge.catalogue import EXERCISES
from service.knowledge.message_templates import TEMPLATES

MOST_WORDS: Final = 140
"""Characters of the words of an entry, which tell it from others."""

Entry = tuple[str, str, str, str]
"""Name, kind, words and address, which of what stands on the page is its anchor."""


@cache
def search_index() -> bytes:
    """Every entry in the order of the page, as JSON."""
    return msgspec.json.encode([(name, kind, words[:MOST_WORDS], address) for name, kind, words, address in _entries()])


def _entries() -> Iterator[Entry]:
    shown = contents()
    for section in shown.sections:
        for operation in section.operations:
            yield from _ways(operation)
    for one in shown.parameters:
        yield one.name, "parameter", one.words, f"#{one.anchor}"
    for shape in shown.all_shapes():
        yield shape.name, "shape", shape.words, f"#shape-{shape.name}"
        for one in shape.fields:
            yield one.name, f"field of {shape.name}", one.words, f"#{one.anchor}"
    for listed in shown.value_lists:
        yield listed.name, "list of values", listed.words, f"#shape-{listed.name}"
        yield from _values(listed)
    for one in shown.headers:
        yield one.name, "header field", one.words, f"#{one.anchor}"
    for problem in KINDS.values():
        yield problem.id, f"problem {problem.status}", problem.title, f"#problem-{problem.id}"


def _ways(operation: Operation) -> Iterator[Entry]:
    """The methods of a path, and the parameters that are theirs alone."""
    for way in operation.ways:
        asked = f"{way.method} {way.path}"
        yield asked, "operation", way.summary, f"#{operation.key}"
        for one in way.parameters:
            yield one.name, f"parameter of {asked}", one.words, f"#{one.anchor}"


def _values(listed: ValueList) -> Iterator[Entry]:
    """The values of a list that says what they are; names of fields have been said already."""
    for value, words in listed.values:
        address = f"#{listed.name}.{value}"
        if listed.name == "ExerciseId":
            yield value, "exercise", ", ".join([words.rstrip("."), *EXERCISES[value].aliases]), address
        elif listed.name == "MessageId":
            yield value, "message", TEMPLATES[value].text, f"/v1/messages/{value}"
        elif words:
            yield value, f"value of {listed.name}", words, address
