"""Propagation of uncertainty to a demand: its changes with one standard deviation of each input, and its intervals.

The spreads are those of the data files body/ and postures.toml; their effect follows from the closed-form coefficients
of service.mechanics.uncertainty.sensitivity. Changes are combined by root sum of squares: the inputs are independent of
each other, so that all extremes at once would describe a lifter who hardly exists. The one strong dependence is kept:
at one stature a longer measured thigh goes with a shorter trunk, because both are measured from the hip, so those two
move in opposite directions as one input.

This is the law of propagation of uncertainty (JCGM 100) with each coefficient tested against a central difference.
Against a Monte Carlo of 93 random cases the spans are right within some per cent in the middle; in the tails of hinges
and of ratios their ends may be off by a fifth to a third of the width, since the curvature is left out.
"""

from __future__ import annotations

from math import inf, radians

from msgspec import Struct
from msgspec.structs import astuple

from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.anthropometry import BODY
from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.body_variants import length_spread, of_sex
from service.mechanics.demand import JOINTS, Demand, setup_demand
from service.mechanics.setups import USUAL_TECHNIQUE, Depth, Technique, resolve_setup
from service.mechanics.statics import statics_of
from service.mechanics.uncertainty.depth_derivatives import is_stated
from service.mechanics.uncertainty.derivatives import NIL, Deviation
from service.mechanics.uncertainty.intervals import UNCHANGED, Changes, changes_of, interval_of
from service.mechanics.uncertainty.sensitivity import InputSteps, deviations

RESULTS = (*JOINTS, "trunk_lean")

_OF_LIFTER = ("shank", "thigh_and_trunk", "foot", "balance", "lumbosacral_level")
_OF_EXERCISE = ("bar_anterior", "abduction", "trunk_lean")

_SHIN = radians(POSTURES.spread.shin_angle.value)
_SHIN_OF_EXERCISE = POSTURES.spread.shin_angle_between_exercises.value / POSTURES.spread.shin_angle.value
_BALANCE = POSTURES.spread.balance.value
_BAR = POSTURES.spread.bar_anterior.value
_ABDUCTION = radians(POSTURES.spread.abduction.value)
_LEAN = radians(POSTURES.spread.trunk_lean.value)
_LEVEL = BODY.spread.lumbosacral_level.value
_LIGHTEST = BODY.spread.above_lumbosacral_mass_low.value
_HEAVIEST = BODY.spread.above_lumbosacral_mass_high.value


class Values(Struct, frozen=True, gc=False):
    """Central values of a demand.

    Attributes:
        ankle: peak of the moment, per leg [N·m]
        knee: peak of the moment, per leg [N·m]
        hip: peak of the moment, per leg [N·m]
        lumbosacral: peak of the moment [N·m]
        trunk_lean: trunk from the vertical at the bottom [rad]
    """

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    trunk_lean: float


class UncertainDemand(Struct, frozen=True, gc=False):
    """A demand with its uncertainty.

    Attributes:
        demand: nominal solution
        values: central values
        changes: changes of each result with the uncertain inputs
        intervals: by joint [N·m] and of trunk_lean [rad], each of one standard deviation
        variant: exercise and stance, which select the posture rule
        cautions: codes of postures.toml
    """

    demand: Demand
    values: Values
    changes: dict[str, Changes]
    intervals: dict[str, Interval]
    variant: tuple[str, str]
    cautions: tuple[str, ...]


