"""What another implement does to the same lift where no posture tells: directions by region, and which loads compare.

Directions are common practice, each row saying so. Loads of free weights are masses and can be compared; what the stack
of a machine or a cable says depends on its pulleys and levers.
"""

from __future__ import annotations

from typing import Final

from service.knowledge.catalogue import EXERCISES, Carry
from service.knowledge.loader import read_rows
from service.knowledge.records import Known, Record, RegionId, SourceId
from service.vocabulary import Difference, Implement

_STACKS: Final = frozenset({"machine", "cable"})


class ImplementDirection(Record, frozen=True):
    """Which way the demand of a region moves in the same lift with another implement.

    Attributes:
        carry: how the load is carried in the lifts that it speaks of
        from_implement: what is lifted now
        to_implement: what would be lifted
        region: region whose demand it is
        direction: how its demand compares, at no more load than now
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    carry: Carry
    from_implement: Implement
    to_implement: Implement
    region: RegionId
    direction: Difference
    source: SourceId
    known: Known
    note: str = ""


DIRECTIONS: Final = {
    (row.carry, row.from_implement, row.to_implement, row.region): row
    for row in read_rows("implement_directions.csv", ImplementDirection)
}


def direction_of(exercise: str, before: Implement, after: Implement, region: str) -> ImplementDirection | None:
    """What is said of a region in an exercise with another implement; None where nothing is.

    Args:
        exercise: id of the exercise
        before: what is lifted now
        after: what would be lifted
        region: id of the region
    """
    return DIRECTIONS.get((EXERCISES[exercise].carry, before, after, region))


def loads_compare(before: Implement, after: Implement) -> bool:
    """Whether the loads of two implements are masses of one kind; those of stacks compare with their own alone."""
    return before == after or _STACKS.isdisjoint((before, after))
