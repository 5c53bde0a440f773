"""Changes of moments and lean with each uncertain input, in closed form.

These are the sensitivity coefficients of the law of propagation of uncertainty (JCGM 100:2008, 5.1): the derivatives of
the statics, each times the step by which its input is moved. Where depth follows from a box or from the knee, inputs
also move the bottom. Squats alone: the other families are solved again with each input moved.
"""

from __future__ import annotations

from math import cos, sin, tan

from msgspec import Struct

from service.mechanics.balance import BAR_REFERENCE_STATURE, acts_on_trunk
from service.mechanics.body import GRAVITY
from service.mechanics.demand import JOINTS, Demand
from service.mechanics.depth import Depth
from service.mechanics.posture import shin_shape, shin_shape_slope
from service.mechanics.statics import Solution
from service.mechanics.uncertainty.depth_derivatives import LimbChange, condition_of_bottom, is_stated
from service.mechanics.uncertainty.derivatives import (
    NIL,
    UNTURNED,
    Deviation,
    Response,
    of_spine,
    plus,
    response_at,
    times,
)
from service.mechanics.uncertainty.inputs import InputSteps
from service.mechanics.uncertainty.turning import ShinSlopes, Turns, further, turn_with_depth, turns

Deviations = dict[str, Deviation]
"""By input: shank, thigh_and_trunk, foot, shin_angle, balance, bar_anterior, hip_centres, abduction,
lumbosacral_level, above_mass, thigh_angle; only those that were moved."""


def deviations(demand: Demand, steps: InputSteps, depth: Depth | None) -> Deviations:
    """The changes of the peak moments and of the lean at the bottom with each input moved up by its step.

    A peak keeps its thigh angle; one at the bottom stays at the bottom as it moves.

    Args:
        demand: the setup solved
        steps: by input
        depth: as requested of service.mechanics.demand.setup_demand

    Source: JCGM 100:2008; statics.
    """
    bottom = demand.setup.thigh_angle
    shin = _shin_at_bottom(demand)
    point = _operating_point(demand, bottom, demand.bottom, shin)
    turned = turns(demand, steps, shin, _limit_step(demand, steps))
    at_bottom = _at_this_depth(demand, steps, point, turned)
    turn_per_depth = turn_with_depth(demand, shin)
    per_depth = point.response.to(
        shank=_knee_per_shin(demand, point) * shin.bottom,
        thigh=-demand.body.thigh * sin(bottom),
        turn=turn_per_depth,
    )
    shifts: dict[str, float] = {}
    if not is_stated(demand, depth):
        condition = condition_of_bottom(demand, depth, shin.bottom)
        shin_limit = shin.limit * _limit_step(demand, steps)
        shifts = {name: condition.shift(_limb_change(name, steps, shin_limit)) for name in at_bottom}
        at_bottom = {name: plus(deviation, per_depth, shifts[name]) for name, deviation in at_bottom.items()}
    if steps.thigh_angle:
        shifts["thigh_angle"] = steps.thigh_angle
        at_bottom["thigh_angle"] = times(per_depth, steps.thigh_angle)
    angles = [demand.peaks[joint].thigh_angle for joint in JOINTS]
    if angles.count(bottom) == len(angles):
        return at_bottom
    turned = {
        name: further(turned.get(name, UNTURNED), turn_per_depth, shifts.get(name, 0.0)) for name in turned | shifts
    }
    by_angle = {bottom: at_bottom}
    for angle in angles:
        if angle not in by_angle:
            by_angle[angle] = _above_bottom(demand, steps, angle, shifts, turned)
    ankle, knee, hip, spine = (by_angle[angle] for angle in angles)
    return {
        name: (ankle[name][0], knee[name][1], *hip[name][2:5], spine[name][5], lean)
        for name, (*_, lean) in at_bottom.items()
    }


class _OperatingPoint(Struct, frozen=True, gc=False):
    """One depth of a setup at which the statics is linearised."""

    thigh_angle: float
    solution: Solution
    response: Response
    shin: ShinSlopes
    lean_sine: float
    lean_cosine: float


