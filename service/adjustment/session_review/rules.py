"""What the response to training decides: progress, hold, step back or refer, by rules that are named.

Bands in the session, next morning against the usual pain, weekly means, missing data, progression after two good
sessions and the triggers of a professional review. Red flags outrank everything. A change below the measurement error
of the scale is noise (childs_2005); what is missing holds and never progresses. The rules with their sources are in
review_rules.toml, in the order in which they decide; the numbers are in design_choices.toml.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from service.adjustment.triage import CHOICE as BANDS
from service.adjustment.triage import Pain, Referral, band, referral
from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourceId
from service.training.volume import Reps
from service.vocabulary import Band, ReviewDecision, ReviewReason

CHOICE: Final = CHOICES.review
AFTER_EFFECTS: Final = ("swelling", "sleep_lost", "new_stiffness")
FORGIVEN: Final = 9  # decimals kept of a difference of pain scores, so that 2.3 to 4.3 is a rise of 2


class Rule(Record, frozen=True):
    """One rule: what it leads to, its words and what would change it, with places for numbers; where it is from."""

    id: str
    decision: ReviewDecision
    text: str
    sources: tuple[SourceId, ...]
    known: Known
    instead: str = ""


class Session(msgspec.Struct, frozen=True):
    """One session and its night: pain from 0 to 10, what was seen, repetitions done by set; None where not stated."""

    pain_in_session: float
    pain_next_morning: float | None = None
    swelling: bool = False
    sleep_lost: bool = False
    new_stiffness: bool = False
    form_lost: bool = False
    reps_done: tuple[int, ...] | None = None


class Course(msgspec.Struct, frozen=True):
    """The response so far: sessions and weekly means [0 to 10], both oldest first, and what is known around them."""

    sessions: tuple[Session, ...]
    usual_pain: float | None = None
    weekly_pain: tuple[float, ...] = ()
    weeks_since_start: float | None = None
    pain_at_start: float | None = None
    days_per_week: int | None = None
    signs: tuple[str, ...] = ()


class Verdict(msgspec.Struct, frozen=True):
    """The decision with every rule of that decision that fired, the decisive one first.

    light: of the last session; good_sessions: how many of the newest in a row went well; review: why a professional
    should look at it; referral: what red flags ask for.
    """

    decision: ReviewDecision
    light: Band
    rules: tuple[Rule, ...]
    good_sessions: int
    review: tuple[ReviewReason, ...]
    referral: Referral | None = None


class Improvement(msgspec.Struct, frozen=True):
    """Fall of pain from the start, in points and as a share of that at the start, and whether each is a real one."""

    points: float
    share: float
    real_in_points: bool
    real_in_share: bool


def light(session: Session) -> Band:
    """Light of a session, by the worst pain in its working sets alone (thomee_1997)."""
    return band(Pain(session.pain_in_session))


def morning_rise(session: Session, usual: float | None) -> float | None:
    """Pain next morning above the usual pain; None where it cannot be told.

    A morning below what holds is no rise whatever the usual pain is.
    """
    if session.pain_next_morning is None:
        return None
    if usual is None:
        return 0.0 if session.pain_next_morning < CHOICE.morning_hold else None
    return round(session.pain_next_morning - usual, FORGIVEN)


def weekly_rise(means: Sequence[float]) -> float | None:
    """Rise of the last weekly mean over the week before or over the first, whichever is more; None below two weeks."""
    return round(means[-1] - min(means[0], means[-2]), FORGIVEN) if len(means) > 1 else None


def improvement(start: float, now: float) -> Improvement:
    """Improvement of pain from `start` to `now` [0 to 10] (childs_2005: 2 points; farrar_2001: 2 points or 30 %)."""
    least = CHOICE.no_improvement
    points = round(start - now, FORGIVEN)
    share = round(points / start, FORGIVEN) if start > 0 else 0.0
    return Improvement(points, share, points >= least.points, share >= least.share)


def step_back_reasons(session: Session, usual: float | None) -> tuple[str, ...]:
    """Ids of the rules by which a single session asks for a step back."""
    rise, morning = morning_rise(session, usual), session.pain_next_morning
    level = light(session)
    above = None if usual is None else round(session.pain_in_session - usual, FORGIVEN)
    fired = {
        "session_red": level == "red",
        "morning_red": morning is not None and morning > BANDS.amber_up_to,
        "morning_rise": rise is not None and rise >= BANDS.real_change,
        **{effect: bool(getattr(session, effect)) for effect in AFTER_EFFECTS},
        "amber_form_lost": level == "amber" and session.form_lost,
        "amber_above_usual": level == "amber" and above is not None and above > CHOICE.above_usual,
    }
    return tuple(rule for rule, applies in fired.items() if applies)


def went_well(session: Session, usual: float | None) -> bool:
    """Whether a session was green, form kept, nothing after it, and the next morning at the usual pain within noise."""
    rise = morning_rise(session, usual)
    calm = rise is not None and rise < CHOICE.morning_hold
    return light(session) == "green" and calm and not session.form_lost and not step_back_reasons(session, usual)


def good_in_a_row(course: Course) -> int:
    """How many of the newest sessions in a row went well."""
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
    repeated = CHOICE.steps_back
    recent = course.sessions
    if course.days_per_week is not None:
        recent = recent[-repeated.weeks * course.days_per_week :]
    back = sum(bool(step_back_reasons(session, course.usual_pain)) for session in recent)
    fired: dict[ReviewReason, bool] = {
        "weeks_up": rise is not None and rise >= CHOICE.weekly_rise,
        "no_improvement": _no_improvement(course),
        "steps_back": back >= repeated.count,
    }
    return tuple(reason for reason, applies in fired.items() if applies)


def _no_improvement(course: Course) -> bool:
    weeks, start = course.weeks_since_start, course.pain_at_start
    if weeks is None or start is None or weeks < CHOICE.no_improvement.weeks or start <= BANDS.green_up_to:
        return False
    found = improvement(start, pain_now(course))
    return not found.real_in_points and not found.real_in_share


def pain_now(course: Course) -> float:
    """Pain now [0 to 10]: the last weekly mean, or else that in the last session."""
    return course.weekly_pain[-1] if course.weekly_pain else course.sessions[-1].pain_in_session


def last_set_surplus(session: Session, sets: int, reps: Reps) -> int | None:
    """Repetitions over the top of the range in the last of the sets; None where not all sets are known."""
    if session.reps_done is None or len(session.reps_done) < sets:
        return None
    return session.reps_done[-1] - reps.high


def review(course: Course, sets: int, reps: Reps) -> Verdict:
    """What the course of sessions decides for the next one.

    Args:
        course: sessions with their next mornings, weekly means and red flags; pain from 0 to 10
        sets: sets prescribed
        reps: repetitions prescribed

    Returns:
        the decision with the rules that fired

    Source: thomee_1997, silbernagel_2007 (pain-monitoring model), childs_2005, smith_2019, baechle_earle.

    """
    last, usual = course.sessions[-1], course.usual_pain
    recent = course.sessions[-CHOICE.good_sessions :]
    good, rise = good_in_a_row(course), morning_rise(last, usual)
    weeks, reasons = weekly_rise(course.weekly_pain), review_reasons(course)
    done = [session.reps_done for session in recent]
    surplus = [last_set_surplus(session, sets, reps) for session in recent]
    fired = {
        "red_flag": bool(course.signs),
        "weeks_up": "weeks_up" in reasons,
        **dict.fromkeys(step_back_reasons(last, usual), True),
        "review_due": bool(reasons),
        "morning_missing": last.pain_next_morning is None,
        "usual_pain_missing": last.pain_next_morning is not None and rise is None,
        "morning_up": rise is not None and rise >= CHOICE.morning_hold,
        "weeks_rising": weeks is not None and weeks > 0,
        "amber_stable": light(last) == "amber",
        "form_lost": last.form_lost,
        "too_few_good_sessions": good < CHOICE.good_sessions,
        "reps_missing": any(one is None for one in done),
        "not_completed": any(one is not None and (len(one) < sets or min(one) < reps.low) for one in done),
        "surplus_reps": all(more is not None and more >= CHOICE.surplus_reps for more in surplus),
        "one_more_rep": reps.low < reps.high,
        "top_of_range": True,
    }
    rules = [rule for name, rule in RULES.items() if fired.get(name)]
    decisive = rules[0]
    told = [rule for rule in rules if rule.decision == decisive.decision] if decisive.decision != "progress" else []
    return Verdict(
        decision=decisive.decision,
        light=light(last),
        rules=tuple(dict.fromkeys([decisive, *(rule for rule in told if rule.id not in FALLBACKS)])),
        good_sessions=good,
        review=reasons,
        referral=referral(course.signs),
    )


def rule_facts() -> dict[str, str]:
    """The numbers that the words of the rules have places for."""
    return {
        "green": f"{BANDS.green_up_to:g}",
        "amber": f"{BANDS.amber_up_to:g}",
        "change": f"{BANDS.real_change:g}",
        "most_load_step": f"{100 * CHOICE.most_load_step:g} %",
        "weekly_rise": f"{CHOICE.weekly_rise:g}",
        "morning_hold": f"{CHOICE.morning_hold:g}",
        "above_usual": f"{CHOICE.above_usual:g}",
        "good_sessions": f"{CHOICE.good_sessions}",
        "surplus_reps": f"{CHOICE.surplus_reps}",
    }


RULES: Final = read_tables("review_rules.toml", Rule)
FALLBACKS: Final = ("top_of_range", "no_small_plates")
