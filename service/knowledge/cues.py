"""Changes of technique, equipment or range that no posture model sees, in words that a coach can say."""

from __future__ import annotations

from typing import Final, Literal

from service.knowledge.loader import read_tables
from service.knowledge.records import ExerciseId, Known, Record, RegionId, SourceId

CueLever = Literal["technique", "equipment", "range_of_motion"]


class Cue(Record, frozen=True):
    """A change in words to say to the lifter.

    Attributes:
        id: stable id
        lever: what the change counts as
        exercises: exercises that it is for
        text: words to the lifter
        regions: which way the demand of each region moves, unknown where studies disagree
        sources: sources that speak for it, the one that says most first
        known: how far it is known
        note: what was found, or that it is common practice alone
        against: sources that found the opposite
        postural: whether it is a shoulder's posture that it eases, and no moment
        grip_at_most: the grip that it asks for, over biacromial breadth [1]; None where it asks for none
        computed_by: what of a technique says the same in numbers, where a region's demand is computed by it
    """

    id: str
    lever: CueLever
    exercises: tuple[ExerciseId, ...]
    text: str
    regions: dict[RegionId, Literal["lower", "higher", "unknown"]]
    sources: tuple[SourceId, ...]
    known: Known
    note: str
    against: tuple[SourceId, ...] = ()
    postural: bool = False
    grip_at_most: float | None = None
    computed_by: Literal["trunk_lean"] | None = None

    @property
    def source(self) -> str:
        """The source that says most about it."""
        return self.sources[0]

    def lowers(self, region: str) -> bool:
        """Whether the change takes demand off a region."""
        return self.regions.get(region) == "lower"


CUES: Final = read_tables("cues.toml", Cue)


def cues_for(exercise: str, region: str) -> tuple[Cue, ...]:
    """The cues for an exercise that take demand off a region.

    Args:
        exercise: id of the exercise
        region: id of the region
    """
    return tuple(cue for cue in CUES.values() if exercise in cue.exercises and cue.lowers(region))
