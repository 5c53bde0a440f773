"""What the service says about itself: its state, its release, and where things are."""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.http.middleware.rate_limit_store import Mode

HEALTH_PATHS: Final = frozenset({"/livez", "/readyz", "/version"})
"""Asked by whoever watches over the process: never shed, refused or counted."""


class Alive(msgspec.Struct, frozen=True):
    """That the process answers.

    Attributes:
        status: Always `alive`.
    """

    status: Literal["alive"]


class Ready(msgspec.Struct, frozen=True):
    """Whether the service is ready, its version, and where quotas are counted.

    Attributes:
        status: Always `ready`; a service that is not answers 503.
        version: Release of the service, such as 0.9.0.
        quotas: Where quotas are counted.
    """

    status: Literal["ready"]
    version: str
    quotas: Mode


class Version(msgspec.Struct, frozen=True):
    """The release, and the description that it serves.

    Attributes:
        version: Release of the service, such as 0.9.0.
        description_sha256: SHA-256 of the bytes of /openapi.json, in hexadecimal digits.
    """

    version: str
    description_sha256: str


class IndexEntry(msgspec.Struct, frozen=True):
    """A path and what it is for.

    Attributes:
        path: Where it is asked.
        summary: What it answers, in a line.
        section: What it belongs to, as the description has it.
    """

    path: str
    summary: str
    section: str


class Index(msgspec.Struct, frozen=True):
    """Where things are, for people and programs.

    Attributes:
        name: Name of the service.
        version: Release of the service, such as 0.9.0.
        documentation: Path of the page for people, with forms to try every operation.
        guide: Path of its guide, one consultation from the signs to the week.
        documentation_as_text: Path of the documentation as Markdown, for reading offline and for language models.
        description: Path of this description.
        messages: Path of every sentence of answers, for saying them in another language.
        operations: The computations, the main job first: asked by POST with JSON, or by GET with a query.
        bulk: Many questions in one request: a batch, and tables by the name of the operation.
        catalogue: What stands behind the numbers.
    """

    name: str
    version: str
    documentation: str
    guide: str
    documentation_as_text: str
    description: str
    messages: str
    operations: list[IndexEntry]
    bulk: list[IndexEntry]
    catalogue: list[IndexEntry]
