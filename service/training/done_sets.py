"""Sets that a lifter did: what they show for certain, and which of them says most about the maximum.

A load that was lifted for some repetitions was at least possible for so many, whatever was reported as left or any
relation says; so no load for as many or fewer repetitions, the maximum for one, lies below it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec


class DoneSet(msgspec.Struct, frozen=True):
    """A set that was done: what was lifted [kg], the body included where it is, repetitions, and how many were left."""

    load: float
    reps: float
    reserve: float

    @property
    def failure(self) -> float:
        """Repetitions to failure [count]: those done and those left."""
        return self.reps + self.reserve


def heaviest_for(sets: Sequence[DoneSet], reps: float) -> float:
    """The heaviest load [kg] that was lifted for at least so many repetitions [count]; 0 where none was."""
    return max((one.load for one in sets if one.reps >= reps), default=0.0)


def most_with(sets: Sequence[DoneSet], load: float) -> float:
    """The most repetitions [count] that were done with at least a load [kg]; 0 where none were."""
    return max((one.reps for one in sets if one.load >= load), default=0.0)


def deciding(sets: Sequence[DoneSet], covered: Callable[[float], bool]) -> int:
    """Which set a maximum is based on where one alone is: the heaviest, and of equally heavy ones the longest.

    It has the fewest repetitions to failure of the sets that no other one beats in load and in repetitions, and from
    fewer repetitions estimates are better (mayhew_1995, brechue_mayhew_2009). Sets whose repetitions to failure are
    not `covered` by the relation come last.
    """
    return max(range(len(sets)), key=lambda at: (covered(sets[at].failure), sets[at].load, sets[at].failure))
