"""How much the moments and the lean change with each uncertain input, in closed form.

These are the sensitivity coefficients of the law of propagation of uncertainty (JCGM 100:2008, 5.1): the derivatives of
the statics, each times the step by which its input is moved. A test holds every one against postures solved anew. Where
the depth follows from a height or from the knee, every input also moves the bottom.
"""

from __future__ import annotations

from math import cos, sin, sqrt, tan

from msgspec import Struct

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import BAR_REFERENCE_STATURE, acts_on_trunk
from service.mechanics.body import GRAVITY
from service.mechanics.demand import JOINTS, Demand
from service.mechanics.depth import Depth
from service.mechanics.posture import shin_shape, shin_shape_slope
from service.mechanics.statics import Solution
from service.mechanics.uncertainty.depth_derivatives import Moved, condition_of_bottom, is_stated
from service.mechanics.uncertainty.derivatives import Response, Row, response_at, with_share


class Steps(Struct, frozen=True, gc=False, kw_only=True):
    """How far each input is moved; nil where it is certain or does not enter.

    shank, thigh, trunk [m], the last two together; foot: relative [1]; shin_angle [rad]; balance: of the body's own
    balance point [1]; bar_anterior: stated for a stature of 1.75 m [m]; abduction [rad]; lead_share [1]; trunk_lean
    [rad]; lumbosacral_level [1]; above_mass [kg].
    """

    shank: float = 0.0
    thigh: float = 0.0
    trunk: float = 0.0
    foot: float = 0.0
    shin_angle: float = 0.0
    balance: float = 0.0
    bar_anterior: float = 0.0
    abduction: float = 0.0
    lead_share: float = 0.0
    trunk_lean: float = 0.0
    lumbosacral_level: float = 0.0
    above_mass: float = 0.0


Rows = dict[str, Row]
"""By input: shank, thigh_and_trunk, foot, shin_angle, balance, bar_anterior, abduction, lead_share, trunk_lean,
lumbosacral_level, above_mass; only those that were moved."""


class _Shin(Struct, frozen=True, gc=False):
    """How the shin angle at one depth goes with the habit, with its limit and with the bottom's thigh angle [1]."""

    habit: float
    limit: float
    bottom: float


def deviations(demand: Demand, steps: Steps, depth: Depth | None) -> Rows:
    """The changes of the peak moments and of the lean at the bottom with each input moved up by its step.

    depth: as asked of setup_demand. A peak keeps its thigh angle; one at the bottom stays at the (moved) bottom.
    Source: JCGM 100:2008; statics.
    """
    bottom = demand.setup.thigh_angle
    shin = _shin_at_bottom(demand)
    place = _place(demand, bottom, demand.bottom, shin)
    rows = _at_this_depth(demand, steps, place)
    shifts: dict[str, float] = {}
    if not is_stated(demand, depth):
        per_depth = place.response.to(
            knee_reach=_knee_per_shin(demand, place) * shin.bottom,
            thigh_reach=-demand.statics.thigh * sin(bottom),
        )
        condition = condition_of_bottom(demand, depth, shin.bottom, per_depth)
        shin_limit = shin.limit * _limit_step(demand, steps)
        shifts = {name: condition.shift(_moved(name, steps, shin_limit), row) for name, row in rows.items()}
        rows = {name: with_share(row, per_depth, shifts[name]) for name, row in rows.items()}
    places = [demand.peaks[joint].thigh_angle for joint in JOINTS]
    if places.count(bottom) == len(places):
        return rows
    found = {bottom: rows}
    for angle in places:
        if angle not in found:
            found[angle] = _above_bottom(demand, steps, angle, shifts)
    ankle, knee, hip, spine = (found[angle] for angle in places)
    return {
        name: (ankle[name][0], knee[name][1], hip[name][2], spine[name][3], row[4], row[5])
        for name, row in rows.items()
    }


class _Place(Struct, frozen=True, gc=False):
    """One depth of a setup with its derivatives; thigh_angle [rad]; lean_sine, lean_cosine: of the trunk lean [1]."""

    thigh_angle: float
    solution: Solution
    response: Response
    shin: _Shin
    lean_sine: float
    lean_cosine: float


