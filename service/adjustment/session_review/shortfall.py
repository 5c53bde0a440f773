"""Work that stays short of what was prescribed while pain is calm: what a coach does then is our own choice.

After some such sessions running the load comes down to what the repetitions that were done say can be done in full;
where nothing lighter can be loaded, or sets alone were missed, there is as much as was done.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import Final

from msgspec.structs import replace

from service.adjustment.loads import Rounding
from service.adjustment.prescription import Prescription, body_moved
from service.adjustment.session_review.course import Course, Session
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve
from service.training.volume import Reps

_WAITED: Final = CHOICES.review.short_sessions
_LIGHTER: Final = 1e-6
"""Difference by which a load is lighter at the least [kg]."""


def completed(session: Session, present: Prescription) -> bool:
    """Whether every set was done within the range of repetitions, of those that are known."""
    done = session.reps_done
    return done is None or (len(done) >= present.sets and min(done) >= present.reps.low)


def stays_short(course: Course, present: Prescription) -> bool:
    """Whether the newest sessions of a prescription all stayed short of it, as many as are waited for."""
    return _all_short(course.of_present, present)


def stayed_short_before(course: Course, present: Prescription) -> bool:
    """Whether the sessions before the present prescription stayed short of the repetitions that it still has.

    One with no set as long as that was of fewer repetitions, and not short of these.
    """
    before = [one for one in course.sessions if one.earlier]
    reached = all(one.reps_done is not None and max(one.reps_done) >= present.reps.low for one in before[-_WAITED:])
    return reached and _all_short(before, replace(present, sets=1))


def _all_short(sessions: Sequence[Session], present: Prescription) -> bool:
    newest = sessions[-_WAITED:]
    return len(newest) == _WAITED and all(one.reps_done is not None and not completed(one, present) for one in newest)


def doable(course: Course, present: Prescription, left: float, down: Rounding, body_mass: float) -> Prescription | None:
    """What can be done in full, by the best of the sessions that stayed short.

    Args:
        course: the sessions
        present: what was prescribed
        left: repetitions that are to be left [count]
        down: the heaviest load of an exercise not above another one, None where there is none
        body_mass: body mass of the lifter [kg]

    Returns:
        less of the present prescription; None where there is nothing less
    """
    done = [one.reps_done for one in course.of_present[-_WAITED:] if one.reps_done is not None]
    sets, reps = max(map(len, done)), max(map(min, done))
    if sets < present.sets and reps >= present.reps.low:
        return replace(present, sets=sets)
    if present.hold is not None:
        step = CHOICES.review.hold.step
        shorter = step * (floor(present.hold / step + _LIGHTER) - 1)
        return replace(present, hold=shorter) if shorter > 0 else None
    curve, body = person_curve(present.exercise, 0), body_moved(present.exercise, body_mass)
    share = min(1.0, curve.share_at(present.reps.low + left) / curve.share_at(max(1, reps)))
    most = min(share * (present.load + body) - body, present.load - _LIGHTER)
    lighter = down(present.exercise, most, present.implement)
    if lighter is not None and lighter < present.load:
        return replace(present, load=lighter)
    if reps >= present.reps.low or present.reps.high == 1:
        return None
    return replace(present, reps=Reps(max(1, reps), max(1, reps)))