def _operating_point(demand: Demand, thigh_angle: float, solution: Solution, shin: ShinSlopes) -> _OperatingPoint:
    lean = solution.trunk_lean
    body = demand.body
    knee_reach, thigh_reach = body.shank * sin(solution.shin_angle), body.thigh * cos(thigh_angle)
    response = response_at(demand.statics, solution, knee_reach, thigh_reach)
    return _OperatingPoint(thigh_angle, solution, response, shin, sin(lean), cos(lean))


def _at_this_depth(demand: Demand, steps: InputSteps, point: _OperatingPoint, turned: Turns) -> Deviations:
    """The changes with the thigh angle held, the thigh's azimuth moving as it does at the bottom."""
    by_input: Deviations = {}
    _add_lengths(by_input, demand, steps, point, turned)
    _add_habits(by_input, demand, steps, point, turned)
    _add_spine(by_input, demand, steps, point)
    return by_input


def _add_lengths(
    by_input: Deviations, demand: Demand, steps: InputSteps, point: _OperatingPoint, turned: Turns
) -> None:
    """Lengths of shank, thigh, trunk and foot, and the distance between the hip joints."""
    body, setup, statics, response = demand.body, demand.setup, demand.statics, point.response.to
    carried = demand.load if acts_on_trunk(setup.carry) else 0.0
    if steps.shank:
        by_input["shank"] = response(
            shank=steps.shank * sin(point.solution.shin_angle), turn=turned.get("shank", UNTURNED)
        )
    if steps.thigh or steps.trunk:
        at_bar = setup.carry.kind == "trunk"
        centre = body.upper_centre_at_bar if at_bar else body.upper_centre_hanging
        upper = body.upper_mass * centre + carried
        above = body.above_mass * _above_centre(demand) + carried - demand.load_above * body.lumbosacral_level
        by_input["thigh_and_trunk"] = response(
            thigh=steps.thigh * cos(point.thigh_angle),
            turn=turned.get("thigh_and_trunk", UNTURNED),
            hip_moment=steps.trunk * upper * point.lean_sine,
            spine_moment=steps.trunk * above * point.lean_sine,
        )
    if steps.foot:
        # a drift of the load is a length of its own, which a longer foot leaves as it is
        drift = demand.technique.bar_forward_of_midfoot
        foot_ahead = setup.stance.foot_ahead
        drifted = _support(demand) * drift * demand.load / (body.mass + demand.load) / foot_ahead
        by_input["foot"] = response(
            ankle=steps.foot * (statics.legs.ankle - drifted),
            ankle_x=steps.foot * (statics.ankle_x - statics.upper.line_x + drift),
            shank=_knee_per_shin(demand, point) * point.shin.limit * _limit_step(demand, steps),
            turn=turned.get("foot", UNTURNED),
        )
    if steps.hip_centres:
        by_input["hip_centres"] = response(turn=turned.get("hip_centres", UNTURNED))


def _add_habits(by_input: Deviations, demand: Demand, steps: InputSteps, point: _OperatingPoint, turned: Turns) -> None:
    """What the lifter does: shin angle, balance point, position of the bar, thighs turned out."""
    body, load, response = demand.body, demand.load, point.response.to
    if steps.shin_angle:
        by_input["shin_angle"] = response(
            shank=steps.shin_angle * _knee_per_shin(demand, point) * point.shin.habit,
            turn=turned.get("shin_angle", UNTURNED),
        )
    if steps.balance:
        shift = steps.balance * body.foot
        by_input["balance"] = response(ankle=shift * _support(demand), ankle_x=-shift * demand.setup.stance.foot_ahead)
    if steps.bar_anterior:
        across = steps.bar_anterior * load * body.stature / BAR_REFERENCE_STATURE * point.lean_cosine
        by_input["bar_anterior"] = response(hip_moment=across, spine_moment=across)
    if steps.abduction:
        by_input["abduction"] = response(turn=turned.get("abduction", UNTURNED))


