"""What the response to training decides: progress, hold, step back or refer, by rules that are named.

What pain allows, next morning against the usual pain, weekly means, missing data, and the triggers of a review by a
professional. Progress rests on what was prescribed: two sessions in a row that went well, every repetition of every set
done, and as much left as was to be left. Red flags outrank everything. A change below the measurement error of the
scale is noise (childs_2005); what is missing holds and never progresses. The rules with their sources are in
review_rules.toml, in the order in which they decide; the numbers are in design_choices.toml.
"""

from __future__ import annotations

from math import floor
from typing import Final, Literal

import msgspec

from service.adjustment.prescription import Prescription
from service.adjustment.session_review.course import (
    Course,
    Session,
    improvement,
    last_judged,
    morning_rise,
    morning_stays,
    pain_now,
    session_rise,
    session_tier,
    weekly_rise,
)
from service.adjustment.session_review.shortfall import completed, stays_short
from service.adjustment.triage import PAIN_DECIMALS, Judgement, Referral, referral
from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourceId
from service.vocabulary import PAUSE_RULES, PauseRule, ReviewDecision, ReviewReason

RuleId = Literal[
    "red_flag",
    PauseRule,
    "weeks_up",
    "session_red",
    "morning_red",
    "morning_rise",
    "swelling",
    "sleep_lost",
    "new_stiffness",
    "amber_form_lost",
    "amber_above_usual",
    "review_due",
    "morning_missing",
    "usual_pain_missing",
    "morning_up",
    "weeks_rising",
    "amber_stable",
    "amber_rising",
    "form_lost",
    "too_few_good_sessions",
    "reps_missing",
    "stays_short",
    "not_completed",
    "reserve_short",
    "heaviest_reached",
    "week_not_over",
    "week_rise",
    "done_as_prescribed",
    "original_reached",
]


class Rule(Record, frozen=True):
    """One rule of the review; data/messages/review_rules.toml has its words.

    Attributes:
        id: stable name
        decision: what it leads to
        sources: ids of the sources
        known: how far they are known
    """

    id: RuleId
    decision: ReviewDecision
    sources: tuple[SourceId, ...]
    known: Known


class Verdict(msgspec.Struct, frozen=True):
    """The decision with the rules behind it.

    Attributes:
        decision: what to do next
        judgement: what the pain of the last session and its night allows; a step back is as large as the first one was
        rules: every rule of that decision that fired, the decisive one first
        good_sessions: how many of the newest sessions in a row went well [count]
        review: why a professional should look at the course
        least_left: repetitions that must be reported as left where any are reported [count]
        referral: what red flags ask for, None without any
    """

    decision: ReviewDecision
    judgement: Judgement
    rules: tuple[Rule, ...]
    good_sessions: int
    review: tuple[ReviewReason, ...]
    least_left: float
    referral: Referral | None = None


def pain_of_step_back(course: Course) -> float:
    """Pain in the session above which it asks for a step back [points]: above amber, or far above the usual.

    Args:
        course: the course that the session belongs to
    """
    most = CHOICES.adjustments.amber_up_to
    if course.usual_pain is None or course.amber_may_progress:
        return most
    return min(most, round(course.usual_pain + CHOICES.review.above_usual, PAIN_DECIMALS))


def step_back_reasons(session: Session, course: Course) -> tuple[RuleId, ...]:
    """Ids of the rules by which a single session asks for a step back.

    Args:
        session: what happened in it
        course: the course that it belongs to
    """
    usual = course.usual_pain
    rise, morning = morning_rise(session, usual), session.pain_next_morning
    level = session_tier(session)
    fired: dict[RuleId, bool] = {
        "session_red": session.pain_in_session > CHOICES.adjustments.amber_up_to,
        "morning_red": morning is not None and morning > CHOICES.adjustments.amber_up_to,
        "morning_rise": rise is not None and rise >= CHOICES.adjustments.real_change,
        "swelling": session.swelling,
        "sleep_lost": session.sleep_lost,
        "new_stiffness": session.new_stiffness,
        "amber_form_lost": level == "amber" and session.form_lost,
        "amber_above_usual": level == "amber" and session.pain_in_session > pain_of_step_back(course),
    }
    return tuple(rule for rule, applies in fired.items() if applies)


def went_well(course: Course, position: int) -> bool:
    """Whether pain was green, form kept, nothing after it, and the next morning at the usual pain within noise.

    For a tendon amber will do (thomee_1997, silbernagel_2007).

    Args:
        course: the sessions so far
        position: of the session among them, the oldest 0 [count]
    """
    session = course.sessions[position]
    rise = morning_rise(session, course.usual_pain)
    calm = rise is not None and (rise < CHOICES.review.morning_hold or morning_stays(course, position))
    level = session_tier(session)
    tolerable = level == "green" or (level == "amber" and course.amber_may_progress)
    return tolerable and calm and not session.form_lost and not step_back_reasons(session, course)


def good_in_a_row(course: Course) -> int:
    """How many of the newest sessions of the present prescription in a row went well [count]."""
    count = 0
    for position in reversed(range(len(course.sessions))):
        if course.sessions[position].earlier or not went_well(course, position):
            break
        count += 1
    return count


