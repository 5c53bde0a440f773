"""The test set before a step that asks for more than is known to be tolerated."""

from __future__ import annotations

from bisect import bisect_right

import msgspec
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.lift import Loads
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import ratio_between
from service.training.volume import Reps
from service.vocabulary import TrialReason


class TrialSet(msgspec.Struct, frozen=True):
    """A single set that has to go well before a step is done.

    Attributes:
        prescription: the set
        warm_up: loads of the sets before it, lightest first [kg]
        reason: why it comes first
    """

    prescription: Prescription
    warm_up: tuple[float, ...]
    reason: TrialReason


def trial_before(
    done: Prescription,
    new: Prescription,
    rise: float | None,
    loads: Loads,
    *,
    over_step: bool,
    after_break: bool,
) -> TrialSet | None:
    """The test before a step, None where its demand is known to stay within the step.

    Args:
        done: what is done before
        new: what the step prescribes
        rise: of the sore region's demand [1], None where it is not known
        loads: of the new lift [kg]
        over_step: whether the rise is above the step
        after_break: whether nothing was done before
    """
    reason = _reason(done, new, rise, over_step=over_step, after_break=after_break)
    if reason is None:
        return None
    one = replace(new, sets=1, days=None, reps=Reps(new.reps.low, new.reps.low))
    ramped = reason in ("untested", "after_break") or done.exercise != new.exercise
    return TrialSet(one, _warm_up(new, loads) if ramped else (), reason)


def _reason(
    done: Prescription, new: Prescription, rise: float | None, *, over_step: bool, after_break: bool
) -> TrialReason | None:
    if after_break:
        return "after_break"
    if done.exercise != new.exercise and ratio_between(done.exercise, new.exercise) is None:
        return "untested"
    if over_step:
        return "over_step"
    return "unknown_demand" if rise is None else None


def _warm_up(new: Prescription, loads: Loads) -> tuple[float, ...]:
    """Loads of the warm-up sets [kg], each the next that can be put on below its share of the tested load."""
    lightest, top = min(0.0, loads[0]), new.load
    found = []
    for share in CHOICES.return_plan.warm_up:
        index = bisect_right(loads, lightest + share * (top - lightest)) - 1
        if index >= 0 and loads[index] < top:
            found.append(loads[index])
    return tuple(dict.fromkeys(found))
