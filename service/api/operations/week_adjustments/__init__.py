"""week-adjustments: whole new weeks for a sore region, with one change where one does it."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.models.week import MOST_LIFTS
from service.api.operations.week_adjustments.chart import week_adjustments_chart
from service.api.operations.week_adjustments.examples import EXAMPLES
from service.api.operations.week_adjustments.handler import week_adjustments
from service.api.operations.week_adjustments.models import WeekAdjustments, WeekAdjustmentsAnswer
from service.api.operations.week_adjustments.report import week_adjustments_report

OF_A_WEEK: Final = 150
OF_A_LIFT: Final = 20
"""What a week costs, and each of its lifts, where several have to be changed; where one does, half of it [0.1 ms]."""
OF_A_PICTURE: Final = 100
OF_A_ROW: Final = 10
"""What is drawn costs besides, and each lift of it [0.1 ms]."""


def _cost(asked: WeekAdjustments) -> int:
    return OF_A_WEEK + len(asked.week) * OF_A_LIFT


def _picture_cost(asked: WeekAdjustments) -> int:
    return _cost(asked) + OF_A_PICTURE + len(asked.week) * OF_A_ROW


OPERATION: Final = Operation(
    name="week-adjustments",
    tag="Week",
    summary="A training week adjusted for a sore region",
    description="For a week of up to 40 lifts of which some load a region that hurts: whole new weeks, ranked, that bring what the region is asked for to the target "
    "with one change (more only where one cannot). What hurts is eased first where `hurts` names it, and the lift that leads beside it where that is not enough. Signs, circumstances and pain decide first, as in adjustments. "
    "Each option has what changes, what every region is asked for against now under three weightings of the moment and at its peak, the muscles whose sets change with their "
    "floors, and why. What a lift taken out would leave below its floor is restored without the region, and counts with it as one change. Relief is `sure` only where the region's "
    "week falls under every weighting, its whole interval included, and all that loads the region is computed; days further apart come last and cost no sets. In the red tier nothing is "
    "added, and every lift that loads the region is eased, or left out where nothing of it is sure. What is not computed is eased by direction alone, and named.",
    request=WeekAdjustments,
    answer=WeekAdjustmentsAnswer,
    compute=week_adjustments,
    report=week_adjustments_report,
    cost=OF_A_WEEK + MOST_LIFTS * OF_A_LIFT,
    cost_of=_cost,
    picture_cost=OF_A_WEEK + OF_A_PICTURE + MOST_LIFTS * (OF_A_LIFT + OF_A_ROW),
    picture_cost_of=_picture_cost,
    picture=week_adjustments_chart,
    tried=lambda answer: answer.considered,
    examples=EXAMPLES,
)
