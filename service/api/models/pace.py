"""How repetitions are paced, as requests describe it by tempo, hold and bounce, and the force at their turn."""

from __future__ import annotations

from typing import Final, Protocol

import msgspec

from service.api.models.common import RepRange
from service.api.models.prescription import check_pace
from service.api.models.setup import Technique
from service.intervals import Interval
from service.mechanics.dynamics import AT_TURN, Met, Pace, TurnFactor, ratio, turn_factor
from service.training.load_repetition import person_curve
from service.units import Duration

OF_TURN: Final = "68 %: errors of travel, speed and form of the way, habit where no tempo is stated, what a bounce adds"
"""What the interval of the force at the turn over the weight means."""
WITH_TURN: Final = " and those of the factor"
"""What the meaning of an interval is added to that has the force at the turn in it."""


class _PacedSetup(Protocol):
    @property
    def exercise(self) -> str: ...

    @property
    def tempo(self) -> str | None: ...

    @property
    def hold(self) -> Duration | None: ...

    @property
    def technique(self) -> Technique | None: ...

    @property
    def reps(self) -> RepRange | None: ...

    @property
    def reps_in_reserve(self) -> float | None: ...


class SetupPace(msgspec.Struct, frozen=True):
    """How the repetitions of a setup are paced.

    Attributes:
        exercise: id of the exercise
        stature: of the lifter [m]
        pace: of a repetition
        share: load over the maximum [1], None where repetitions and reserve do not tell it
    """

    exercise: str
    stature: float
    pace: Pace
    share: float | None

    @property
    def turn(self) -> TurnFactor | None:
        """Force at the turn over the weight, None where no figures of the lift are known."""
        return turn_factor(self.exercise, self.stature, self.pace, self.share)

    def against(self, reference: SetupPace, met: Met = AT_TURN) -> Interval | None:
        """What this pace makes of the largest moment against the reference's, both in this lift.

        Args:
            reference: the other one's
            met: where the moment is largest

        Returns:
            The ratio [1], None at one pace or where no figures of the lift are known.
        """
        if self.pace == reference.pace:
            return None
        new, before = self.turn, turn_factor(self.exercise, self.stature, reference.pace, reference.share)
        return None if new is None or before is None else ratio(new.of_largest(met), before.of_largest(met))


def pace_of(setup: _PacedSetup, stature: float, where: str) -> SetupPace:
    """The pace of a setup; stature [m]. Raises Refusal with pointers under `where` for what cannot be done."""
    check_pace(setup.exercise, setup.tempo, setup.technique, where)
    bounce = setup.technique is not None and setup.technique.bounce is True
    share = None
    if setup.reps is not None and setup.reps_in_reserve is not None:
        share = person_curve(setup.exercise, 0).share_at(setup.reps.high + setup.reps_in_reserve)
    return SetupPace(setup.exercise, stature, Pace(setup.tempo, bounce, setup.hold is not None), share)
