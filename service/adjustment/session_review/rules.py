"""What the response to training decides: progress, hold, step back or refer, by rules that are named.

Bands in the session, next morning against the usual pain, weekly means, missing data, progression after two good
sessions and the triggers of a professional review. Red flags outrank everything. A change below the measurement error
of the scale is noise (childs_2005); what is missing holds and never progresses. The rules with their sources are in
review_rules.toml, in the order in which they decide; the numbers are in design_choices.toml.
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.adjustment.session_review.course import (
    PAIN_DECIMALS,
    Course,
    Session,
    improvement,
    last_set_surplus,
    morning_rise,
    pain_now,
    session_band,
    weekly_rise,
)
from service.adjustment.triage import Referral, referral
from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourceId
from service.training.volume import Reps
from service.vocabulary import Band, ReviewDecision, ReviewReason

RuleId = Literal[
    "red_flag",
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
    "form_lost",
    "too_few_good_sessions",
    "reps_missing",
    "not_completed",
    "surplus_reps",
    "one_more_rep",
    "top_of_range",
    "no_small_plates",
]


class Rule(Record, frozen=True):
    """One rule of the review.

    Attributes:
        id: stable name
        decision: what it leads to
        text: its words, with places for numbers
        sources: ids of the sources
        known: how far they are known
        instead: what would lead to another decision, with places for numbers
    """

    id: RuleId
    decision: ReviewDecision
    text: str
    sources: tuple[SourceId, ...]
    known: Known
    instead: str = ""


class Verdict(msgspec.Struct, frozen=True):
    """The decision with the rules behind it.

    Attributes:
        decision: what to do next
        band: band of the last session's pain
        rules: every rule of that decision that fired, the decisive one first
        good_sessions: how many of the newest sessions in a row went well [count]
        review: why a professional should look at the course
        referral: what red flags ask for, None without any
    """

    decision: ReviewDecision
    band: Band
    rules: tuple[Rule, ...]
    good_sessions: int
    review: tuple[ReviewReason, ...]
    referral: Referral | None = None


def step_back_reasons(session: Session, usual: float | None) -> tuple[RuleId, ...]:
    """Ids of the rules by which a single session asks for a step back.

    Args:
        session: what happened in it
        usual: pain that is usual in the morning [points]
    """
    rise, morning = morning_rise(session, usual), session.pain_next_morning
    level = session_band(session)
    above = None if usual is None else round(session.pain_in_session - usual, PAIN_DECIMALS)
    fired: dict[RuleId, bool] = {
        "session_red": level == "red",
        "morning_red": morning is not None and morning > CHOICES.adjustments.amber_up_to,
        "morning_rise": rise is not None and rise >= CHOICES.adjustments.real_change,
        "swelling": session.swelling,
        "sleep_lost": session.sleep_lost,
        "new_stiffness": session.new_stiffness,
        "amber_form_lost": level == "amber" and session.form_lost,
        "amber_above_usual": level == "amber" and above is not None and above > CHOICES.review.above_usual,
    }
    return tuple(rule for rule, applies in fired.items() if applies)


def went_well(session: Session, usual: float | None) -> bool:
    """Whether a session was green, form kept, nothing after it, and the next morning at the usual pain within noise.

    Args:
        session: what happened in it
        usual: pain that is usual in the morning [points]
    """
    rise = morning_rise(session, usual)
    calm = rise is not None and rise < CHOICES.review.morning_hold
    return session_band(session) == "green" and calm and not session.form_lost and not step_back_reasons(session, usual)


def good_in_a_row(course: Course) -> int:
    """How many of the newest sessions in a row went well [count]."""
    for count, session in enumerate(reversed(course.sessions)):
        if not went_well(session, course.usual_pain):
            return count
    return len(course.sessions)


def review_reasons(course: Course) -> tuple[ReviewReason, ...]:
    """Why a professional should review: weekly mean up, no improvement over weeks, or repeated steps back.

    Pain that started in the green band has no room to improve by two points and is not judged. Without the days a
    week all sessions count as recent ones, which is the stricter reading.
    """
    rise = weekly_rise(course.weekly_pain)
    repeated = CHOICES.review.steps_back
    recent = course.sessions
    if course.days_per_week is not None:
        recent = recent[-repeated.weeks * course.days_per_week :]
    steps_back = sum(bool(step_back_reasons(session, course.usual_pain)) for session in recent)
    fired: dict[ReviewReason, bool] = {
        "weeks_up": rise is not None and rise >= CHOICES.review.weekly_rise,
        "no_improvement": _no_improvement(course),
        "steps_back": steps_back >= repeated.count,
    }
    return tuple(reason for reason, applies in fired.items() if applies)


def _no_improvement(course: Course) -> bool:
    weeks, start = course.weeks_since_start, course.pain_at_start
    if weeks is None or weeks < CHOICES.review.no_improvement.weeks:
        return False
    if start is None or start <= CHOICES.adjustments.green_up_to:
        return False
    fall = improvement(start, pain_now(course))
    return not fall.real_in_points and not fall.real_in_share


def review(course: Course, sets: int, reps: Reps) -> Verdict:
    """What the course of sessions decides for the next one.

    Args:
        course: sessions with their next mornings, weekly means and red flags
        sets: sets prescribed [count]
        reps: repetitions prescribed

    Returns:
        the decision with the rules that fired

    Source: thomee_1997, silbernagel_2007 (pain-monitoring model), childs_2005, smith_2019, baechle_earle.
    """
    last, usual = course.sessions[-1], course.usual_pain
    recent = course.sessions[-CHOICES.review.good_sessions :]
    good, rise = good_in_a_row(course), morning_rise(last, usual)
    weeks, reasons = weekly_rise(course.weekly_pain), review_reasons(course)
    reps_done = [session.reps_done for session in recent]
    surplus = [last_set_surplus(session, sets, reps) for session in recent]
    fired: dict[RuleId, bool] = {
        "red_flag": bool(course.signs),
        "weeks_up": "weeks_up" in reasons,
        **dict.fromkeys(step_back_reasons(last, usual), True),
        "review_due": bool(reasons),
        "morning_missing": last.pain_next_morning is None,
        "usual_pain_missing": last.pain_next_morning is not None and rise is None,
        "morning_up": rise is not None and rise >= CHOICES.review.morning_hold,
        "weeks_rising": weeks is not None and weeks > 0,
        "amber_stable": session_band(last) == "amber",
        "form_lost": last.form_lost,
        "too_few_good_sessions": good < CHOICES.review.good_sessions,
        "reps_missing": None in reps_done,
        "not_completed": any(done is not None and (len(done) < sets or min(done) < reps.low) for done in reps_done),
        "surplus_reps": all(more is not None and more >= CHOICES.review.surplus_reps for more in surplus),
        "one_more_rep": reps.low < reps.high,
        "top_of_range": True,
    }
    rules = [rule for rule in RULES.values() if fired.get(rule.id)]
    decisive = rules[0]
    alike = [rule for rule in rules if rule.decision == decisive.decision and rule.id not in FALLBACKS]
    return Verdict(
        decision=decisive.decision,
        band=session_band(last),
        rules=(decisive,) if decisive.decision == "progress" else tuple(dict.fromkeys([decisive, *alike])),
        good_sessions=good,
        review=reasons,
        referral=referral(course.signs),
    )


RULES: Final = read_tables("review_rules.toml", Rule)
FALLBACKS: Final = ("top_of_range", "no_small_plates")
