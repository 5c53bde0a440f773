"""What is checked across the data files at start."""

from __future__ import annotations

import pytest

from service.knowledge.citations import check_sources, cited


def test_every_citation_of_the_data_files_has_its_source() -> None:
    citations = list(cited())
    assert len(citations) > 200
    check_sources(citations)


def test_missing_source_stops_the_start_and_is_named() -> None:
    with pytest.raises(ValueError, match="relation x cites nobody_1900"):
        check_sources([("relation x", "nobody_1900"), ("relation y", "epley_1985")])
