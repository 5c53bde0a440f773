"""What was measured about lifts and between them: findings by region, and strength ratios with their spread.

The only basis for presses and pulls, which no planar model covers.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.knowledge.catalogue import RATIOS, Ratio
from service.knowledge.loader import Known, read_csv


class Finding(msgspec.Struct, frozen=True):
    """One published finding: its lifts (our ids), what was compared, region, measure, value with unit or direction."""

    exercises: tuple[str, ...]
    condition: str
    region: str
    measure: str
    value: str
    unit: str
    source: str
    known: Known
    note: str = ""


FINDINGS: Final = tuple(
    msgspec.convert({**row, "exercises": row["exercise"].split()}, Finding) for row in read_csv("lift_observations.csv")
)


def findings(exercise: str, reference: str) -> list[Finding]:
    """Findings about an exercise; against another reference only those that speak of both, where there are any."""
    about = [finding for finding in FINDINGS if exercise in finding.exercises]
    both = [finding for finding in about if reference in finding.exercises]
    return both if exercise != reference and both else about


def published_ratio(reference: str, exercise: str) -> Ratio | None:
    """What a lifter manages in an exercise as a share of the reference, as published, in either direction."""
    direct = RATIOS.get((reference, exercise))
    if direct or (exercise, reference) not in RATIOS:
        return direct
    inverse = RATIOS[exercise, reference]
    return Ratio(1 / inverse.ratio, None, inverse.source, inverse.known)
