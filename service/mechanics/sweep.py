"""How sure a demand is: every uncertain input moved on its own, and the result's interval from the deviations.

Each input goes down and up by about one standard deviation (knowledge/body, knowledge/postures.toml) and the deviations
of the result are combined by root sum of squares: the inputs are independent of each other, so that taking all extremes
at once would describe a lifter who hardly exists, and moving one at a time costs two dozen solutions, not thousands.
The one strong dependence is kept: at one stature a longer measured thigh goes with a shorter trunk, because both are
measured from the hip, so those two move in opposite directions as one input.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, radians, sin

from msgspec import Struct
from msgspec.structs import astuple, replace

from service.intervals import Interval
from service.knowledge.mechanics_data import BODY, POSTURES
from service.mechanics.body import Body
from service.mechanics.body_variants import length_spread, of_sex, with_foot
from service.mechanics.demand import JOINTS, Demand, setup_demand, solve
from service.mechanics.deviations import combined_all
from service.mechanics.moments import lumbosacral_moment
from service.mechanics.setups import (
    NO_NUDGE,
    USUAL_TECHNIQUE,
    Depth,
    Nudge,
    Setup,
    Technique,
    posture_at,
    resolve_setup,
)
from service.refusals import Refusal

INTERVAL_MEANING = (
    "one standard deviation of each uncertain input (segment lengths not measured, posture habit, balance point, bar "
    "place, lumbosacral joint and the mass above it), combined by root sum of squares"
)

_SHIN = radians(POSTURES.spread.shin_angle.value)
_SHIN_OF_EXERCISE = POSTURES.spread.shin_angle_between_exercises.value / POSTURES.spread.shin_angle.value
_BALANCE = POSTURES.spread.balance.value
_BAR = POSTURES.spread.bar_anterior.value
_ABDUCTION = radians(POSTURES.spread.abduction.value)
_LEAN = radians(POSTURES.spread.trunk_lean.value)


class Values(Struct, frozen=True, gc=False):
    """The results of one solution.

    ankle, knee, hip, lumbosacral: peak moments [N·m]; trunk_lean: at the bottom [rad]; for the spine also
    spine_lean: the lean at the lumbosacral peak [rad] and body_above: the body mass above the joint [kg].
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    trunk_lean: float
    spine_lean: float
    body_above: float


class Move(Struct, frozen=True):
    """The results with one input moved down and up."""

    low: Values
    high: Values


class Swept(Struct, frozen=True):
    """A demand with its uncertainty.

    demand: the nominal solution; values: its results; moves: by input; intervals: by joint [N·m] and of trunk_lean
    [rad]; variant: exercise and stance, which make the posture rule; incomplete: inputs that could not be moved at all
    because no balanced posture exists on either side; cautions: the demand's, and one if anything is incomplete.
    """

    demand: Demand
    values: Values
    moves: dict[str, Move]
    intervals: dict[str, Interval]
    variant: tuple[str, str]
    incomplete: tuple[str, ...]
    cautions: tuple[str, ...]


class _Case(Struct, frozen=True):
    """What every move of one sweep has in common; fixed: the bottom does not depend on the body's lengths."""

    body: Body
    demand: Demand
    depth: Depth | None
    technique: Technique
    fixed: bool
    angles: tuple[float, ...]
    places: tuple[int, ...]


