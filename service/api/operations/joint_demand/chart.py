"""The chart of joint-demand: side views of the setups, and their joint moments against the first as bars."""

from __future__ import annotations

from service.api.operations.joint_demand.models import JointDemand
from service.api.operations.joint_demand.solving import JOINTS, solved
from service.charts.elements.sheet import stacked
from service.charts.posture.figure import panel_for
from service.charts.posture.side_view import side_view
from service.charts.ratio_bars import Bar, BarGroup, comparison_bars
from service.errors import Refusal
from service.mechanics.uncertainty.comparison import Comparison


def joint_demand_chart(request: JointDemand) -> str:
    """Side views to scale and ratio bars as SVG text. Raises Refusal as the answer does, and where nothing is modelled."""
    solution = solved(request)
    panels = [
        panel_for(setup.request.label, solution.body, setup.demand.demand) for setup in solution.setups if setup.demand
    ]
    if not panels:
        raise Refusal.one(
            "setups", "Presses and pulls have no planar model that could be drawn.", "squats, hinges or split stances"
        )
    reference, *others = solution.setups
    compared = [(one.request.label, against) for one in others if (against := one.against(reference)) is not None]
    if not reference.demand or len(panels) == 1:
        return stacked([side_view(panels)])
    groups = [BarGroup(joint, [_bar(label, against[joint]) for label, against in compared]) for joint in JOINTS]
    bars = comparison_bars(f"Largest moments against: {reference.request.label}", groups)
    return stacked([side_view(panels), bars])


def _bar(label: str, comparison: Comparison) -> Bar:
    return Bar(label, None if comparison.ratio is None else comparison.ratio.one, comparison.difference)
