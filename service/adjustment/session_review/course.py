"""The response to training so far: sessions with their nights, weekly means, and what they come to in points."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from service.adjustment.triage import PAIN_DECIMALS, Judgement, Pain, is_above_amber, judged
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Aim, Tier

AFTER_EFFECTS: Final = ("swelling", "sleep_lost", "new_stiffness")


class Session(msgspec.Struct, frozen=True):
    """One session and its night; None where not stated.

    Attributes:
        pain_in_session: worst pain in the working sets, from 0 to 10 [points]
        pain_next_morning: pain the next morning, from 0 to 10 [points]
        pain_at_rest: pain at rest since, from 0 to 10 [points]
        swelling: whether there was swelling after it
        sleep_lost: whether sleep was lost after it
        new_stiffness: whether there was new stiffness after it
        form_lost: whether form was lost in it
        reps_done: repetitions of each set, or its holds that lasted their full time [count]
        reserve: repetitions left after the hardest set [count]
        earlier: whether another prescription was done in it, before the present one
    """

    pain_in_session: float
    pain_next_morning: float | None = None
    pain_at_rest: float | None = None
    swelling: bool = False
    sleep_lost: bool = False
    new_stiffness: bool = False
    form_lost: bool = False
    reps_done: tuple[int, ...] | None = None
    reserve: float | None = None
    earlier: bool = False


class Course(msgspec.Struct, frozen=True):
    """The response so far; None where not stated.

    Attributes:
        sessions: oldest first
        usual_pain: pain that is usual in the morning, from 0 to 10 [points]
        weekly_pain: mean pain of each week, oldest first, from 0 to 10 [points]
        weeks_since_start: time since the plan began [weeks]
        pain_at_start: pain when it began, from 0 to 10 [points]
        days_per_week: training days a week [count]
        signs: ids of the red flags reported
        age: age of the lifter [years]
        aim: what the lifter trains for
    """

    sessions: tuple[Session, ...]
    usual_pain: float | None = None
    weekly_pain: tuple[float, ...] = ()
    weeks_since_start: float | None = None
    pain_at_start: float | None = None
    days_per_week: int | None = None
    signs: tuple[str, ...] = ()
    age: float | None = None
    aim: Aim | None = None

    @property
    def of_present(self) -> tuple[Session, ...]:
        """The sessions of the present prescription."""
        return tuple(one for one in self.sessions if not one.earlier)

    @property
    def recent(self) -> tuple[Session, ...]:
        """The newest sessions of the present prescription, as many as must go well before anything is added."""
        return self.of_present[-CHOICES.review.good_sessions :]

    @property
    def amber_may_progress(self) -> bool:
        """Whether pain in the amber tier that is stable is no reason to wait (thomee_1997, silbernagel_2007)."""
        return self.aim == "tendon"


class Improvement(msgspec.Struct, frozen=True):
    """Fall of pain from the start.

    Attributes:
        points: fall of the score [points]
        share: of the score at the start [1]
        real_in_points: whether the fall in points is beyond noise
        real_in_share: whether the fall as a share is
    """

    points: float
    share: float
    real_in_points: bool
    real_in_share: bool


def pain_of(session: Session, usual: float | None) -> Pain:
    """The pain of a session and its night.

    Args:
        session: the session
        usual: pain that is usual in the morning [points], None where not stated
    """
    return Pain(session.pain_in_session, session.pain_next_morning, usual, session.pain_at_rest)


def last_judged(course: Course) -> Judgement:
    """What the pain of the last session and its night allows; above 5 in the one before too is a reason of its own."""
    *before, last = (pain_of(session, course.usual_pain) for session in course.sessions)
    return judged(last, after_adjustment=bool(before) and is_above_amber(before[-1]))


def session_tier(session: Session) -> Tier:
    """Tier of a session without its night, which is held against the usual pain by rules of its own (thomee_1997)."""
    return judged(Pain(session.pain_in_session, at_rest=session.pain_at_rest)).tier


def morning_rise(session: Session, usual: float | None) -> float | None:
    """Pain next morning above the usual pain; a morning below what holds is no rise whatever the usual pain is.

    Args:
        session: the session
        usual: pain that is usual in the morning [points], None where not stated

    Returns:
        rise [points], None where it is not known
    """
    if session.pain_next_morning is None:
        return None
    if usual is None:
        return 0.0 if session.pain_next_morning < CHOICES.review.morning_hold else None
    return round(session.pain_next_morning - usual, PAIN_DECIMALS)


def morning_stays(course: Course, position: int) -> bool:
    """Whether a next morning somewhat above the usual pain is no rise: green, and as high shortly before.

    A report moves by less than a real change of itself, and in whole points by no less than one (childs_2005). After a
    morning whose rise was a real one the next is held against the usual pain alone.

    Args:
        course: the sessions so far
        position: of the session among them, the oldest 0 [count]
    """
    morning, rise = (one := course.sessions[position]).pain_next_morning, morning_rise(one, course.usual_pain)
    if morning is None or rise is None or morning > CHOICES.adjustments.green_up_to:
        return False
    before = course.sessions[max(0, position - CHOICES.review.good_sessions) : position]
    rises = [was for one in before if (was := morning_rise(one, course.usual_pain)) is not None]
    return any(rise <= was < CHOICES.adjustments.real_change for was in rises)


def session_rise(course: Course) -> float:
    """Rise of the pain in the last session over the one before or over the first, whichever is more.

    Args:
        course: the sessions so far

    Returns:
        rise [points], negative where the pain fell
    """
    felt = [session.pain_in_session for session in course.sessions]
    return round(felt[-1] - min(felt[0], felt[-2 if felt[1:] else -1]), PAIN_DECIMALS)


def weekly_rise(means: Sequence[float]) -> float | None:
    """Rise of the last weekly mean over the week before or over the first, whichever is more.

    Args:
        means: mean pain of each week, oldest first [points]

    Returns:
        rise [points], None below two weeks
    """
    return round(means[-1] - min(means[0], means[-2]), PAIN_DECIMALS) if len(means) > 1 else None


def improvement(start: float, now: float) -> Improvement:
    """Improvement of pain.

    Args:
        start: pain at the start, from 0 to 10 [points]
        now: pain now, from 0 to 10 [points]

    Source: childs_2005 (2 points), farrar_2001 (2 points or 30 %).
    """
    least = CHOICES.review.no_improvement
    points = round(start - now, PAIN_DECIMALS)
    share = round(points / start, PAIN_DECIMALS) if start > 0 else 0.0
    return Improvement(points, share, points >= least.points, share >= least.share)


def pain_now(course: Course) -> float:
    """Pain now, from 0 to 10 [points]: the last weekly mean, or else that in the last session."""
    return course.weekly_pain[-1] if course.weekly_pain else course.sessions[-1].pain_in_session