def swept_demand(
    body: Body, exercise_id: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> Swept:
    """The demand of a setup and its interval over everything uncertain about lifter and posture.

    Arguments and refusals as of setup_demand.
    """
    technique = technique or USUAL_TECHNIQUE
    demand = setup_demand(body, exercise_id, load, depth, technique)
    case = _case(body, demand, depth, technique)
    nominal = _values(case, body, demand.setup, demand.lead_share)
    moves: dict[str, Move] = {}
    incomplete: list[str] = []
    for name, low, high in _moved(case, nominal):
        move = _completed(nominal, low, high)
        if move is None:
            incomplete.append(name)
        else:
            moves[name] = move
    if "shin_angle" in moves:
        habit = moves["shin_angle"]
        moves["shin_angle_of_exercise"] = Move(
            _part_of_the_way(nominal, habit.low, _SHIN_OF_EXERCISE),
            _part_of_the_way(nominal, habit.high, _SHIN_OF_EXERCISE),
        )
    spans = combined_all(astuple(nominal), [(astuple(move.low), astuple(move.high)) for move in moves.values()])
    intervals = dict(zip((*JOINTS, "trunk_lean"), spans, strict=False))
    cautions = (*demand.cautions, "interval_incomplete") if incomplete else demand.cautions
    variant = (exercise_id, technique.stance)
    return Swept(demand, nominal, moves, intervals, variant, tuple(incomplete), cautions)


def _case(body: Body, demand: Demand, depth: Depth | None, technique: Technique) -> _Case:
    bottom = demand.setup.thigh_angle
    if "hip_flexion" in demand.limited_by:
        depth = Depth(thigh_below_horizontal=-bottom)
    by_thigh = demand.family != "hinge" if depth is None else depth.thigh_below_horizontal is not None
    angles = [bottom]
    places = []
    for joint in JOINTS:
        angle = demand.peaks[joint].thigh_angle
        if angle not in angles:
            angles.append(angle)
        places.append(angles.index(angle))
    fixed = by_thigh and not technique.heel_lift and not technique.bar_forward_of_midfoot
    return _Case(body, demand, depth, technique, fixed, tuple(angles[1:]), tuple(places))


def _values(case: _Case, body: Body, setup: Setup, share: float) -> Values:
    """Results at the thigh angles of the nominal peaks; a peak at the bottom stays at the (moved) bottom."""
    found = solve(body, setup, (setup.thigh_angle, *case.angles), share)
    ankle, knee, hip, spine = case.places
    return Values(
        found[ankle][0],
        found[knee][1],
        found[hip][2],
        found[spine][3],
        found[0][4],
        found[spine][4],
        body.above_mass,
    )


def _with_body(case: _Case, body: Body) -> Values | None:
    demand = case.demand
    try:
        setup = demand.setup if case.fixed else _resolved(case, body, NO_NUDGE)
        return _values(case, body, setup, demand.lead_share)
    except Refusal:
        return None


def _with_rule(case: _Case, nudge: Nudge) -> Values | None:
    try:
        return _values(case, case.body, _resolved(case, case.body, nudge), case.demand.lead_share)
    except Refusal:
        return None


def _resolved(case: _Case, body: Body, nudge: Nudge) -> Setup:
    demand = case.demand
    return resolve_setup(body, demand.exercise, demand.load, depth=case.depth, technique=case.technique, nudge=nudge)


_Tried = tuple[str, Values | None, Values | None]


def _moved(case: _Case, nominal: Values) -> Iterator[_Tried]:
    """Every uncertain input: its name and the results with it moved down and up, None where nothing balances."""
    yield from _moved_lengths(case)
    if case.technique.shin_angle is None:
        down, up = Nudge(shin_angle=-_SHIN), Nudge(shin_angle=min(_SHIN, _room(case)))
        yield "shin_angle", _with_rule(case, down), _with_rule(case, up)
    yield "balance", _with_rule(case, Nudge(balance=-_BALANCE)), _with_rule(case, Nudge(balance=_BALANCE))
    setup = case.demand.setup
    if setup.carry.kind == "trunk":
        yield "bar_anterior", _with_rule(case, Nudge(bar_anterior=-_BAR)), _with_rule(case, Nudge(bar_anterior=_BAR))
    if setup.thigh_projection < 1.0:
        yield "abduction", _with_rule(case, Nudge(abduction=-_ABDUCTION)), _with_rule(case, Nudge(abduction=_ABDUCTION))
    if setup.family == "split":
        yield from _moved_split(case)
    yield from _moved_spine(case, nominal)


def _moved_lengths(case: _Case) -> Iterator[_Tried]:
    body = case.body
    lengths = length_spread(body.sex)
    if "shank" not in body.measured:
        shank = lengths.shank * body.shank
        yield (
            "shank",
            _with_body(case, replace(body, shank=body.shank - shank)),
            _with_body(case, replace(body, shank=body.shank + shank)),
        )
    thigh = 0.0 if "thigh" in body.measured else lengths.thigh * body.thigh
    trunk = 0.0 if "trunk" in body.measured else lengths.trunk * body.trunk
    if thigh or trunk:
        yield (
            "thigh_and_trunk",
            _with_body(case, replace(body, thigh=body.thigh - thigh, trunk=body.trunk + trunk)),
            _with_body(case, replace(body, thigh=body.thigh + thigh, trunk=body.trunk - trunk)),
        )
    if "foot" not in body.measured:
        yield (
            "foot",
            _with_body(case, with_foot(body, 1 - lengths.foot)),
            _with_body(case, with_foot(body, 1 + lengths.foot)),
        )
    if body.sex is None:
        yield "segment_table", _with_body(case, of_sex(body, "female")), _with_body(case, of_sex(body, "male"))


def _moved_split(case: _Case) -> Iterator[_Tried]:
    demand = case.demand
    share = demand.share_range
    if share is not None:
        yield (
            "lead_share",
            _values(case, case.body, demand.setup, share[0]),
            _values(case, case.body, demand.setup, share[1]),
        )
    if case.technique.trunk_lean is None:
        yield "trunk_lean", _with_rule(case, Nudge(trunk_lean=-_LEAN)), _with_rule(case, Nudge(trunk_lean=_LEAN))


def _moved_spine(case: _Case, nominal: Values) -> Iterator[_Tried]:
    """The lumbosacral joint's place and the mass above it, which move nothing but the lumbosacral moment."""
    body, demand = case.body, case.demand
    angle = demand.peaks["lumbosacral"].thigh_angle
    posture = demand.posture if angle == demand.setup.thigh_angle else posture_at(body, demand.setup, angle)
    lean = posture.trunk_lean

    def moved(other: Body) -> Values:
        joint_x = posture.hip.x + other.lumbosacral_level * other.trunk * sin(lean)
        load_arm = posture.load_point.x - joint_x
        moment = lumbosacral_moment(other, lean, demand.load, demand.setup.carry, load_arm)
        return replace(nominal, lumbosacral=moment, body_above=other.above_mass)

    level, spread = body.lumbosacral_level, BODY.spread
    error = spread.lumbosacral_level.value
    lightest = min(body.above_mass, spread.above_lumbosacral_mass_low.value * body.mass)
    heaviest = spread.above_lumbosacral_mass_high.value * body.mass
    yield (
        "lumbosacral_level",
        moved(replace(body, lumbosacral_level=level - error)),
        moved(replace(body, lumbosacral_level=level + error)),
    )
    yield "above_mass", moved(replace(body, above_mass=lightest)), moved(replace(body, above_mass=heaviest))


def _completed(nominal: Values, low: Values | None, high: Values | None) -> Move | None:
    """A move; the side on which the lifter would tip is taken as the mirror of the other."""
    if low is not None and high is not None:
        return Move(low, high)
    known = low or high
    if known is None:
        return None
    mirror = _part_of_the_way(nominal, known, -1.0)
    return Move(low or mirror, high or mirror)


def _part_of_the_way(nominal: Values, moved: Values, part: float) -> Values:
    """The results with an input moved by a part of the way, which is close enough to straight for these few degrees."""
    return Values(*(start + part * (end - start) for start, end in zip(astuple(nominal), astuple(moved), strict=True)))


def _room(case: _Case) -> float:
    """How much further forward the shin may go [rad]: a stated ankle range is not exceeded, an assumed one may be."""
    if case.technique.ankle_dorsiflexion is None:
        return inf
    setup = case.demand.setup
    return max(0.0, setup.shin_limit - setup.shin_angle)