def _add_spine(by_input: Deviations, demand: Demand, steps: InputSteps, point: _OperatingPoint) -> None:
    """The lumbosacral joint's position and the mass above it, which change nothing but the moment there."""
    lever = GRAVITY * demand.body.trunk * point.lean_sine
    if steps.lumbosacral_level:
        weight = demand.body.above_mass + demand.load_above
        by_input["lumbosacral_level"] = of_spine(-steps.lumbosacral_level * lever * weight)
    if steps.above_mass:
        by_input["above_mass"] = of_spine(steps.above_mass * lever * _above_centre(demand))


def _support(demand: Demand) -> float:
    """Mass whose weight the computed foot or feet bear [kg]."""
    return demand.body.mass + demand.load


def _above_centre(demand: Demand) -> float:
    """Centre of the mass above the lumbosacral joint, from the joint, as a fraction of hip to shoulder [1]."""
    body = demand.body
    centre = body.above_centre_at_bar if demand.setup.carry.kind == "trunk" else body.above_centre_hanging
    return centre - body.lumbosacral_level


def _knee_per_shin(demand: Demand, point: _OperatingPoint) -> float:
    """How far the knee goes forward with the shin angle [m/rad]."""
    return demand.body.shank * cos(point.solution.shin_angle)


def _above_bottom(
    demand: Demand, steps: InputSteps, thigh_angle: float, shifts: dict[str, float], turned: Turns
) -> Deviations:
    """The changes at a thigh angle [rad] on the way; shifts: of the bottom, which the shin's way there depends on."""
    shin = _shin_on_the_way(demand, thigh_angle)
    point = _operating_point(demand, thigh_angle, demand.statics.at(thigh_angle), shin)
    by_input = _at_this_depth(demand, steps, point, turned)
    if "thigh_angle" in shifts:
        by_input["thigh_angle"] = point.response.to(turn=turned["thigh_angle"])
    per_depth = point.response.to(shank=_knee_per_shin(demand, point) * shin.bottom) if shin.bottom else NIL
    return by_input | {name: plus(by_input[name], per_depth, shift) for name, shift in shifts.items()}


def _shin_at_bottom(demand: Demand) -> ShinSlopes:
    setup = demand.setup
    if setup.shin_angle >= setup.shin_limit:
        return ShinSlopes(1.0, 1.0, 0.0)
    if not _follows_depth(demand):
        return ShinSlopes(1.0, 0.0, 0.0)
    return ShinSlopes(1.0, 0.0, setup.shin_angle / setup.shape_at_bottom * shin_shape_slope(setup.thigh_angle))


def _shin_on_the_way(demand: Demand, thigh_angle: float) -> ShinSlopes:
    setup = demand.setup
    part = shin_shape(thigh_angle) / setup.shape_at_bottom
    if setup.shin_angle * part >= setup.shin_limit:
        return ShinSlopes(part, 1.0, 0.0)
    if _follows_depth(demand):
        return ShinSlopes(part, 0.0, 0.0)
    slope = -shin_shape_slope(setup.thigh_angle) / setup.shape_at_bottom
    return ShinSlopes(part, 0.0, setup.shin_angle * part * slope)


def _follows_depth(demand: Demand) -> bool:
    return demand.technique.shin_angle is None


def _limit_step(demand: Demand, steps: InputSteps) -> float:
    """How much the shin's limit moves [rad] because a heel lift tips a longer foot less."""
    return -steps.foot * tan(demand.setup.pitch)


def _limb_change(name: str, steps: InputSteps, shin_limit: float) -> LimbChange:
    """Direct effect of an input on the limbs at the bottom."""
    if name == "shank":
        return LimbChange(shank=steps.shank)
    if name == "thigh_and_trunk":
        return LimbChange(thigh=steps.thigh)
    if name == "shin_angle":
        return LimbChange(shin=steps.shin_angle)
    return LimbChange(shin=shin_limit) if name == "foot" else LimbChange()
