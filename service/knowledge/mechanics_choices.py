"""Our own choices on the model of the low back."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Degrees, Span, ascending
from service.knowledge.records import Record


class AssumedLifter(Record, frozen=True):
    """A lifter of whom nothing is stated.

    Attributes:
        mass: body mass [kg]
        stature: stature [m]
    """

    mass: Annotated[float, Meta(ge=30, le=250)]
    stature: Annotated[float, Meta(ge=1.2, le=2.3)]


class Spine(Record, frozen=True):
    """The single-muscle model of the low back.

    Attributes:
        muscle_arm: lever arm of the extensor muscle [m]
        shared_lean_error: how far the lean of a split stance is moved to see what becomes of the share [deg]
        stated_lean_error: error of a lean that is stated [deg]
        assumed_lean_error: error of a lean that is assumed [deg]
        repeated_lean: how such a lean differs from one repetition to the next [deg]
        assumed_lifter: the lifter where none is stated
        lean_range: least and greatest lean that is computed for [deg]
    """

    muscle_arm: Span
    shared_lean_error: Annotated[float, Meta(ge=0, le=45)]
    stated_lean_error: Annotated[float, Meta(ge=0, le=45)]
    assumed_lean_error: Annotated[float, Meta(ge=0, le=45)]
    repeated_lean: Annotated[float, Meta(ge=0, le=45)]
    assumed_lifter: AssumedLifter
    lean_range: tuple[Degrees, Degrees]

    def __post_init__(self) -> None:
        """Raise ValueError where a span leaves what a body can have, or the ends of the range do not ascend."""
        if self.muscle_arm.high > 0.2:  # noqa: PLR2004 - [m], beyond any trunk
            raise ValueError("Expected muscle_arm.high <= 0.2")
        ascending("lean_range", *self.lean_range)
