"""A review in plain language: what a coach can read aloud, made from the numbers, and what would change the decision."""

from __future__ import annotations

from math import isclose
from typing import Final

from service.adjustment.prescription import Prescription
from service.adjustment.session_review.course import AFTER_EFFECTS, Course, morning_rise, pain_now, weekly_rise
from service.adjustment.session_review.next_prescription import NextStep
from service.adjustment.session_review.rules import Rule
from service.adjustment.text.prescription import counted, days_words, load_words, reps_words, sets_words
from service.adjustment.text.stop import because_of, what_to_do
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.units import MassUnit
from service.vocabulary import ReviewChange, ReviewReason

EFFECTS: Final = {"swelling": "swelling", "sleep_lost": "lost sleep", "new_stiffness": "new stiffness"}
BANDS: Final = {
    "green": f"green (up to {CHOICES.adjustments.green_up_to:g})",
    "amber": f"amber (above {CHOICES.adjustments.green_up_to:g}, up to {CHOICES.adjustments.amber_up_to:g})",
    "red": f"red (above {CHOICES.adjustments.amber_up_to:g})",
}
CONFIRMATION: Final = "A licensed professional confirms that training of the region may go on."
"""What would lead to another decision where circumstances are not confirmed."""
FACTS: Final = {
    "green": f"{CHOICES.adjustments.green_up_to:g}",
    "amber": f"{CHOICES.adjustments.amber_up_to:g}",
    "change": f"{CHOICES.adjustments.real_change:g}",
    "most_load_step": f"{100 * CHOICES.review.most_load_step:g} %",
    "weekly_rise": f"{CHOICES.review.weekly_rise:g}",
    "morning_hold": f"{CHOICES.review.morning_hold:g}",
    "above_usual": f"{CHOICES.review.above_usual:g}",
    "good_sessions": f"{CHOICES.review.good_sessions}",
    "surplus_reps": f"{CHOICES.review.surplus_reps}",
}
"""The numbers that the words of the rules have places for."""


def rule_text(rule: Rule) -> str:
    """The rule's words with its numbers."""
    return rule.text.format(**FACTS)


def why(step: NextStep, course: Course, present: Prescription, region: str, unit: MassUnit) -> list[str]:
    """The reasons for a decision and the prescription that follows, in sentences."""
    last, verdict = course.sessions[-1], step.verdict
    words: list[str] = []
    if verdict.referral is not None:
        stop = verdict.referral
        words = [one.text for one in (*because_of(stop), *what_to_do(stop))]
    words.append(
        f"Pain of your {region} in the last session was {last.pain_in_session:g} of 10: {BANDS[verdict.band]}."
    )
    words.append(_morning(course))
    words += [f"After it there was {EFFECTS[effect]}." for effect in AFTER_EFFECTS if getattr(last, effect)]
    if last.form_lost:
        words.append("Form was lost in the session.")
    rise = weekly_rise(course.weekly_pain)
    if rise is not None:
        words.append(f"The weekly means went {', '.join(f'{mean:g}' for mean in course.weekly_pain)}: {_trend(rise)}.")
    if verdict.referral is not None:
        return words
    count = verdict.good_sessions
    words.append(f"Good sessions in a row: {count}; {CHOICES.review.good_sessions:g} come before anything is added.")
    if last.reps_done is not None:
        done = ", ".join(str(reps) for reps in last.reps_done)
        words.append(
            f"Repetitions done in the last session: {done}, of {counted(present.sets, 'set')} of {reps_words(present.reps)} asked."
        )
    return [*words, *_next(step, present, unit)]


def _morning(course: Course) -> str:
    last, usual = course.sessions[-1], course.usual_pain
    morning = last.pain_next_morning
    if morning is None:
        return "The next morning was not reported."
    if usual is None:
        return f"The next morning it was {morning:g}; what is usual was not stated."
    rise = morning_rise(last, usual) or 0.0
    real = f"{abs(rise):g} {'above' if rise > 0 else 'below'} it" if rise else "the same"
    if rise >= CHOICES.adjustments.real_change:
        meaning = "a real rise"
    else:
        meaning = "which can be noise" if rise >= CHOICES.review.morning_hold else "no real change"
    return f"The next morning it was {morning:g} and usually it is {usual:g}: {real}, {meaning}."


def _trend(rise: float) -> str:
    if rise <= 0:
        return "not rising"
    return f"up by {rise:g}" + (", a real rise" if rise >= CHOICES.review.weekly_rise else ", which can be noise")


def _next(step: NextStep, present: Prescription, unit: MassUnit) -> list[str]:
    new = step.work
    if new is None:
        return [
            "The prescription cannot be made smaller with what there is to load: leave this lift out and look for another exercise."
        ]
    days = f" {days_words(new.days)}" if new.days else ""
    work = f"{sets_words(new)} with {load_words(new, unit)}{days}"
    change = _change(step.changed, present, new)
    return [f"Next time: {EXERCISES[new.exercise].name}, {work}; {change}."]


def _change(changed: ReviewChange | None, present: Prescription, new: Prescription) -> str:
    exact = isclose(new.load, present.load, rel_tol=1e-6)
    if changed is None:
        return "the same again" if exact else "the same again, as near as it can be loaded"
    if changed == "load":
        percent = 100 * (new.load / present.load - 1)
        return f"the load {'rises' if percent > 0 else 'falls'} by {abs(percent):.1f} %, nothing else changes"
    if changed == "previous":
        return "back to the previous prescription"
    what = "repetition" if changed == "reps" else "set"
    fewer = new.sets < present.sets or new.reps.high < present.reps.high
    rest = "nothing else changes" if exact else "the load as near as it can be loaded"
    return f"one {what} {'fewer' if fewer else 'more'}, {rest}"


def would_change(step: NextStep) -> list[str]:
    """What would lead to another decision, in sentences."""
    verdict = step.verdict
    words = [rule.instead.format(**FACTS) for rule in verdict.rules if rule.instead]
    if verdict.decision == "refer":
        return words
    if verdict.decision == "step_back":
        words.append(f"After that, {CHOICES.review.good_sessions:g} good sessions in a row lead to the next step up.")
    else:
        if verdict.decision == "progress":
            words.append(
                f"Pain above {CHOICES.adjustments.green_up_to:g} in the session, or a next morning that is missing or {CHOICES.review.morning_hold:g} or more above the usual pain, would hold."
            )
        words.append(
            f"Pain above {CHOICES.adjustments.amber_up_to:g} in the session, a next morning {CHOICES.adjustments.real_change:g} or more above the usual pain, swelling, lost sleep or new stiffness would be a step back."
        )
    return [*words, "Any red flag would be a referral."]


def review_words(reason: ReviewReason, course: Course) -> str:
    """Why a professional should look at it."""
    if reason == "weeks_up":
        return f"The weekly mean is up by {weekly_rise(course.weekly_pain):g}, a real rise."
    if reason == "steps_back":
        repeated = CHOICES.review.steps_back
        return f"{repeated.count} or more sessions within {repeated.weeks} weeks asked for a step back."
    least, start = CHOICES.review.no_improvement, course.pain_at_start or 0.0
    return (
        f"In {course.weeks_since_start:g} weeks pain went from {start:g} to {pain_now(course):g}: "
        f"it improved by less than {least.points:g} points and less than {100 * least.share:.0f} %."
    )
