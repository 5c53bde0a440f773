"""What the page shows of the description: its operations by sections, shapes, lists of values, parameters and headers."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import msgspec

from service.api.catalogue.resources import RESOURCES
from service.api.docs.forms import Forms, forms
from service.api.docs.reference import PROBLEM, Field, Reference, Shape, ValueList, Way, key
from service.api.evidence.models import EvidenceAnswer, evidence
from service.api.openapi.document import document


class Operation(msgspec.Struct, frozen=True):
    """A path with all ways to ask it, and the shapes that are its questions and answers alone."""

    key: str
    path: str
    ways: list[Way]
    forms: Forms
    shapes: list[Shape]


class Section(msgspec.Struct, frozen=True):
    """What belongs together by a tag of the description."""

    id: str
    name: str
    words: str
    operations: list[Operation]


class Contents(msgspec.Struct, frozen=True):
    """Everything that the page shows of the description."""

    sections: list[Section]
    parameters: list[Field]
    headers: list[Field]
    problem: Shape
    shapes: list[Shape]
    value_lists: list[ValueList]

    def all_shapes(self) -> Iterator[Shape]:
        """Every shape, wherever it stands."""
        yield self.problem
        for section in self.sections:
            for operation in section.operations:
                yield from operation.shapes
        yield from self.shapes


@cache
def contents() -> Contents:
    """All of it, made once."""
    description = document()
    reference = Reference(description, _entries())
    shapes = reference.shapes()
    problem = shapes.pop(PROBLEM)
    sections = []
    for number, tag in enumerate(description["tags"]):
        paths = {
            path: methods
            for path, methods in description["paths"].items()
            if any(tag["name"] in one["tags"] for one in methods.values())
        }
        operations = [_operation(path, methods, reference, shapes) for path, methods in paths.items()]
        if operations:
            sections.append(Section(f"section-{number}", tag["name"], tag["description"], operations))
    return Contents(
        sections,
        reference.shared_parameters(),
        reference.headers(),
        problem,
        list(shapes.values()),
        reference.value_lists(),
    )


def _operation(path: str, methods: dict[str, Any], reference: Reference, shapes: dict[str, Shape]) -> Operation:
    """A path; its own shapes are taken out of those that are left."""
    ways = reference.ways(path)
    own = [shapes.pop(name) for name in reference.own_shapes(ways) if name in shapes]
    return Operation(key(path), path, ways, forms(path, methods, reference), own)


def _entries() -> Iterator[tuple[str, Any]]:
    """What the catalogue and the evidence answer, by the names of their shapes."""
    for resource in RESOURCES:
        for entry in resource.entries.values():
            yield resource.entry.__name__, msgspec.to_builtins(entry)
    yield EvidenceAnswer.__name__, msgspec.to_builtins(evidence(None))
