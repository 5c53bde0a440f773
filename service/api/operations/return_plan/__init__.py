"""return-plan: the steps from an adjusted prescription back to the original, each with its gate and its fallback."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.return_plan.chart import return_plan_chart
from service.api.operations.return_plan.examples import EXAMPLES
from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import (
    ReturnPlan,
    ReturnPlanAnswer,
)
from service.api.operations.return_plan.report import return_plan_report

ALONE: Final = 125
IN_A_WEEK: Final = 500  # each step is weighed in its week, moment by moment

OPERATION: Final = Operation(
    name="return-plan",
    tag="The main job",
    summary="The way back from an adjusted prescription to the original",
    description="The shortest way from the adjusted prescription that is done now to the original one, in steps of a week or more. One thing is raised at a time: load, depth, the lift, tempo, sets, repetitions, days; what the sore region must carry, in a repetition and in a session, rises by no more than `step` of the original's a week. Each step has its gate (pain, next morning, repetitions left, sessions in a row), the week to fall back to, and reasons to be read aloud. After two or more weeks off the first four weeks keep to 50, 70, 80 and 90 % of the normal repetitions and to at most 3, then 4 days. Where one change that cannot be avoided is larger than the step, the smallest possible is taken, said to be so (`over_step`), with a test set before it. With `week`, the lifts of the week, each step also keeps what all of them together ask of the region within `step` more than before it, by the plain sum of the moments and by that of their tenth powers (`of_week`). Any red flag ends in the decision `refer`, what a professional has to confirm first in `confirm_first`.",
    request=ReturnPlan,
    answer=ReturnPlanAnswer,
    compute=return_plan,
    report=return_plan_report,
    cost=IN_A_WEEK,
    cost_of=lambda asked: IN_A_WEEK if asked.week else ALONE,
    picture_cost=200,
    picture=return_plan_chart,
    examples=EXAMPLES,
)
