"""Figures of how much more than the weight a repetition asks at its turn, by kind of lift."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import Meta

from service.knowledge.choice_kinds import ascending
from service.knowledge.loader import read_whole
from service.knowledge.records import ExerciseId, Known, Record, Sourced, SourceId

Factor = Annotated[float, Meta(ge=1, le=3)]


class SourcedFactor(Record, frozen=True):
    """A factor with its standard deviation, where it comes from and how well it is known.

    Attributes:
        value: the factor [1]
        sd: its standard deviation [1]
        source: where it comes from
        known: how far it is known to us
        note: what it is, or what to mind in using it
    """

    value: Factor
    sd: Annotated[float, Meta(gt=0, le=1)]
    source: SourceId
    known: Known
    note: str = ""


class Speeds(Record, frozen=True):
    """Mean speed of the bar lifted as fast as possible.

    Attributes:
        share: loads over the maximum, rising [1]
        speed: at each of them [m/s]
        source: where they are from
        known: how far they are known
        note: what to mind in using them
    """

    share: tuple[float, ...]
    speed: tuple[float, ...]
    source: SourceId
    known: Known
    note: str = ""

    def __post_init__(self) -> None:
        """Raise ValueError where a load has no speed or the loads do not rise."""
        if len(self.share) != len(self.speed):
            raise ValueError("Expected as many speeds as shares")
        ascending("share", *self.share)


class LiftDynamics(Record, frozen=True, kw_only=True):
    """Figures of one kind of lift.

    Attributes:
        exercises: ids of the exercises
        part_of_bar: movement of the centre of mass of what is moved over that of the bar [1]
        travel: way of the bar for a stature of 1.75 m [m]
        usual: where no tempo is stated
        turns: whether there is a turn that can be bounced out of
        speeds: as fast as possible, None where none are known
    """

    exercises: tuple[ExerciseId, ...]
    part_of_bar: Sourced
    travel: Sourced
    usual: SourcedFactor
    turns: bool
    speeds: Speeds | None = None


class SharedDynamics(Record, frozen=True):
    """Figures that hold for every lift.

    Attributes:
        largest: nothing above is taken from the formula [1]
        spread: standard deviation of a computed excess, of the excess [1]
        least_spread: the least that it is taken to be [1]
        bounce: multiplies what is there without it
    """

    largest: Sourced
    spread: Sourced
    least_spread: Sourced
    bounce: SourcedFactor


class DynamicsTables(Record, frozen=True):
    """The whole of dynamics.toml.

    Attributes:
        shared: for every lift
        lifts: by kind of lift
    """

    shared: SharedDynamics
    lifts: dict[str, LiftDynamics]


_TABLES: Final = read_whole("dynamics.toml", DynamicsTables)
SHARED: Final = _TABLES.shared
KINDS: Final = _TABLES.lifts
LIFTS: Final = {exercise: lift for lift in KINDS.values() for exercise in lift.exercises}
"""The figures of each exercise that has any."""


def turns(exercise: str) -> bool:
    """Whether a lift has a turn that can be bounced out of, with figures of what a bounce does there.

    Args:
        exercise: id of the exercise
    """
    return exercise in LIFTS and LIFTS[exercise].turns
