"""How a lift is set up, as answers show it: depth and technique in SI as the structs of requests."""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from service.api.models.setup import Depth, Technique
from service.mechanics import setups
from service.mechanics.technique import still_seen
from service.units import Angle, Length, angle, length


def shown_depth(depth: setups.Depth | None) -> Depth | None:
    """The depth as it was stated; null for the exercise's own."""
    if depth is None:
        return None
    if depth.box_height is not None:
        return Depth(box_height=length(depth.box_height, "m"))
    if depth.knee_flexion is not None:
        return Depth(knee_flexion=angle(depth.knee_flexion, "deg"))
    if depth.above_bottom is not None:
        return Depth(above_bottom=length(depth.above_bottom, "m"))
    return Depth(thigh_below_horizontal=angle(depth.thigh_below_horizontal or 0.0, "deg"))


def shown_technique(technique: setups.Technique | None, depth: setups.Depth | None) -> Technique | None:
    """What is done otherwise than usual; null where nothing is. The lifter's own limits stay with the lifter.

    What was seen is shown as long as it is still so.
    """
    if technique is None:
        return None
    seen = still_seen(technique, depth)
    differences = Technique(
        heel_lift=length(technique.heel_lift, "m") if technique.heel_lift else UNSET,
        stance=technique.stance,
        stance_width=_length(technique.stance_width),
        toe_out=_angle(technique.toe_out),
        knee_over_toe=UNSET if technique.knee_over_toe else False,
        shin_angle=_angle(technique.shin_angle if seen is None else seen.shin_angle),
        trunk_lean=_angle(technique.trunk_lean if seen is None else seen.trunk_lean),
        thigh_angle=UNSET if seen is None else _angle(seen.thigh_angle),
        seen_by=UNSET if seen is None or seen.by is None else seen.by,
        bar_forward_of_midfoot=length(technique.bar_forward_of_midfoot, "m")
        if technique.bar_forward_of_midfoot
        else UNSET,
        foot_spacing=_length(technique.foot_spacing),
        grip_width=_length(technique.grip_width),
        shoulder_abduction=_angle(technique.shoulder_abduction),
        bench_angle=_angle(technique.bench_angle),
        wrist_bend=_angle(technique.wrist_bend),
        bounce=technique.bounce or UNSET,
    )
    return None if differences == Technique() else differences


def _angle(value: float | None) -> Angle | UnsetType:
    return UNSET if value is None else angle(value, "deg")


def _length(value: float | None) -> Length | UnsetType:
    return UNSET if value is None else length(value, "m")
