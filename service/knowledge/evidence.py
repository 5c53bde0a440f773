"""What speaks for and against each quantity that the service computes, in the terms of ASME V&V 40 (asme_vv40_2018).

The words are written by hand (context.toml, quantities.toml). The numbers are measured by the tests, which write them
and hold them current: checks by the group physics; comparisons, faults, lifts and worked cases by reference; coverages
by calibration; experts by judgement.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.knowledge.evidence_records import (
    Check,
    Comparison,
    Context,
    Coverage,
    Experts,
    Fault,
    Half,
    Quantity,
    Told,
)
from service.knowledge.loader import read_rows, read_tables, read_whole

CONTEXT: Final = read_whole("evidence/context.toml", Context)
QUANTITIES: Final = read_tables("evidence/quantities.toml", Quantity)
CHECKS: Final = read_rows("evidence/checks.csv", Check) + read_rows("evidence/worked_cases.csv", Check)
COMPARISONS: Final = read_rows("evidence/comparisons.csv", Comparison)
FAULTS: Final = read_rows("evidence/faults.csv", Fault)
TOLD: Final = read_rows("evidence/lifts.csv", Told)
COVERAGES: Final = read_rows("evidence/coverages.csv", Coverage)
(EXPERTS,) = read_rows("evidence/experts.csv", Experts)


class Agreement(msgspec.Struct, frozen=True):
    """How many comparisons agree.

    Attributes:
        agree: those that do [count]
        of: all of them [count]
    """

    agree: int
    of: int


def agreement(half: Half, *, directions: bool, measured: tuple[str, ...] | None = None) -> Agreement:
    """How many comparisons of a half agree.

    Args:
        half: those that check, or those that may be fitted to
        directions: whether directions are counted, or magnitudes
        measured: names of what is compared; None for all
    """
    rows = [
        row
        for row in COMPARISONS
        if row.half == half
        and row.is_direction == directions
        and (measured is None or set(row.measured) & set(measured))
    ]
    return Agreement(sum(row.agrees for row in rows), len(rows))
