"""Coverage of each estimate, as a whole and by the parts of the grid, and what its `interval` states."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import sqrt
from typing import Final

import msgspec
import numpy as np

from tests.science.calibration.repetitions import Coverage

STATED: Final = "68 %"
AT_LEAST: Final = "at least"
SEEN: Final = ", seen"
"""Ends the estimates for which so few lifters are drawn that their joints are no answers of their own."""
BOUNDS: Final = (0.60, 0.76)
"""Of the coverage of an estimate whose interval states 68 %."""
BOUNDS_OF_PARTS: Final = (0.60, 0.82)
"""Of its coverage in one part of the grid, so that none is hidden in the whole: no less, and not much more."""
NEAR_NIL: Final = ("good_morning knee", "deadlift_trap_bar ankle")
"""Parts in which a moment is near nil and its largest on the way up is taken, which spreads less than the moment at one
depth: intervals may be wider than they say."""
AT_A_LIMIT: Final = (
    "deadlift_conventional",
    "deadlift_sumo",
    "block_pull",
    "pull_up",
    "chin_up",
    "lat_pulldown",
    "seated_row",
    "barbell_row",
)
"""Pulls in which many lifters stand where they would tip backward, at one balance point: what follows from it alone
(ankle, knee) is that of the limit for all of them, which no interval of one standard deviation describes. In pulls of
the arm what moves the hand moves the part of the way at which a moment is largest, at a straight or a folded arm: the
largest only grows, whichever way it moves."""
BOUNDS_AT_A_LIMIT: Final = (0.55, 0.90)
MOSTLY: Final = 0.05
"""Part of answers with an end that `interval` names, from which a coverage is at least the stated one and no less."""


class Slice(msgspec.Struct, frozen=True):
    """A part of the grid, or all of it.

    Attributes:
        estimate: operation and field
        part: what its cells have in common
        answers: lifters who were answered [count]
        joints: results of one lifter among them, which fail together where each asks a question of their own [count]
        coverage: how often the intervals held [1]
        below: how often what they are about lay below [1]
        above: how often it lay above [1]
        bounded: how often an end was one that `interval` names [1]
        stated: whether `interval` states a coverage
        at_least: whether it states one that may be exceeded
    """

    estimate: str
    part: str
    answers: int
    joints: int
    coverage: float
    below: float
    above: float
    bounded: float
    stated: bool
    at_least: bool

    @property
    def holds(self) -> bool:
        """Whether the coverage is as stated; of a part, with two standard deviations of so few answers."""
        lowest, highest = BOUNDS_OF_PARTS if self.part else BOUNDS
        if any(lift in self.part for lift in AT_A_LIMIT):
            lowest, highest = BOUNDS_AT_A_LIMIT
        lifters = self.answers / self.joints if self.estimate.endswith(SEEN) else self.answers
        chance = 2 * sqrt(self.coverage * (1 - self.coverage) / lifters) if self.part else 0.0
        may_exceed = self.at_least or self.part.endswith(NEAR_NIL)
        return lowest <= self.coverage + chance and (may_exceed or self.coverage - chance <= highest)


def whole_cells(cells: Iterable[Coverage]) -> list[Coverage]:
    """Cells in which nearly all were answered; of own curves, which are kept where they are plausible, all of them."""
    return [cell for cell in cells if cell.whole or cell.estimate.startswith("own curve")]


def by_estimate(cells: Iterable[Coverage]) -> Mapping[str, list[Coverage]]:
    """The cells of each estimate."""
    found = defaultdict(list)
    for cell in cells:
        found[cell.estimate].append(cell)
    return found


def overall(cells: Sequence[Coverage]) -> Slice:
    """All cells of one estimate together."""
    return _slice("", cells)


def parts(cells: Sequence[Coverage]) -> Iterator[Slice]:
    """The cells of one estimate by each lift and share of the maximum, each reserve, and each question."""
    for columns in (("lift", "share"), ("lift", "reserve"), ("lift", "asked")):
        found = defaultdict(list)
        for cell in cells:
            found[" ".join(str(getattr(cell, column)) for column in columns)].append(cell)
        for name, some in found.items():
            yield _slice(f"{columns[1]}: {name}", some)


def _slice(part: str, cells: Sequence[Coverage]) -> Slice:
    below, above, bounded = (
        float(np.mean(np.concatenate([getattr(cell, side) for cell in cells])))
        for side in ("below", "above", "bounded")
    )
    return Slice(
        cells[0].estimate,
        part,
        sum(len(cell.below) for cell in cells),
        len({cell.reserve for cell in cells}),
        1 - below - above,
        below,
        above,
        bounded,
        all(STATED in cell.meaning for cell in cells),
        all(cell.meaning.startswith(AT_LEAST) for cell in cells) or bounded > MOSTLY,
    )
