"""The page of evidence says of published observations, faults and worked cases what is found now."""

from __future__ import annotations

import pytest

from tests.science.reference.evidence import CASES, evidence
from tests.support.evidence import kept, table
from tests.support.paths import PUBLISHED


@pytest.mark.parametrize("name", ["comparisons.csv", "faults.csv", "lifts.csv", "worked_cases.csv"])
def test_page_has_what_is_found(name: str) -> None:
    """Not so: python -m tests.science.reference.write."""
    assert kept(name) == table(evidence()[name])


def test_every_file_that_is_written_is_looked_at() -> None:
    assert set(evidence()) == {"comparisons.csv", "faults.csv", "lifts.csv", "worked_cases.csv"}


def test_every_file_of_printed_figures_is_counted() -> None:
    assert {path.name for path in PUBLISHED.glob("printed_*.csv")} <= {cases.file for cases in CASES}
