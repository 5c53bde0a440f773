"""How the arms do each press, pull and isolation lift: where the hand goes and which way the load pulls it."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from msgspec import Meta

from service.knowledge.catalogue import EXERCISES
from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourcedRange, SourceId
from service.vocabulary import Implement

Hands = Literal["fixed", "free", "angles"]
Pull = Literal["down", "up"]


class SidewaysForce(Record, frozen=True):
    """How hard the hands push what they hold to the outside, over the force along the load's line.

    Attributes:
        value: usual share, negative inward [1]
        low: least that a direction has to survive [1]
        high: most [1]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    value: float
    low: float
    high: float
    source: SourceId
    known: Known
    note: str = ""

    def __post_init__(self) -> None:
        """Raise ValueError where the share is outside its span."""
        if not self.low <= self.value <= self.high:
            raise ValueError("Expected low <= value <= high")


class HandPoint(Record, frozen=True):
    """A point of the hand's path from the shoulder joint, for a stature of 1.75 m.

    Attributes:
        across: across the load's line [m]
        along: along it, away from the load's pull [m]
        share_female: of body mass on both hands, women, where the body is the load [1]
        share_male: the same of men [1]
    """

    across: float
    along: float
    share_female: float = 1.0
    share_male: float = 1.0


class AnglePoint(Record, frozen=True):
    """A point of a lift that is described by the angles of the arm.

    Attributes:
        elevation: upper arm from hanging along the trunk [deg]
        plane: plane in which it is raised: 0 to the side, 90 forward [deg]
        rotation: upper arm turned outward about itself [deg]
        flexion: bend of the elbow [deg]
    """

    elevation: float
    plane: float
    rotation: float
    flexion: float


class ArmLift(Record, frozen=True, kw_only=True):
    """A table of arm_lifts.toml.

    Attributes:
        id: of the exercise with its usual implement, or exercise/implement
        hands: fixed to each other by a bar, or to the floor or a bar that stands; free, with the forearm along the
            load's line; or by the angles of the arm
        pull: which way the load pulls the hand along its line; a support that carries the body pulls up
        trunk_angle: 0 lying face up, 90 upright, 180 face down [deg]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
        line: the load's line from the vertical, 90 for a level cable that pulls a sitting lifter forward [deg]
        grip: between the middles of the hands, over biacromial breadth; None where they are free [1]
        path: the hand from the bottom to the top of the lift
        angles: the arm from the bottom to the top of the lift
        outward: sideways force; None for the measured one of bench presses
        body: whether the body is the load, with what is added to it
        one_arm: whether one hand holds all of the load
        implements: with which it is done so; the usual one of the exercise alone where there are none
        grips: widths of the grip that are computed, over biacromial breadth; None for those of bars [1]
        bench: how far the bench may be tilted, head up; None without a bench that tilts [deg]
        touch_by_grip: whether a grip that is stated moves the bottom of the path as in bench presses
        left_out: of the full range, below the path, along the load's line, for a stature of 1.75 m [m]
    """

    id: Annotated[str, Meta(min_length=1)]
    hands: Hands
    pull: Pull
    trunk_angle: float
    source: SourceId
    known: Known
    note: str = ""
    line: float = 0.0
    grip: float | None = None
    path: tuple[HandPoint, ...] = ()
    angles: tuple[AnglePoint, ...] = ()
    outward: SidewaysForce | None = None
    body: bool = False
    one_arm: bool = False
    implements: tuple[Implement, ...] = ()
    grips: SourcedRange | None = None
    bench: SourcedRange | None = None
    touch_by_grip: bool = False
    left_out: float = 0.0

    def __post_init__(self) -> None:
        """Raise ValueError where what the lift's hands need is missing, or there is too much."""
        if (len(self.path) > 1) == (len(self.angles) > 1):
            raise ValueError("Expected a path of the hand or angles of the arm, of two points or more")
        if bool(self.angles) != (self.hands == "angles"):
            raise ValueError('Expected angles where hands = "angles" and nowhere else')
        if (self.grip is not None) != (self.hands == "fixed"):
            raise ValueError('Expected a grip where hands = "fixed" and nowhere else')
        if self.outward is None and self.grip is None:
            raise ValueError("Expected a sideways force where there is no grip to know it by")
        if self.body and self.pull == "down":
            raise ValueError("Expected a support of the body to pull up")


STATURE_OF_POINTS: Final = 1.75
"""The stature for which the points of a path are stated [m]."""

ARM_LIFTS: Final = read_tables("arm_lifts.toml", ArmLift)
"""By the id of the exercise with its usual implement, and by exercise/implement."""


def arm_lift_of(exercise: str, implement: Implement | None) -> str | None:
    """The id of the table of an exercise done with an implement.

    Args:
        exercise: id of the exercise
        implement: what is lifted, None for what the exercise is usually done with

    Returns:
        An id of ARM_LIFTS, None where nothing says how the arms do it.
    """
    return _BY_IMPLEMENT.get((exercise, implement))


def _by_implement() -> dict[tuple[str, Implement | None], str]:
    tables: dict[tuple[str, Implement | None], str] = {}
    for lift in ARM_LIFTS.values():
        exercise, _, other = lift.id.partition("/")
        usual = EXERCISES[exercise].implements[0]
        held = lift.implements or tuple(known for known in EXERCISES[exercise].implements if known == (other or usual))
        tables |= {(exercise, implement): lift.id for implement in held}
        if not other:
            tables[exercise, None] = lift.id
    return tables


_BY_IMPLEMENT: Final = _by_implement()
