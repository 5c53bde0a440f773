"""Propagation of uncertainty to a demand: its changes with one standard deviation of each input, and its intervals.

The spreads are those of the data files body/ and postures.toml; their effect follows from the closed-form coefficients
of service.mechanics.uncertainty.sensitivity, and for pulls from service.mechanics.uncertainty.differences. Changes are
combined by root sum of squares: the inputs are independent of each other, so that all extremes at once would describe a
lifter who hardly exists. The one strong dependence is kept: at one stature a longer measured thigh goes with a shorter
trunk, because both are measured from the hip, so those two move in opposite directions as one input.

This is the law of propagation of uncertainty (JCGM 100) with each coefficient tested against a central difference.
"""

from __future__ import annotations

from math import hypot, inf, radians
from typing import TypeAlias

from msgspec import Struct
from msgspec.structs import astuple, replace

from service.intervals import Interval
from service.knowledge.anthropometry import BODY
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.body import Body
from service.mechanics.body_variants import length_spread, mass_above_range
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.habits import share_of_maximum
from service.mechanics.posture import shin_shape_spread
from service.mechanics.seen import readings, spread_of_depth
from service.mechanics.setups import Depth, Technique
from service.mechanics.stance import SAGITTAL
from service.mechanics.uncertainty.depth_derivatives import is_stopped
from service.mechanics.uncertainty.derivatives import NIL, RESULTS, of_spine, plus, times
from service.mechanics.uncertainty.differences import SEEN_ANGLES, changes_of_pull
from service.mechanics.uncertainty.hinge_changes import changes_of_hinge
from service.mechanics.uncertainty.inputs import InputSteps
from service.mechanics.uncertainty.intervals import UNMOVED, Changes, Parts, changes_of, interval_of, parts_of
from service.mechanics.uncertainty.scopes import EVEN, changes_of_columns
from service.mechanics.uncertainty.seeing import after_seeing
from service.mechanics.uncertainty.segment_table import of_segment_table
from service.mechanics.uncertainty.sensitivity import deviations
from service.mechanics.uncertainty.split_changes import changes_of_split, lead_share_interval
from service.mechanics.uncertainty.split_differences import moved_stances
from service.mechanics.uncertainty.spreads import SPREADS

_ROWS = (*RESULTS, *SEEN_ANGLES, "lead_share")

_OF_EXERCISE = ("bar_anterior", "abduction")


_DEPTH, _RESIDUAL = POSTURES.defaults.depth_error.in_radians(), POSTURES.defaults.trunk_residual.in_radians()
_AS_SEEN = of_spine(0.0, _RESIDUAL.between)
"""The trunk as it is seen about the lean that balance requires."""
_AS_SEEN_AGAIN = of_spine(0.0, _RESIDUAL.within)
"""The same from one repetition to the next."""
_SLOPE_FROM = POSTURES.defaults.slope_from.value
_SLOPE_SPREAD = radians(POSTURES.defaults.slope_spread.value)
_SLOPE_UNKNOWN = radians(POSTURES.defaults.slope_unknown.value)
_WIDER = POSTURES.defaults.wider_beyond.value
_BAR = POSTURES.spread.bar_anterior.value
_ABDUCTION = radians(POSTURES.spread.abduction.value)
_HIP_CENTRES = POSTURES.spread.hip_centres.value
_LEVEL = BODY.spread.lumbosacral_level.value


Variant: TypeAlias = tuple[str | float | None, ...]
"""What two setups have to have in common to share what is the exercise's own."""


class Values(Struct, frozen=True, gc=False):
    """Central values of a demand.

    Attributes:
        ankle: peak of the moment, per leg [N·m]
        knee: peak of the moment, per leg [N·m]
        hip: peak of the extensor moment, per leg [N·m]
        hip_adductor: peak of the moment, per leg [N·m]
        hip_resultant: peak of the moment, per leg [N·m]
        lumbosacral: peak of the moment [N·m]
        trunk_lean: trunk from the vertical at the bottom [rad]
    """

    ankle: float
    knee: float
    hip: float
    hip_adductor: float
    hip_resultant: float
    lumbosacral: float
    trunk_lean: float


