"""adjustments, the main job: ranked adjusted prescriptions for a sore region, with what each costs and saves."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Operation
from service.api.operations.adjustments.chart import adjustments_chart
from service.api.operations.adjustments.examples import EXAMPLES
from service.api.operations.adjustments.handler import adjustments
from service.api.operations.adjustments.models import (
    Adjustments,
    AdjustmentsAnswer,
)
from service.api.operations.adjustments.report import adjustments_report

OPERATION: Final = Operation(
    name="adjustments",
    tag="The main job",
    summary="Adjusted prescriptions for a sore region",
    description="For a squat, hinge, split squat, press or pull that hurts: the smallest changes that bring the sore region's demand to the target and keep "
    "the training effect, ranked, with the demand of every region (ratio to the present prescription), the stimulus kept, what was considered and why the "
    "rest fell. Loads in kg or lb, answered in the unit asked about and rounded down to what the bar can hold. Any red flag ends in the decision `refer`, "
    "which is an answer and not an error; what a professional has to confirm first (an age under 18, pregnancy, osteoporosis, an operation) in `confirm_first`. "
    "The highest pain in the session, at rest and the next morning decides how much may be asked (`tier`): up to 2 of 10 `no_change_needed`; above 2 to 5 options; above 5 to 7 stop "
    "the lift for today, and from the next session the same lift with load off where relief is sure, or nothing of it; above 7, above 5 at rest, or above 5 again "
    "(`after_adjustment`) `pause_and_review`: nothing for the region, `meanwhile` what does not load it, when to look again and when a professional has to. Levers: load, reps, tempo, sets, rest, days, range of motion, technique, "
    "equipment, variation, exercise. Presses and pulls have no planar model: there most is a direction and not a number, and said to be so.",
    request=Adjustments,
    answer=AdjustmentsAnswer,
    compute=adjustments,
    report=adjustments_report,
    cost=50,
    picture_cost=200,
    tried=lambda answer: answer.considered,
    leading="prescription",
    picture=adjustments_chart,
    examples=EXAMPLES,
)
