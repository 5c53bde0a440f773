"""What the tests of the clients read in the description, so that they follow it as it grows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import msgspec

from tests.support.description import DOCUMENT, examples, parameters
from tests.support.paths import DESCRIPTION

FILE: Final = DESCRIPTION
SCHEMAS: Final[dict[str, dict[str, Any]]] = DOCUMENT["components"]["schemas"]
OPERATIONS: Final[dict[str, dict[str, Any]]] = {
    operation["operationId"]: operation | {"path": path, "method": method, "parameters": parameters(operation)}
    for path, methods in DOCUMENT["paths"].items()
    for method, operation in methods.items()
}
ENUMS: Final = {name: schema["enum"] for name, schema in SCHEMAS.items() if "enum" in schema}
JSON: Final = "application/json"
REFERENCE: Final = "#/components/schemas/"


class Example(msgspec.Struct, frozen=True):
    """A question of the demo consultation with its answer, as the description shows them."""

    operation_id: str
    name: str
    path: str
    request: Any
    answer: Any

    @property
    def label(self) -> str:
        """How a test's output names it."""
        return f"{self.operation_id}-{self.name}"


def _posted() -> Iterator[Example]:
    for operation_id, operation in OPERATIONS.items():
        asked = operation.get("requestBody", {"content": {}})["content"].get(JSON)
        if asked is not None:
            answers = examples(operation["responses"]["200"]["content"][JSON])
            for name, example in examples(asked).items():
                yield Example(operation_id, name, operation["path"], example["value"], answers[name]["value"])


EXAMPLES: Final = tuple(_posted())


def name_in(schema: dict[str, Any]) -> str:
    """The name of the schema that a reference leads to."""
    return str(schema["$ref"]).removeprefix(REFERENCE)


def request_of(operation_id: str) -> str:
    """The name of the schema of an operation's JSON body."""
    return name_in(OPERATIONS[operation_id]["requestBody"]["content"][JSON]["schema"])


def answer_of(operation_id: str) -> str:
    """The name of the schema of an operation's JSON answer."""
    return name_in(OPERATIONS[operation_id]["responses"]["200"]["content"][JSON]["schema"])