class UncertainDemand(Struct, frozen=True, gc=False):
    """A demand with its uncertainty.

    Attributes:
        demand: nominal solution
        values: central values
        changes: changes of each result with the uncertain inputs
        intervals: by joint [N·m] and of trunk_lean [rad], of one repetition, each of one standard deviation
        variant: exercise and stance, which select the posture rule
        cautions: codes of postures.toml
        lead_share: the lead leg's share of a split stance in one repetition [1]; None on both feet
    """

    demand: Demand
    values: Values
    changes: dict[str, Changes]
    intervals: dict[str, Interval]
    variant: Variant
    cautions: tuple[str, ...]
    lead_share: Interval | None


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
    return with_uncertainty(setup_demand(body, exercise_id, load, depth, technique), depth)


def with_uncertainty(demand: Demand, depth: Depth | None) -> UncertainDemand:
    """A demand that is solved already, with its intervals.

    Args:
        demand: nominal solution
        depth: as it was requested; None for the exercise's own

    Source: as uncertain_demand.
    """
    peaks = demand.peaks
    values = Values(
        peaks["ankle"].moment,
        peaks["knee"].moment,
        peaks["hip"].moment,
        peaks["hip_adductor"].moment,
        peaks["hip_resultant"].moment,
        peaks["lumbosacral"].moment,
        demand.trunk_lean,
    )
    lead_share = None
    if demand.family == "pull":
        changes = dict(zip(_ROWS, changes_of_pull(demand, depth), strict=False))
    elif demand.family == "hinge":
        changes = dict(zip(_ROWS, changes_of_hinge(demand, depth), strict=False))
    elif demand.family == "split":
        moved = list(moved_stances(demand, depth))
        changes = dict(zip(_ROWS, changes_of_split(demand, depth, moved), strict=False))
        lead_share = lead_share_interval(demand, depth, moved)
    else:
        changes = _changes(demand, depth)
    if (seen := demand.technique.seen) is not None:
        changes = after_seeing(changes, readings(demand.exercise, depth, seen))
        if lead_share is not None:
            lead_share = interval_of(demand.lead_share, changes["lead_share"]).at_least(0.0).at_most(1.0)
    intervals = {
        result: interval_of(value, changes[result]) for result, value in zip(RESULTS, astuple(values), strict=True)
    }
    variant = _variant(demand.exercise, demand.technique)
    return UncertainDemand(demand, values, changes, intervals, variant, demand.cautions, lead_share)


def _variant(exercise_id: str, technique: Technique) -> Variant:
    return exercise_id, technique.stance, technique.stance_width, technique.toe_out, technique.knee_over_toe


def _changes(demand: Demand, depth: Depth | None) -> dict[str, Changes]:
    """The changes of each result with the uncertain inputs."""
    by_input = deviations(demand, _steps(demand, depth), depth)
    body = demand.body
    if body.sex is None:
        by_input["segment_table"] = of_segment_table(demand, depth)
    by_input["trunk_residual"] = _AS_SEEN
    spread = SPREADS[demand.exercise]
    shin, shape = UNMOVED, 0.0  # a shin that is stated differs from one repetition to the next, and in nothing else
    if demand.technique.shin_angle is None:
        shin = parts_of(-1.0, min(1.0, _room(demand) / spread.shin_angle))
        shape = hypot(_shape_error(demand), _slope_error(demand)) / spread.shin_angle
    thigh_scatter = _DEPTH.within / spread_of_depth(demand.exercise, depth, demand.technique.seen)
    lightest, heaviest = mass_above_range(body)
    above = parts_of(lightest - body.above_mass, heaviest - body.above_mass)
    habit, mass = by_input.get("shin_angle", NIL), by_input["above_mass"]
    own = times(habit, spread.shin_angle_own)
    rows = changes_of_columns(
        of_lifter=[
            *[by_input.get(name, NIL) for name in EVEN],
            times(habit, shin.even),
            times(mass, above.even),
            times(habit, shin.uneven),
            times(mass, above.uneven),
        ],
        of_exercise=[
            *[by_input.get(name, NIL) for name in _OF_EXERCISE],
            times(habit, shape),
            times(own, shin.even),
            times(own, shin.uneven),
        ],
        of_repetition=[
            times(habit, spread.shin_scatter),
            times(by_input.get("thigh_angle", NIL), thigh_scatter),
            times(by_input.get("balance", NIL), spread.balance_scatter),
            _AS_SEEN_AGAIN,
        ],
        shift=plus(times(plus(habit, own, 1.0), shin.shift), mass, above.shift),
    )
    changes = dict(zip(RESULTS, rows, strict=True))
    if demand.technique.seen is None:
        return changes
    lean = changes["trunk_lean"]
    residual = demand.technique.departure.trunk_residual if demand.technique.departure else 0.0
    return changes | _angles(demand, depth, shin, shape) | {"trunk_lean": replace(lean, shift=lean.shift + residual)}