def _place(demand: Demand, thigh_angle: float, solution: Solution, shin: _Shin) -> _Place:
    lean = solution.trunk_lean
    return _Place(thigh_angle, solution, response_at(demand.statics, solution), shin, sin(lean), cos(lean))


def _at_this_depth(demand: Demand, steps: Steps, place: _Place) -> Rows:
    """The changes with the thigh angle held."""
    rows: Rows = {}
    _add_lengths(rows, demand, steps, place)
    _add_habits(rows, demand, steps, place)
    _add_spine(rows, demand, steps, place)
    if demand.family == "split":
        _add_split(rows, demand, steps, place)
    return rows


def _add_lengths(rows: Rows, demand: Demand, steps: Steps, place: _Place) -> None:
    """Lengths of shank, thigh, trunk and foot."""
    body, setup, statics, answer = demand.body, demand.setup, demand.statics, place.response.to
    carried = demand.load if acts_on_trunk(setup.carry) else 0.0
    if steps.shank:
        rows["shank"] = answer(knee_reach=steps.shank * sin(place.solution.shin_angle))
    if steps.thigh or steps.trunk:
        at_bar = setup.carry.kind == "trunk"
        centre = body.upper_centre_at_bar if at_bar else body.upper_centre_hanging
        upper = body.upper_mass * centre + carried
        above = body.above_mass * _above_centre(demand) + carried - demand.load_above * body.lumbosacral_level
        rows["thigh_and_trunk"] = answer(
            thigh_reach=steps.thigh * setup.thigh_projection * cos(place.thigh_angle),
            hip_moment=steps.trunk * upper * place.lean_sine,
            spine_moment=steps.trunk * above * place.lean_sine,
        )
    if steps.foot:
        # a drift of the load is a length of its own, which a longer foot leaves as it is
        drift = demand.technique.bar_forward_of_midfoot
        drifted = _support(demand) * drift * demand.load / (body.mass + demand.load)
        rows["foot"] = answer(
            ankle=steps.foot * (statics.legs.ankle - drifted),
            ankle_x=steps.foot * (body.ankle_from_heel - statics.upper.line_x + drift),
            knee_reach=_knee_per_shin(demand, place) * place.shin.limit * _limit_step(demand, steps),
        )


def _add_habits(rows: Rows, demand: Demand, steps: Steps, place: _Place) -> None:
    """What the lifter does: shin angle, balance point, place of the bar, thighs turned out."""
    body, load, answer = demand.body, demand.load, place.response.to
    if steps.shin_angle:
        rows["shin_angle"] = answer(knee_reach=steps.shin_angle * _knee_per_shin(demand, place) * place.shin.habit)
    if steps.balance:
        shift = steps.balance * body.foot
        if EXERCISE_RULES[demand.exercise].line is None:
            rows["balance"] = answer(ankle=shift * _support(demand), ankle_x=-shift)
        else:  # the load keeps to a line of its own, and only the body moves
            rows["balance"] = answer(ankle=shift * _support(demand) * body.mass / (body.mass + load))
    if steps.bar_anterior:
        across = steps.bar_anterior * load * body.stature / BAR_REFERENCE_STATURE * place.lean_cosine
        rows["bar_anterior"] = answer(hip_moment=across, spine_moment=across)
    if steps.abduction:
        outward = sqrt(1.0 - demand.setup.thigh_projection**2)
        rows["abduction"] = answer(thigh_reach=-steps.abduction * outward * body.thigh * cos(place.thigh_angle))


def _add_spine(rows: Rows, demand: Demand, steps: Steps, place: _Place) -> None:
    """The lumbosacral joint's place and the mass above it, which change nothing but the moment there."""
    lever = GRAVITY * demand.body.trunk * place.lean_sine
    if steps.lumbosacral_level:
        weight = demand.body.above_mass + demand.load_above
        rows["lumbosacral_level"] = (0.0, 0.0, 0.0, -steps.lumbosacral_level * lever * weight, 0.0, 0.0)
    if steps.above_mass:
        rows["above_mass"] = (0.0, 0.0, 0.0, steps.above_mass * lever * _above_centre(demand), 0.0, 0.0)


