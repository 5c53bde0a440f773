"""The page of evidence says how many lines of experts hold."""

from __future__ import annotations

from tests.science.judgement.experts import experts
from tests.support.evidence import kept, table


def test_page_has_what_holds() -> None:
    """Not so: python -m tests.science.judgement.experts."""
    assert kept("experts.csv") == table([experts()])