def _angles(demand: Demand, depth: Depth | None, shin: Parts, shape: float) -> dict[str, Changes]:
    """The changes of shin and thigh at the bottom with the inputs, in the columns of the results [rad]."""
    spread, none = SPREADS[demand.exercise], (0.0,) * len(EVEN)
    habit, bottom = spread.shin_angle, spread_of_depth(demand.exercise, depth, demand.technique.seen)
    thigh = tuple(bottom if name == "thigh_angle" and not is_stopped(demand, depth) else 0.0 for name in EVEN)
    own, exercise = spread.shin_angle_own * habit, (0.0,) * len(_OF_EXERCISE)
    return {
        "shin_angle": changes_of(
            (*none, shin.even * habit, 0.0, shin.uneven * habit, 0.0),
            (*exercise, shape * habit, shin.even * own, shin.uneven * own),
            (spread.shin_scatter * habit,),
        ),
        "thigh_angle": changes_of((*thigh, 0.0, 0.0, 0.0, 0.0), (*exercise, 0.0, 0.0, 0.0), (_DEPTH.within,)),
    }


def _steps(demand: Demand, depth: Depth | None) -> InputSteps:
    """One standard deviation of every uncertain input; one unit of lead share and of the mass above."""
    body, setup = demand.body, demand.setup
    spread = SPREADS[setup.exercise]
    measured, lengths = body.measured, length_spread(body.sex)
    wider = _WIDER if "lean_beyond_published" in demand.cautions else 1.0
    return InputSteps(
        shank=0.0 if "shank" in measured else lengths.shank * body.shank,
        thigh=0.0 if "thigh" in measured else lengths.thigh * body.thigh,
        trunk=0.0 if "trunk" in measured else -lengths.trunk * body.trunk,
        foot=0.0 if "foot" in measured else lengths.foot,
        shin_angle=wider * spread.shin_angle,
        balance=wider * spread.balance,
        bar_anterior=_BAR if setup.carry.kind == "trunk" else 0.0,
        hip_centres=_HIP_CENTRES if setup.stance.follows is not None else 0.0,
        abduction=_ABDUCTION if setup.stance is not SAGITTAL else 0.0,
        lumbosacral_level=_LEVEL,
        above_mass=1.0,
        thigh_angle=0.0
        if is_stopped(demand, depth)
        else spread_of_depth(demand.exercise, depth, demand.technique.seen),
    )


def _room(demand: Demand) -> float:
    """How much further forward the shin may go [rad]: a stated ankle range is not exceeded, an assumed one may be."""
    if demand.technique.ankle_dorsiflexion is None:
        return inf
    return max(0.0, demand.setup.shin_limit - demand.setup.shin_angle)


def _shape_error(demand: Demand) -> float:
    """How far the way forward of this lifter's shin may differ from the usual one at the bottom [rad]."""
    setup = demand.setup
    if not setup.shape_at_bottom:
        return 0.0
    return setup.shin_angle * shin_shape_spread(setup.thigh_angle) / setup.shape_at_bottom


def _slope_error(demand: Demand) -> float:
    """How far the shin may be off because it changes near the maximum [rad]."""
    if not POSTURE_RULES[demand.exercise].shin_angle.slope:
        return 0.0
    share = share_of_maximum(demand.exercise, demand.load, demand.technique.maximum)
    return _SLOPE_UNKNOWN if share is None else _SLOPE_SPREAD * 10.0 * max(0.0, share - _SLOPE_FROM)
