"""The report of a review: what to do next time, what was reported, and what would change it."""

from __future__ import annotations

from typing import Final

from service.adjustment.text.decision import STOPS_TODAY
from service.adjustment.text.watch import what_to_watch
from service.api.models.report import Report, Table
from service.api.operations.session_review.handler import session_review
from service.api.operations.session_review.models import SessionReview, SessionReviewAnswer
from service.api.reports.parts import (
    basis_lines,
    headline,
    lifters_cautions,
    meanwhile_lines,
    percent,
    sentence,
    signs_of,
    source_names,
    stop_lines,
    stopped,
    texts,
    words,
)
from service.messages import spoken

_NEXT: Final = frozenset({"review_next", "review_same", "review_same_as_loadable"})
"""Sentences that say what to do next time."""
_LEFT_OUT: Final = frozenset({"nothing_sure_of_the_lift", "review_no_smaller", "lighter_bar_may_do"})
"""Those that say that the lift is left out."""


def session_review_report(request: SessionReview) -> Report:
    """The review for people. Raises Refusal as the answer does."""
    return report_of(request, session_review(request))


def report_of(request: SessionReview, answer: SessionReviewAnswer) -> Report:
    """The report of an answer."""
    region = request.region
    title = words("about_review", exercise=request.prescription.exercise, region=region)
    halted = stopped(title, region, answer, request.circumstances, pausable=answer)
    if halted is not None:
        return halted
    professional = answer.professional_review
    today = [one for one in answer.why if one.code in STOPS_TODAY]
    do = [
        *today,
        *([] if professional is None else [professional.what_to_do]),
        *([] if answer.test_first is None else answer.test_first.text),
        *(one for one in answer.why if one.code in _NEXT | _LEFT_OUT),
    ]
    said = {*texts(do)}
    reasons = [] if professional is None else texts(professional.reasons)
    rules = [answer.rule, *answer.other_rules]
    return Report(
        title=title,
        decision=headline("left_out" if answer.next is None else "stop_today" if today else answer.decision),
        stop=answer.next is None or bool(today) or professional is not None,
        what_to_do=texts(do),
        when_to_stop=stop_lines(region),
        why=[*reasons, *(one for one in texts(answer.why) if one not in said and one not in reasons)],
        watch=texts(what_to_watch()),
        next_time=texts(answer.would_change),
        signs=signs_of(region, request.circumstances),
        meanwhile=meanwhile_lines(answer.meanwhile),
        tables=_tables(request, answer),
        basis=[
            *(sentence(one.message.text) for one in rules if one.message not in answer.why),
            *basis_lines(answer.basis),
        ],
        sources=source_names([*(source for one in rules for source in one.sources), *answer.basis.sources]),
        cautions=texts(answer.cautions),
        lifters_cautions=lifters_cautions(answer.cautions),
    )


def _tables(request: SessionReview, answer: SessionReviewAnswer) -> list[Table]:
    rows = [
        [str(number), *(_points(getattr(one, name, None)) for name in ("pain_in_session", "pain_next_morning"))]
        for number, one in enumerate(request.sessions, 1)
    ]
    sessions = Table(
        words("table_sessions"),
        [words("table_session"), words("table_pain_in_it"), words("heading_next_morning")],
        rows,
    )
    week = answer.of_week
    if not week:
        return [sessions]
    ratios = [percent(getattr(week, name)) for name in ("linear", "tenth_power")]
    return [
        sessions,
        Table(
            words("table_week_with_step"),
            [words("table_all_added_up"), words("table_tenth_power")],
            [ratios],
        ),
    ]


def _points(value: object) -> str:
    return spoken().kinds["number"].writer("")(value) if isinstance(value, float | int) else "–"
