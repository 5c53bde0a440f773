"""Everything that is measured of how often intervals hold."""

from __future__ import annotations

from functools import cache
from typing import Final

from tests.science.calibration import arm, mechanics, repetitions, seen
from tests.science.calibration.repetitions import Coverage

OF_MECHANICS: Final = 2
"""One in so many lifters is solved for each question of mechanics, of which there are more."""
OF_SEEN: Final = 15
"""One in so many is seen, for each is a question of its own."""


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate in every cell, so many lifters in each."""
    seen_ones = seen.coverages(count // OF_SEEN)
    of_mechanics = count // OF_MECHANICS
    return (
        *repetitions.coverages(count),
        *mechanics.coverages(of_mechanics),
        *seen_ones,
        *arm.coverages(of_mechanics),
    )
