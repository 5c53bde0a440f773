"""What is checked at start, and our own choices being changeable."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest

from service.knowledge.checks import check_sources, cited
from service.knowledge.loader import design_choices

if TYPE_CHECKING:
    from pathlib import Path


def test_every_citation_of_the_data_files_has_its_source() -> None:
    citations = list(cited())
    assert len(citations) > 200
    check_sources(citations)


def test_missing_source_stops_the_start_and_is_named() -> None:
    with pytest.raises(ValueError, match="relation x cites nobody_1900"):
        check_sources([("relation x", "nobody_1900"), ("relation y", "epley_1985")])


def test_file_of_choices_replaces_its_values_and_no_others(tmp_path: Path) -> None:
    changed = tmp_path / "choices.toml"
    changed.write_text("[adjustments.first_step]\namber = 0.8\n", encoding="utf-8")
    choices, usual = design_choices(str(changed)), design_choices(None)
    assert choices["adjustments"]["first_step"] == {"amber": 0.8, "red": usual["adjustments"]["first_step"]["red"]}
    assert choices["effort"] == usual["effort"]


def test_malformed_file_of_choices_stops_the_start(tmp_path: Path) -> None:
    broken = tmp_path / "choices.toml"
    broken.write_text("[adjustments", encoding="utf-8")
    with pytest.raises(tomllib.TOMLDecodeError):
        design_choices(str(broken))
