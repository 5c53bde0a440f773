"""The rules of a review in words: which of them decided, and what would lead to another decision."""

from __future__ import annotations

from typing import Final

from service.adjustment.session_review.course import Course
from service.adjustment.session_review.next_prescription import NextStep
from service.adjustment.session_review.rules import Rule, RuleId, Verdict, pain_of_step_back
from service.knowledge.design_choices import CHOICES
from service.messages import Message, from_facts, message
from service.messages.catalogue import CATALOGUE

FACTS: Final[dict[str, float]] = {
    "green": CHOICES.adjustments.green_up_to,
    "amber": CHOICES.adjustments.amber_up_to,
    "red": CHOICES.adjustments.red_up_to,
    "at_rest": CHOICES.adjustments.at_rest_up_to,
    "change": CHOICES.adjustments.real_change,
    "hard_set_reserve": CHOICES.effort.hard_set_reserve,
    "weekly_rise": CHOICES.review.weekly_rise,
    "weekly_hold": CHOICES.review.weekly_hold,
    "morning_hold": CHOICES.review.morning_hold,
    "above_usual": CHOICES.review.above_usual,
    "session_trend": CHOICES.review.session_trend,
    "good_sessions": CHOICES.review.good_sessions,
    "unsettled_weeks": CHOICES.review.unsettled_weeks,
    "short_sessions": CHOICES.review.short_sessions,
}
"""The numbers that the words of the rules have places for."""
_SAID_BESIDES: Final[frozenset[RuleId]] = frozenset({"review_due", "too_few_good_sessions", "week_rise"})
"""Rules that sentences of their own say: the professional's review, the good sessions in a row, what the week asks."""


def _with_facts(code: str) -> Message:
    return from_facts(code, FACTS)


def rule_words(rule: Rule) -> Message:
    """The rule in words with its numbers."""
    return _with_facts(f"rule_{rule.id}")


def reasons_of_hold(verdict: Verdict) -> list[Message]:
    """Why nothing is added, or less is done though pain is calm, so far as no other sentence of the review says it."""
    told = verdict.rules if verdict.decision == "hold" else [one for one in verdict.rules if one.id == "stays_short"]
    return [rule_words(rule) for rule in told if rule.id not in _SAID_BESIDES]


def would_change(step: NextStep, course: Course) -> list[Message]:
    """What would lead to another decision."""
    verdict = step.verdict
    words = [_with_facts(code) for rule in verdict.rules if (code := f"rule_{rule.id}_instead") in CATALOGUE]
    if verdict.decision == "refer":
        return words
    if verdict.decision == "pause_and_review":
        return [*words, message("review_would_refer")]
    if verdict.decision == "step_back":
        repeated = CHOICES.review.steps_back
        words.append(message("review_after_step_back", sessions=CHOICES.review.good_sessions))
        words.append(message("review_repeated_steps_back", count=repeated.count, weeks=repeated.weeks))
    else:
        if verdict.decision != "hold":
            words.append(_would_hold(course))
        words.append(
            message(
                "review_would_step_back",
                pain=pain_of_step_back(course),
                green=CHOICES.adjustments.green_up_to,
                change=CHOICES.adjustments.real_change,
                amber=CHOICES.adjustments.amber_up_to,
            )
        )
    return [*words, _with_facts("review_would_pause"), message("review_would_refer")]


def _would_hold(course: Course) -> Message:
    hold, green = CHOICES.review.morning_hold, CHOICES.adjustments.green_up_to
    if course.amber_may_progress:
        return message("review_would_hold_tendon", green=green, trend=CHOICES.review.session_trend, morning_hold=hold)
    if pain_of_step_back(course) <= green:
        return message("review_would_hold_morning", morning_hold=hold)
    return message("review_would_hold", green=green, morning_hold=hold)
