"""week-demand: what a training week asks of each region and gives each muscle, lift by lift and day by day."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.models.week import MOST_LIFTS
from service.api.operations.week_demand.chart import week_demand_chart
from service.api.operations.week_demand.examples import EXAMPLES
from service.api.operations.week_demand.handler import week_demand
from service.api.operations.week_demand.models import WeekDemand, WeekDemandAnswer

OF_A_LIFT: Final = 8
"""What each lift of a week costs [0.1 ms]."""
OF_A_PICTURE: Final = 40
OF_A_ROW: Final = 10
"""What is drawn costs besides, and each lift of it [0.1 ms]."""


def _cost(asked: WeekDemand) -> int:
    return len(asked.week) * OF_A_LIFT


def _picture_cost(asked: WeekDemand) -> int:
    return _cost(asked) + OF_A_PICTURE + len(asked.week) * OF_A_ROW


OPERATION: Final = Operation(
    name="week-demand",
    tag="Week",
    summary="What a training week asks of each region and gives each muscle",
    description="Up to 40 lifts of one lifter, each on its day of the week. By region: the largest moment (N·m), and what each lift and day is of the week under three "
    "weightings of the moment (as it is, squared, tenth power), since which lift leads depends on them; heavy days and the days between them, the week coming round. "
    "By muscle: fractional sets with their span and the floor of the aim. Where no moment is known, sets and repetitions stand beside and enter no share.",
    request=WeekDemand,
    answer=WeekDemandAnswer,
    compute=week_demand,
    cost=MOST_LIFTS * OF_A_LIFT,
    cost_of=_cost,
    picture_cost=OF_A_PICTURE + MOST_LIFTS * (OF_A_LIFT + OF_A_ROW),
    picture_cost_of=_picture_cost,
    picture=week_demand_chart,
    examples=EXAMPLES,
)
