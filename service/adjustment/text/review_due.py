"""That a professional should look at a course of sessions, and why."""

from __future__ import annotations

from collections.abc import Sequence

from service.adjustment.session_review.course import Course, pain_now, weekly_rise
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import ReviewReason


def review_due(reasons: Sequence[ReviewReason], course: Course) -> list[Message]:
    """The reasons for a review by a professional and that it is due; nothing without any."""
    if not reasons:
        return []
    return [*(review_words(reason, course) for reason in reasons), message("rule_review_due")]


def review_words(reason: ReviewReason, course: Course) -> Message:
    """Why a professional should look at it."""
    least = CHOICES.review.no_improvement
    values: dict[ReviewReason, dict[str, float | None]] = {
        "weeks_up": {"by": weekly_rise(course.weekly_pain)},
        "steps_back": {"count": CHOICES.review.steps_back.count, "weeks": CHOICES.review.steps_back.weeks},
        "unsettled": {"weeks": CHOICES.review.unsettled_weeks},
        "no_improvement": {
            "weeks": course.weeks_since_start,
            "start": course.pain_at_start,
            "now": pain_now(course),
            "points": least.points,
            "share": least.share,
        },
    }
    return message(f"review_reason_{reason}", **values[reason])
