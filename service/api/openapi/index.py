"""Where things are: what GET /v1 answers, and GET / to programs."""

from __future__ import annotations

from typing import Final

from service import __version__
from service.api.bulk.batch import PATH as BATCH
from service.api.catalogue.resources import RESOURCES
from service.api.evidence.models import PATH as EVIDENCE
from service.api.models.service_state import Index, IndexEntry
from service.api.openapi.bulk_operations import TAG as BULK
from service.api.operations.registry import OPERATIONS

NAME: Final = "Program adjustment"
PATH: Final = "/v1"
CATALOGUE: Final = "Catalogue"
INDEX: Final = Index(
    name=NAME,
    version=__version__,
    documentation="/docs",
    guide="/docs#guide",
    documentation_as_text="/docs.md",
    description="/openapi.json",
    messages="/v1/messages",
    operations=[IndexEntry(one.path, one.summary, one.tag) for one in OPERATIONS],
    bulk=[
        IndexEntry(BATCH, "Many questions to any operations in one request", BULK),
        IndexEntry("/v1/tables/{operation}", "A table of questions to one operation, a row each, as CSV", BULK),
    ],
    catalogue=[
        *(IndexEntry(f"{PATH}/{one.name}", one.summary, CATALOGUE) for one in RESOURCES),
        IndexEntry(EVIDENCE, "Evidence behind the numbers", CATALOGUE),
    ],
)