def uncertain_demand(
    body: Body, exercise_id: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> UncertainDemand:
    """The demand of a setup with the intervals that follow from the uncertain inputs of lifter and posture.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the posture rule; None for none

    Raises:
        Refusal: as service.mechanics.demand.setup_demand

    Source: JCGM 100:2008, law of propagation of uncertainty.
    """
    technique = technique or USUAL_TECHNIQUE
    demand = setup_demand(body, exercise_id, load, depth, technique)
    peaks = demand.peaks
    values = Values(
        peaks["ankle"].moment,
        peaks["knee"].moment,
        peaks["hip"].moment,
        peaks["lumbosacral"].moment,
        demand.trunk_lean,
    )
    changes = _changes(demand, depth)
    intervals = {result: interval_of(getattr(values, result), changes[result]) for result in RESULTS}
    return UncertainDemand(demand, values, changes, intervals, (exercise_id, technique.stance), demand.cautions)


def _changes(demand: Demand, depth: Depth | None) -> dict[str, Changes]:
    """The changes of each result with the uncertain inputs."""
    by_input = deviations(demand, _steps(demand), depth)
    body, share = demand.body, demand.share_range
    table = _segment_table(demand, depth) if body.sex is None else NIL
    symmetric = [by_input.get(name, NIL) for name in _OF_LIFTER]
    symmetric += [table, *[by_input.get(name, NIL) for name in _OF_EXERCISE]]
    habits, masses = astuple(by_input.get("shin_angle", NIL)), astuple(by_input["above_mass"])
    shares = astuple(by_input.get("lead_share", NIL))
    forward = min(1.0, _room(demand) / _SHIN)
    lighter = min(0.0, _LIGHTEST * body.mass - body.above_mass)
    heavier = _HEAVIEST * body.mass - body.above_mass
    less, more = (share[0] - demand.lead_share, share[1] - demand.lead_share) if share else UNCHANGED
    changes = {}
    for result, column, habit, mass, lead in zip(
        RESULTS, zip(*map(astuple, symmetric), strict=True), habits, masses, shares, strict=False
    ):
        own = _SHIN_OF_EXERCISE * habit
        asymmetric = (
            (-habit, forward * habit),
            (lighter * mass, heavier * mass),
            (-own, forward * own),
            (less * lead, more * lead),
        )
        changes[result] = changes_of(column, asymmetric)
    return changes


def _steps(demand: Demand) -> InputSteps:
    """One standard deviation of every uncertain input; one unit of lead share and of the mass above."""
    body, setup, technique = demand.body, demand.setup, demand.technique
    measured, lengths = body.measured, length_spread(body.sex)
    split = setup.family == "split"
    return InputSteps(
        shank=0.0 if "shank" in measured else lengths.shank * body.shank,
        thigh=0.0 if "thigh" in measured else lengths.thigh * body.thigh,
        trunk=0.0 if "trunk" in measured else -lengths.trunk * body.trunk,
        foot=0.0 if "foot" in measured else lengths.foot,
        shin_angle=_SHIN if technique.shin_angle is None else 0.0,
        balance=_BALANCE,
        bar_anterior=_BAR if setup.carry.kind == "trunk" else 0.0,
        abduction=_ABDUCTION if setup.thigh_projection < 1.0 else 0.0,
        lead_share=1.0 if split else 0.0,
        trunk_lean=_LEAN if split and technique.trunk_lean is None else 0.0,
        lumbosacral_level=_LEVEL,
        above_mass=1.0,
    )


def _room(demand: Demand) -> float:
    """How much further forward the shin may go [rad]: a stated ankle range is not exceeded, an assumed one may be."""
    if demand.technique.ankle_dorsiflexion is None:
        return inf
    return max(0.0, demand.setup.shin_limit - demand.setup.shin_angle)


def _segment_table(demand: Demand, depth: Depth | None) -> Deviation:
    """Half the difference between the male and the female segment table, of which an unstated sex takes the mean."""
    female = _with_table(demand, depth, of_sex(demand.body, "female"))
    male = _with_table(demand, depth, of_sex(demand.body, "male"))
    if female and male:
        return NIL.plus(male.plus(female, -1.0), 0.5)
    # at the edge of tipping one of the two tables has no posture, and the other one's difference stands for both
    ankle, knee, hip, spine = (demand.peaks[joint].moment for joint in JOINTS)
    nominal = Deviation(ankle, knee, hip, spine, demand.trunk_lean, demand.bottom.hip_x)
    if male:
        return male.plus(nominal, -1.0)
    return nominal.plus(female, -1.0) if female else NIL


def _with_table(demand: Demand, depth: Depth | None, body: Body) -> Deviation | None:
    """The results for a body of other masses, at the thigh angles of the peaks; None where it would tip."""
    bottom = demand.setup.thigh_angle
    try:
        setup = demand.setup
        if not is_stated(demand, depth):
            setup = resolve_setup(body, demand.exercise, demand.load, depth=depth, technique=demand.technique)
        statics = statics_of(body, setup, demand.lead_share)
        deepest = statics.at(setup.thigh_angle)
        angles = [demand.peaks[joint].thigh_angle for joint in JOINTS]
        ankle, knee, hip, spine = (deepest if angle == bottom else statics.at(angle) for angle in angles)
    except Refusal:
        return None
    return Deviation(ankle.ankle, knee.knee, hip.hip, spine.lumbosacral, deepest.trunk_lean, deepest.hip_x)
