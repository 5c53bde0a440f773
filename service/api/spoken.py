"""Where answers have sentences, which are made in the language that a request prefers."""

from __future__ import annotations

from typing import Final

from service.api.bulk.batch import PATH as BATCH
from service.api.catalogue.resources import RESOURCES
from service.api.operations.registry import OPERATIONS

_RESOURCES: Final = (f"/v1/{resource.name}" for resource in RESOURCES if resource.spoken)
STEPS: Final = frozenset(
    path.split("/")[2] for path in (*(operation.path for operation in OPERATIONS), *_RESOURCES, BATCH, "/v1/tables")
)
"""The step of their paths after /v1."""


def has_sentences(path: str) -> bool:
    """Whether answers of a path have sentences."""
    return path.startswith("/v1/") and path.split("/", 3)[2] in STEPS
