"""Sources named in a text as a reader knows them, by authors and year, instead of by our ids."""

from __future__ import annotations

import re
from functools import cache

from service.knowledge.catalogue import SOURCES, Source

_ID = re.compile(r"\b[a-z0-9]+(?:_[a-z0-9]+)+\b")
_NO_AUTHORS = ("no author", "authors not")
_MOST_AUTHORS = 2


def cited(text: str) -> str:
    """A text with authors and year in the place of every id of a source."""
    if "_" not in text:
        return text
    return _ID.sub(lambda match: citation(match[0]) if match[0] in SOURCES else match[0], text)


@cache
def citation(source_id: str) -> str:
    """Authors and year of a source, where it publishes no authors its journal, house or title. Raises KeyError."""
    source = SOURCES[source_id]
    year = "" if source.year is None else f" {source.year}"
    return f"{_authors(source)}{year}"


def _authors(source: Source) -> str:
    if source.authors.startswith(_NO_AUTHORS):
        return source.published_in or source.title or source.id.replace("_", " ")
    authors = source.authors.split(", ")
    if len(authors) > _MOST_AUTHORS:
        return f"{authors[0]} et al."
    return " and ".join(authors)
