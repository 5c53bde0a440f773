"""Everything that is measured of how often intervals hold."""

from __future__ import annotations

from functools import cache
from typing import Final

from tests.science.calibration import mechanics, repetitions
from tests.science.calibration.repetitions import Coverage

OF_MECHANICS: Final = 2
"""One in so many lifters is solved for each question of mechanics, of which there are more."""


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate in every cell, so many lifters in each."""
    return (*repetitions.coverages(count), *mechanics.coverages(count // OF_MECHANICS))
