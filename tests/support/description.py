"""The published description as it is checked in, and where its references lead."""

from __future__ import annotations

import json
from typing import Any, Final

from tests.support.paths import DESCRIPTION

DOCUMENT: Final[dict[str, Any]] = json.loads(DESCRIPTION.read_bytes())


def target(part: dict[str, Any], document: dict[str, Any] = DOCUMENT) -> dict[str, Any]:
    """What a reference leads to, or the part itself if it is none."""
    while "$ref" in part:
        _, _, place, name = part["$ref"].split("/")
        part = document["components"][place][name]
    return part


def parameters(operation: dict[str, Any], document: dict[str, Any] = DOCUMENT) -> list[dict[str, Any]]:
    """The parameters of an operation."""
    return [target(one, document) for one in operation.get("parameters", [])]


def examples(content: dict[str, Any], document: dict[str, Any] = DOCUMENT) -> dict[str, dict[str, Any]]:
    """The examples of a body or an answer in one form, by their labels."""
    return {label: target(one, document) for label, one in content["examples"].items()}