def review_reasons(course: Course) -> tuple[ReviewReason, ...]:
    """Why a professional should review: weekly mean up, no improvement over weeks, repeated steps back, or no calm.

    Pain that started in the green band has no room to improve by two points and is not judged. Without the days a
    week all sessions count as recent ones, and the lift as trained once a week: the stricter reading of both.
    """
    rise = weekly_rise(course.weekly_pain)
    repeated = CHOICES.review.steps_back
    recent = course.sessions
    if course.days_per_week is not None:
        recent = recent[-repeated.weeks * course.days_per_week :]
    steps_back = sum(bool(step_back_reasons(session, course)) for session in recent)
    fired: dict[ReviewReason, bool] = {
        "weeks_up": rise is not None and rise >= CHOICES.review.weekly_rise,
        "no_improvement": _no_improvement(course),
        "steps_back": steps_back >= repeated.count,
        "unsettled": _unsettled(course),
    }
    return tuple(reason for reason, applies in fired.items() if applies)


def _unsettled(course: Course) -> bool:
    """Whether no session of the last weeks went well, of those of which enough is known."""
    count = CHOICES.review.unsettled_weeks * (course.days_per_week or 1)
    everyone = range(len(course.sessions))
    recent = everyone[-count:]
    return len(recent) == count and not any(
        _unknown(course.sessions[position], course) or went_well(course, position) for position in recent
    )


def _unknown(session: Session, course: Course) -> bool:
    """Whether nothing speaks against a session but that its next morning is not known."""
    return session_tier(session) == "green" and morning_rise(session, course.usual_pain) is None


def _no_improvement(course: Course) -> bool:
    weeks, start = course.weeks_since_start, course.pain_at_start
    if weeks is None or weeks < CHOICES.review.no_improvement.weeks:
        return False
    if start is None or start <= CHOICES.adjustments.green_up_to:
        return False
    fall = improvement(start, pain_now(course))
    return not fall.real_in_points and not fall.real_in_share


def least_left(present: Prescription, original: Prescription | None) -> float:
    """Repetitions that must be reported as left where any are reported [count].

    Those prescribed, or those of the original if that leaves fewer. Whole ones, as they are reported, and no more than
    those of a hard set: further from failure reports are off by several (zourdos_2021, hackett_2017).

    Args:
        present: the prescription under review
        original: what the lifter wants back, None where none is stated
    """
    if present.reserve is None:
        return 0.0
    wanted = present.reserve if original is None else min(present.reserve, original.counted_reserve)
    return floor(min(wanted, CHOICES.effort.hard_set_reserve))


def review(course: Course, present: Prescription, original: Prescription | None = None) -> Verdict:
    """What the course of sessions decides for the next one.

    Args:
        course: sessions with their next mornings, weekly means and red flags
        present: the prescription under review
        original: what the lifter wants back, which leaves enough if it is less, None where none is stated

    Returns:
        the decision with the rules that fired

    Source: thomee_1997, silbernagel_2007 (pain-monitoring model), childs_2005, smith_2019, baechle_earle.
    """
    last = course.sessions[-1]
    good, rise = good_in_a_row(course), morning_rise(last, course.usual_pain)
    weeks, reasons = weekly_rise(course.weekly_pain), review_reasons(course)
    level, judgement, recent = session_tier(last), last_judged(course), course.recent
    enough = least_left(present, original)
    stays = morning_stays(course, len(course.sessions) - 1)
    trend = session_rise(course) >= CHOICES.review.session_trend
    fired: dict[RuleId, bool] = {
        "red_flag": bool(course.signs),
        **{rule: judgement.rule == rule for rule in PAUSE_RULES},
        "weeks_up": "weeks_up" in reasons,
        **dict.fromkeys(step_back_reasons(last, course), True),
        "review_due": bool(reasons),
        "morning_missing": last.pain_next_morning is None,
        "usual_pain_missing": last.pain_next_morning is not None and rise is None,
        "morning_up": rise is not None and rise >= CHOICES.review.morning_hold and not stays,
        "weeks_rising": weeks is not None and weeks >= CHOICES.review.weekly_hold,
        "amber_stable": level == "amber" and not course.amber_may_progress,
        "amber_rising": level == "amber" and course.amber_may_progress and trend,
        "form_lost": last.form_lost,
        "too_few_good_sessions": good < CHOICES.review.good_sessions,
        "reps_missing": any(one.reps_done is None for one in recent),
        "not_completed": any(not completed(one, present) for one in recent),
        "reserve_short": any(one.reserve is not None and one.reserve < enough for one in recent),
        "done_as_prescribed": True,
    }
    rules = [rule for rule in RULES.values() if fired.get(rule.id)]
    if rules[0].id == "not_completed" and stays_short(course, present):
        rules = [RULES["stays_short"]]
    decision = rules[0].decision
    return Verdict(
        decision=decision,
        judgement=judgement,
        rules=tuple(rule for rule in rules if rule.decision == decision),
        good_sessions=good,
        review=reasons,
        least_left=enough,
        referral=referral(course.signs, course.age),
    )


RULES: Final = read_tables("review_rules.toml", Rule)
