"""The week around one lift: as requests state it, and what a step makes of it as answers show it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

from msgspec import Meta

from service.adjustment.week.rise import WeekAround, WeekRatio, week_around
from service.api.models.base import ResponseModel
from service.api.models.lifter import Lifter, body_of
from service.api.models.prescription import Prescription, lifters_prescription
from service.api.models.week import MOST_LIFTS, PlannedSession, asked_of_week, planned_lifts
from service.messages import Message, message
from service.vocabulary import Region, Weighting

WeekOfLift = Annotated[list[PlannedSession], Meta(max_length=MOST_LIFTS)]


class LeadingLift(ResponseModel, kw_only=True, frozen=True):
    """The lift that carries most of the sore region's week.

    Attributes:
        exercise: Id of the exercise.
        weighting: The weighting that rises more, under which it leads.
        share: Its share of the region's week under that weighting.
    """

    exercise: str
    weighting: Weighting
    share: float


class WeekRatioAnswer(ResponseModel, kw_only=True, frozen=True):
    """What the whole week asks of the sore region with a step, against what it asks before it: 1.1 is a tenth more.

    Attributes:
        linear: By the sum over repetitions of the peak moment at rest.
        tenth_power: By the tenth root of the sum of its tenth powers.
        leading: The lift that carries most of it.
    """

    linear: float
    tenth_power: float
    leading: LeadingLift


def week_ratio_answer(ratio: WeekRatio) -> WeekRatioAnswer:
    """A week against the one before it as answers show it."""
    leading = ratio.leading
    return WeekRatioAnswer(
        linear=round(ratio.linear, 4),
        tenth_power=round(ratio.tenth_power, 4),
        leading=LeadingLift(exercise=leading.exercise, weighting=leading.weighting, share=round(leading.share, 4)),
    )


def cautions_of_week(week: WeekAround, *, known: bool) -> list[str | Message]:
    """What a reader of a step in its week has to know; known: whether every step is held to the week."""
    region, lifts, otherwise = week.region, list(week.left_out), list(week.otherwise)
    return [
        "week_one_change",
        *([message("week_lift_otherwise", lifts=otherwise)] if otherwise else []),
        *([message("week_lifts_left_out", region=region, lifts=lifts)] if lifts else []),
        *([] if known else [message("week_not_bounded", region=region)]),
    ]


def week_of_lift(
    week: list[PlannedSession], lifter: Lifter, region: Region, own: Iterable[Prescription | None]
) -> WeekAround | None:
    """The week around one lift, None where none is stated.

    own: what is to be done again in the lift, what is done now and what was done before. Raises Refusal with pointers under /week.
    """
    if not week:
        return None
    lifts, body = planned_lifts(week, lifter), body_of(lifter)
    asked = asked_of_week(body, lifts, week, lifter)
    names = [lifters_prescription(one, lifter, as_basis=False) for one in own if one is not None]
    return week_around(body, region, lifts, asked, names)
