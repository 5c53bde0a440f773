"""The page of evidence says of these checks what they find."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from service.knowledge.evidence_records import Check
from service.knowledge.loader import read_rows
from tests.science.physics.checks import checks

KEPT = read_rows("evidence/checks.csv", Check)


def test_page_has_what_is_found() -> None:
    """Not so: python -m tests.science.physics.write. Deviations come of rounding; another machine has others."""
    found = checks()
    assert [replace(row, deviation=None) for row in KEPT] == [replace(row, deviation=None) for row in found]
    for row, now in zip(KEPT, found, strict=True):
        assert row.deviation is not None
        assert now.deviation is not None
        assert row.deviation / 11 < now.deviation < row.deviation * 11


def test_every_module_of_tests_has_its_rows() -> None:
    modules = {f"tests/science/physics/{path.name}" for path in Path(__file__).parent.glob("test_*.py")}
    assert {row.test for row in KEPT} == modules - {"tests/science/physics/test_checks.py"}
