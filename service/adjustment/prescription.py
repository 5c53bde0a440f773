"""A prescription in SI, and what it asks of the lifter's joints."""

from __future__ import annotations

from typing import Final

import msgspec

from service.intervals import Interval
from service.mechanics.body import Body
from service.mechanics.comparison import compare
from service.mechanics.setups import Depth, Technique
from service.mechanics.sweep import Swept, swept_demand
from service.training.volume import Reps

JOINTS: Final = {"low_back": "lumbosacral", "hip": "hip", "knee": "knee", "ankle": "ankle"}


class Prescription(msgspec.Struct, frozen=True):
    """A prescription.

    sets: a session; load [kg]; reserve: repetitions left after the top of the range; days: a week, None if not stated.
    """

    exercise: str
    sets: int
    reps: Reps
    load: float
    reserve: float
    days: int | None = None
    depth: Depth | None = None
    technique: Technique | None = None

    @property
    def reps_a_session(self) -> float:
        """Repetitions of a session in the middle of the range."""
        return self.sets * (self.reps.low + self.reps.high) / 2

    @property
    def weekly_sets(self) -> int:
        """Sets a week; of one session where the days are not stated."""
        return self.sets * (self.days or 1)


def demand(body: Body, prescription: Prescription) -> Swept:
    """Joint moments of the hardest repetition with their uncertainty; raises Refusal as the mechanics does."""
    return swept_demand(body, prescription.exercise, prescription.load, prescription.depth, prescription.technique)


def ratios(new: Swept, present: Swept) -> dict[str, Interval]:
    """Demand of each region against the present prescription.

    A region without a ratio (moment near nil) is left out.
    """
    found = compare(new, present)
    return {
        region: ratio
        for region, joint in JOINTS.items()
        if (ratio := found[joint].ratio) is not None  # type: ignore[index]
    }