def _add_split(rows: Rows, demand: Demand, steps: Steps, place: _Place) -> None:
    """The lead leg's share, which changes the leg alone, and the chosen lean, which changes the spine alone."""
    solution, ankle_x = place.solution, demand.body.ankle_from_heel
    if steps.lead_share:
        support = steps.lead_share * GRAVITY * (demand.body.mass + demand.load)
        ankle = support * (demand.statics.balance_x - ankle_x)
        knee = support * (solution.knee_x - ankle_x) - ankle
        hip = support * (solution.knee_x - solution.hip_x) - knee
        rows["lead_share"] = (ankle, knee, hip, 0.0, 0.0, 0.0)
    if steps.trunk_lean:
        spine = GRAVITY * place.response.spine_per_lean * steps.trunk_lean
        rows["trunk_lean"] = (0.0, 0.0, 0.0, spine, steps.trunk_lean, 0.0)


def _support(demand: Demand) -> float:
    """Mass whose weight the computed foot or feet bear [kg]."""
    mass = demand.body.mass + demand.load
    return demand.lead_share * mass if demand.family == "split" else mass


def _above_centre(demand: Demand) -> float:
    """Centre of the mass above the lumbosacral joint, from the joint, as a fraction of hip to shoulder [1]."""
    body = demand.body
    centre = body.above_centre_at_bar if demand.setup.carry.kind == "trunk" else body.above_centre_hanging
    return centre - body.lumbosacral_level


def _knee_per_shin(demand: Demand, place: _Place) -> float:
    """How far the knee goes forward with the shin angle [m/rad]."""
    return demand.body.shank * cos(place.solution.shin_angle)


def _above_bottom(demand: Demand, steps: Steps, thigh_angle: float, shifts: dict[str, float]) -> Rows:
    """The changes at a thigh angle [rad] on the way; shifts: of the bottom, which the shin's way there depends on."""
    shin = _shin_on_the_way(demand, thigh_angle)
    place = _place(demand, thigh_angle, demand.statics.at(thigh_angle), shin)
    rows = _at_this_depth(demand, steps, place)
    if not shifts or not shin.bottom:
        return rows
    per_depth = place.response.to(knee_reach=_knee_per_shin(demand, place) * shin.bottom)
    return {name: with_share(row, per_depth, shifts[name]) for name, row in rows.items()}


def _shin_at_bottom(demand: Demand) -> _Shin:
    setup = demand.setup
    if setup.shin_angle >= setup.shin_limit:
        return _Shin(1.0, 1.0, 0.0)
    if not _follows_depth(demand):
        return _Shin(1.0, 0.0, 0.0)
    return _Shin(1.0, 0.0, setup.shin_angle / setup.shape_at_bottom * shin_shape_slope(setup.thigh_angle))


def _shin_on_the_way(demand: Demand, thigh_angle: float) -> _Shin:
    setup = demand.setup
    part = shin_shape(thigh_angle) / setup.shape_at_bottom
    if setup.shin_angle * part >= setup.shin_limit:
        return _Shin(part, 1.0, 0.0)
    if _follows_depth(demand):
        return _Shin(part, 0.0, 0.0)
    slope = -shin_shape_slope(setup.thigh_angle) / setup.shape_at_bottom
    return _Shin(part, 0.0, setup.shin_angle * part * slope)


def _follows_depth(demand: Demand) -> bool:
    return demand.family != "hinge" and demand.technique.shin_angle is None


def _limit_step(demand: Demand, steps: Steps) -> float:
    """How much the shin's limit moves [rad] because a heel lift tips a longer foot less."""
    return -steps.foot * tan(demand.setup.pitch)


def _moved(name: str, steps: Steps, shin_limit: float) -> Moved:
    """What an input does to the limbs at the bottom."""
    if name == "shank":
        return Moved(shank=steps.shank)
    if name == "thigh_and_trunk":
        return Moved(thigh=steps.thigh, trunk=steps.trunk)
    if name == "shin_angle":
        return Moved(shin=steps.shin_angle)
    return Moved(shin=shin_limit) if name == "foot" else Moved()
