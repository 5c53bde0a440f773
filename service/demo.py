"""A course of care on a page: an invented lifter whose front squats hurt the low back, until she is back; her week."""

from __future__ import annotations

from typing import Any

import msgspec
from msgspec.structs import replace

from service.api.docs.course import BY_NAME, SCENARIO, Asked, Scenario, course, week_asked
from service.api.models.report import Report, Table
from service.api.reports.writing import markdown
from service.api.serialization.json import Reader


def course_page(scenario: Scenario = SCENARIO) -> str:
    """The course on a page, as the report of its first answer with the way, the sessions and her week in tables."""
    consultation, plan, *reviews = course(scenario)
    first, way, week = reported(consultation), reported(plan), reported(week_asked()[1])
    *stops, _ = first.when_to_stop
    signs = sum(len(group.signs) for group in first.signs)
    page = replace(
        first,
        title=f"A course of care: {first.title[:1].lower()}{first.title[1:]}",
        decision=f"{first.decision}; {way.decision[:1].lower()}{way.decision[1:]}",
        when_to_stop=[*stops, f"At any of the {signs} warning signs (GET /v1/signs) stop at once."],
        signs=[],
        tables=[*_of_lifter(way), _sessions(reviews), *_of_lifter(week)],
    )
    return markdown(page, "lifter")


def reported(asked: Asked) -> Report:
    """The report of a question of the course. Raises TypeError for an operation that has none."""
    operation = BY_NAME[asked.operation]
    if operation.report is None:
        raise TypeError(f"{operation.name} has no report")
    reader: Reader[Any] = Reader(operation.request)
    return operation.report(reader.read(msgspec.json.encode(asked.question)))


def _of_lifter(one: Report) -> list[Table]:
    return [table for table in one.tables if table.for_lifter]


def _sessions(reviews: list[Asked]) -> Table:
    """What came of each session, what was decided and what is done next."""
    rows = []
    for number, review in enumerate(reviews, 1):
        came, answer = review.question["sessions"][-1], review.answer
        felt = f"{came['pain_in_session']:g}, then {came.get('pain_next_morning', '–')}"
        said = [one["text"].removeprefix("Next time: ") for one in answer["why"] if one["code"] == "review_next"]
        rows.append([str(number), felt, answer["decision"].replace("_", " "), *said])
    heading = ["Session", "Pain, next morning", "Decision", "Next time"]
    return Table("The sessions as they went", heading, rows, for_lifter=True)
