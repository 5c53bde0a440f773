"""The chart of joint-demand: views of the setups, and their joint moments against the first as bars."""

from __future__ import annotations

from typing import Final

from service.api.operations.joint_demand.models import JointDemand
from service.api.operations.joint_demand.solving import solved
from service.charts.elements.layout import Sheet, rule, sheets
from service.charts.posture.arm_geometry import arm_panel
from service.charts.posture.arm_view import arm_view
from service.charts.posture.figure import panel_for
from service.charts.posture.side_view import JOINT_NAMES, side_view
from service.charts.ratio_bars import BARS_WIDTH, Bar, BarGroup, compared_title, comparison_bars
from service.errors import Refusal
from service.mechanics.lift_demand import Joint
from service.mechanics.uncertainty.comparison import Comparison

_SHOWN: Final[tuple[Joint, ...]] = ("ankle", "knee", "hip", "lumbosacral", "shoulder", "elbow", "wrist")


def joint_demand_chart(request: JointDemand) -> list[Sheet]:
    """Views to scale and ratio bars. Raises Refusal as the answer does, and where nothing is modelled."""
    solution = solved(request)
    reference, *others = solution.setups
    legs = [
        panel_for(setup.request.label, solution.body, setup.demand.legs.demand)
        for setup in solution.setups
        if setup.demand.legs
    ]
    arms = [
        arm_panel(setup.request.label, solution.body, setup.demand.arm) for setup in solution.setups if setup.demand.arm
    ]
    views = [*([side_view(legs)] if legs else []), *([arm_view(arms)] if arms else [])]
    if not views:
        raise Refusal.one("setups", "None of these lifts has a model that could be drawn.", "lifts that are computed")
    compared = [(one.request.label, against) for one in others if (against := one.against(reference))]
    groups = [
        BarGroup(
            JOINT_NAMES.get(joint, joint),
            [_bar(label, against[joint]) for label, against in compared if joint in against],
        )
        for joint in _SHOWN
        if any(joint in against for _, against in compared)
    ]
    blocks = [block for view in views for block in (*view.blocks, rule(view.width))]
    if groups:
        blocks += comparison_bars(f"Largest moments against: {reference.request.label}", groups)
    title = compared_title("Joint moments", [setup.request.label for setup in solution.setups])
    return sheets(title, [blocks], max([*(view.width for view in views), *([BARS_WIDTH] if groups else [])]))


def _bar(label: str, comparison: Comparison) -> Bar:
    return Bar(label, None if comparison.ratio is None else comparison.ratio.one, comparison.difference)
