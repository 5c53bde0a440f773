"""What equal volume does to effort: repetitions left in reserve, and those that would leave as many as now."""

from __future__ import annotations

from typing import Final

import msgspec

from service.errors import Refusal, into
from service.intervals import Interval, difference
from service.knowledge.design_choices import CHOICES
from service.training.done_sets import DoneSet
from service.training.load_repetition import person_curve, relation_for
from service.training.repetition_maximum import estimate_reps
from service.training.volume import Reps

HARD_SET_RESERVE: Final = CHOICES.effort.hard_set_reserve
_TOLERANCE: Final = 1e-9


class Effort(msgspec.Struct, frozen=True):
    """Effort at equal volume.

    Attributes:
        left: left in reserve after the top of the range, None where the load is outside the published range
            [count]
        least_left: left at least, where the load is below the published range [count]
        equal_effort: range that leaves as many in reserve as now, None where there is none or it is not known
    """

    left: Interval | None = None
    least_left: float | None = None
    equal_effort: Reps | None = None

    @property
    def achievable(self) -> bool:
        """Whether the repetitions can be done; not with a load above the maximum."""
        return self.least_left is not None or (self.left is not None and self.left.value >= 0)

    @property
    def hard(self) -> bool | None:
        """Whether the sets still count as hard (our own choice); None where the load is above the maximum."""
        left = self.least_left if self.left is None else self.left.value
        return None if left is None else left <= HARD_SET_RESERVE


def effort_at_equal_volume(
    exercise: str | None, reps: Reps, reserve: float, load: float, new_reps: Reps, new_load: float
) -> Effort:
    """Effort of the repetitions that keep the volume.

    Args:
        exercise: whose load–repetition relation is used, the general one for None
        reps: range now
        reserve: left after the top of it [count]
        load: lifted now, the body included where it is lifted [kg]
        new_reps: range that keeps the volume
        new_load: to be lifted [kg]

    Returns:
        The effort.

    Raises:
        Refusal: for repetitions to failure outside the relation's published range
    """
    failure = reps.high + reserve
    relation = relation_for(exercise)
    curve = person_curve(exercise, 0)
    if failure > relation.reps[1]:
        raise Refusal.one(
            "reps/high",
            f"{failure:g} repetitions to failure (with those in reserve) are outside the range of {relation.id}.",
            f"up to {relation.reps[1]:g} repetitions to failure",
            change=into(failure, high=relation.reps[1]),
        )
    share = curve.share_at(failure) * new_load / load
    if share < curve.shares[-1]:
        return Effort(least_left=relation.reps[1] - new_reps.high)
    if share > 1:
        return Effort()
    to_failure = estimate_reps(relation, exercise, DoneSet(load, reps.high, reserve), new_load, lifted=load)
    return Effort(to_failure.less(new_reps.high), None, _shifted(reps, difference(to_failure.value, failure)))


def _shifted(reps: Reps, shift: float) -> Reps | None:
    """A range moved by a number of repetitions, the low end rounded and the high end down; None below one."""
    low, high = round(reps.low + shift), int(reps.high + shift + _TOLERANCE)
    return Reps(max(1, min(low, high)), high) if high >= 1 else None
