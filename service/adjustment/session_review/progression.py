"""One step on where no original is named: double progression (acsm_2009, baechle_earle), for every kind of lift.

Repetitions go up within the range, or a hold gets longer; then the load rises by the smallest step that can be loaded,
assistance first taken off. A hold then lasts as long as before, and the range begins again at its bottom: where only
the top of it is left, at the repetitions with which about as much is left in reserve as before. Where the smallest step
is a large one, the prescription is widened first, so that the step is earned and nothing is held for ever, and a hold
is shorter after it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec
from msgspec.structs import replace

from service.adjustment.loads import Rounding
from service.adjustment.prescription import Prescription, body_moved
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve
from service.training.volume import Reps

_TOLERANCE: Final = 1e-6
"""Of numbers of repetitions and of seconds: what is less than this between them comes from rounding."""


class Progress(msgspec.Struct, frozen=True):
    """One step on.

    Attributes:
        prescription: for next time
        large_rise: what the smallest step of the load adds to it where that is a large one [1]
    """

    prescription: Prescription
    large_rise: float | None = None


def progressed(
    present: Prescription,
    *,
    at_the_top: bool,
    reserve: float,
    above: Rounding,
    body_mass: float,
) -> Progress | None:
    """One step on from a prescription that was done.

    Args:
        present: what was done
        at_the_top: whether every set had the most repetitions of the range
        reserve: repetitions that were left [count]
        above: the lightest load of an exercise heavier than another one, None where there is none
        body_mass: body mass of the lifter [kg]

    Returns:
        the step; None where nothing heavier can be loaded and the prescription is as wide as it gets
    """
    if present.hold is not None and present.hold < CHOICES.review.hold.high - _TOLERANCE:
        return Progress(_held_longer(present, present.hold, CHOICES.review.hold.high))
    if present.hold is None and present.reps.low < present.reps.high and not at_the_top:
        return Progress(replace(present, reps=Reps(present.reps.low + 1, present.reps.high)))
    heavier = above(present.exercise, present.load, present.implement)
    if heavier is None:
        wider = _wider(present)
        return None if wider is None else Progress(wider)
    rise = _rise(present, heavier, body_mass)
    reps = _reps_with(present, rise, reserve)
    large = None if rise <= CHOICES.review.most_load_step + _TOLERANCE else rise
    wider = None if _is_earned(present, reps, large) else _wider(present)
    return Progress(_with_load(present, heavier, reps, large) if wider is None else wider, large)


def smaller_steps(present: Prescription, step: Prescription) -> Iterator[Prescription]:
    """Smaller steps in the place of one that is too much, the largest first: a shorter hold, or no heavier load.

    Args:
        present: what was done
        step: the step on from it
    """
    if present.hold is not None and step.hold is not None and step.hold > present.hold:
        for seconds in range(int(step.hold - present.hold), 0, -1):
            yield replace(present, hold=present.hold + seconds)
    elif step.load > present.load:
        wider = _wider(present)
        yield from () if wider is None else (wider,)


def _rise(present: Prescription, heavier: float, body_mass: float) -> float:
    """What a heavier load [kg] adds to all that is lifted [1], the body [kg] included where it is what is lifted."""
    body = body_moved(present.exercise, body_mass) or (0.0 if present.load else body_mass)
    return (heavier - present.load) / (present.load + body)


def _reps_with(present: Prescription, rise: float, reserve: float) -> int:
    """Repetitions with a load that is heavier by a share [1], with about as many left as before [count]."""
    curve = person_curve(present.exercise, 0)
    share = curve.share_at(present.reps.high + reserve) * (1 + rise)
    if share > 1:
        return 0
    return round(curve.reps_at(share) - reserve)


def _is_earned(present: Prescription, reps: int, large: float | None) -> bool:
    """Whether a heavier load may be taken: with enough repetitions, or after holds that are long enough for it."""
    if present.hold is not None:
        return large is None or present.hold >= CHOICES.review.widest.hold - _TOLERANCE
    if large is None:
        return reps >= 1
    return reps >= max(1.0, CHOICES.review.reps_share_after_large_step * present.reps.high)


def _with_load(present: Prescription, heavier: float, reps: int, large: float | None) -> Prescription:
    """A heavier load [kg] at the bottom of the range, or at the repetitions that leave as much if fewer are needed.

    reps: these repetitions [count]; large: what is added where that is much [1].
    """
    if present.hold is not None:
        hold = present.hold if large is None else min(present.hold, CHOICES.review.hold.low)
        return replace(present, load=heavier, hold=hold)
    low, high = present.reps.low, present.reps.high
    if low == high or large is not None:
        low = max(1, min(low, reps))
    return replace(present, load=heavier, reps=Reps(low, high))


def _wider(present: Prescription) -> Prescription | None:
    """The prescription with one repetition, some seconds or one set more; None where it is as wide as it gets."""
    widest, reps = CHOICES.review.widest, present.reps
    if present.hold is not None and present.hold < widest.hold - _TOLERANCE:
        return _held_longer(present, present.hold, widest.hold)
    if present.hold is None and reps.high < widest.reps:
        return replace(present, reps=Reps(reps.low, reps.high + 1))
    return replace(present, sets=present.sets + 1) if present.sets < widest.sets else None


def _held_longer(present: Prescription, hold: float, most: float) -> Prescription:
    """A longer hold [s], no longer than the most [s]."""
    return replace(present, hold=min(most, hold + CHOICES.review.hold.step))
