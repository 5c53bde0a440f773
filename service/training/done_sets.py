"""Sets that a lifter did: the bounds that follow from them, and the set that says most about the maximum.

A load that was lifted for some repetitions was possible for at least so many, whatever reserve was reported and
whatever a relation gives; so no load for as many or fewer repetitions, the maximum for one, lies below it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec


class DoneSet(msgspec.Struct, frozen=True):
    """A set that was done.

    Attributes:
        load: mass lifted, the body included where it is lifted too [kg]
        reps: repetitions done [count]
        reserve: repetitions left in reserve [count]
    """

    load: float
    reps: float
    reserve: float

    @property
    def failure(self) -> float:
        """Repetitions to failure: those done and those in reserve [count]."""
        return self.reps + self.reserve


def heaviest_for(sets: Sequence[DoneSet], reps: float) -> float:
    """The heaviest load that was lifted for at least so many repetitions.

    Args:
        sets: sets that were done
        reps: repetitions [count]

    Returns:
        mass lifted, 0 where there was no such set [kg]
    """
    return max((one.load for one in sets if one.reps >= reps), default=0.0)


def most_with(sets: Sequence[DoneSet], load: float) -> float:
    """The most repetitions that were done with at least a load.

    Args:
        sets: sets that were done
        load: mass lifted [kg]

    Returns:
        repetitions done, 0 where there was no such set [count]
    """
    return max((one.reps for one in sets if one.load >= load), default=0.0)


def deciding(sets: Sequence[DoneSet], covered: Callable[[float], bool]) -> int:
    """Index of the set on which a maximum from a single set is based: the heaviest, and of equally heavy the longest.

    It has the fewest repetitions to failure of the sets that no other one exceeds in load and in repetitions, and from
    fewer repetitions estimates are better. Sets whose repetitions to failure the relation does not cover come last.

    Args:
        sets: sets that were done
        covered: whether the relation covers a number of repetitions to failure

    Returns:
        position in the sequence [count]

    Source: mayhew_1995, brechue_mayhew_2009.
    """
    return max(range(len(sets)), key=lambda at: (covered(sets[at].failure), sets[at].load, sets[at].failure))
