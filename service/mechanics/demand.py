"""Demand of one setup on ankle, knee, hip and lower back: posture, moments, and their peaks from bottom to standing."""

from __future__ import annotations

from math import sin

from msgspec import Struct
from msgspec.structs import replace

from service.knowledge.posture_rules import Family
from service.mechanics.assumptions import assumptions_of
from service.mechanics.body import GRAVITY, Body
from service.mechanics.cautions import cautions_of
from service.mechanics.dynamics import AT_TURN, Met, met_above
from service.mechanics.hip_limit import at_hip_limit, trunk_to_thigh
from service.mechanics.inference import body_departing, departure_of
from service.mechanics.moments import Moments, mass_above_lumbosacral
from service.mechanics.peaks import Peak, largest_moments, peaks_of
from service.mechanics.posture import Posture, joint_positions
from service.mechanics.seen_messages import cautions_of_seen
from service.mechanics.setups import (
    USUAL_TECHNIQUE,
    Depth,
    Setup,
    Technique,
    limits_binding,
    resolve_setup,
)
from service.mechanics.split_messages import cautions_of_split
from service.mechanics.statics import Solution, Statics, statics_of
from service.mechanics.validation import check_setup
from service.messages import Message

JOINTS = ("ankle", "knee", "hip", "lumbosacral")


class Demand(Struct, frozen=True, gc=False):
    """Demand of a setup on a lifter.

    In a split stance ankle, knee and hip are those of the lead leg.

    Attributes:
        body: the lifter
        exercise: id
        family: squat, hinge, pull or split
        load: mass of the implement [kg]
        setup: as resolved
        technique: as requested
        statics: for solutions at other depths
        bottom: solution at the bottom
        posture: joints at the bottom
        moments: moments at the bottom
        peaks: largest moments through the range, by MOMENTS
        trunk_lean: trunk from the vertical at the bottom [rad]
        load_above: load that the spine carries at the lumbosacral joint [kg]
        weight_above: weight of body and load above the lumbosacral joint [N]
        limited_by: limits that kept the lifter from the rule's posture or depth
        cautions: codes of postures.toml
    """

    body: Body
    exercise: str
    family: Family
    load: float
    setup: Setup
    technique: Technique
    statics: Statics
    bottom: Solution
    posture: Posture
    moments: Moments
    peaks: dict[str, Peak]
    trunk_lean: float
    load_above: float
    weight_above: float
    limited_by: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def assumptions(self) -> tuple[Message, ...]:
        """What the model assumes for this setup, as messages for the caller's `basis`."""
        return assumptions_of(self.body, self.setup, self.technique, self.limited_by)

    @property
    def remarks(self) -> tuple[Message, ...]:
        """Cautions that carry numbers of this setup."""
        of_split = () if self.setup.split is None else cautions_of_split(self.setup.split)
        return (*self.of_seen, *of_split)

    @property
    def of_seen(self) -> tuple[Message, ...]:
        """What was seen and does not fit the posture."""
        return cautions_of_seen(self.setup, self.technique, self.posture)

    @property
    def lead_share(self) -> float:
        """Share of the weight of body and load on the computed leg, half on both feet [1]."""
        return self.setup.lead_share

    def met(self, joint: str) -> Met:
        """Where on the way up the largest moment of a joint is met; the hip's height stands for the way of the bar.

        Args:
            joint: one of the moments; those of the hip stand where its extensor moment is largest
        """
        joint = "hip" if joint.startswith("hip") else joint
        peak, lowest = self.peaks[joint], sin(self.setup.thigh_angle)
        if peak.moment <= 0.0 or peak.thigh_angle == self.setup.thigh_angle:
            return AT_TURN
        at_turn = float(getattr(self.moments, joint)) / peak.moment
        return met_above(at_turn, (sin(peak.thigh_angle) - lowest) / (1.0 - lowest))


class Solved(Struct, frozen=True, gc=False):
    """A setup solved at its bottom.

    Attributes:
        body: the lifter
        exercise: id
        load: mass of the implement [kg]
        setup: as resolved
        technique: as requested
        statics: for solutions at other depths
        bottom: solution at the bottom
        hip_limit: the hip's limit, if that is what ends its depth
    """

    body: Body
    exercise: str
    load: float
    setup: Setup
    technique: Technique
    statics: Statics
    bottom: Solution
    hip_limit: tuple[str, ...]

    def peak_moments(self) -> dict[str, float]:
        """The peaks of the demand alone, by joint [N·m]; raises Refusal as demand_of does."""
        return largest_moments(self.statics, self.bottom)


def setup_demand(
    body: Body, exercise_id: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> Demand:
    """Posture, moments and their peaks for one lifter, one exercise and one load.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement, for the whole lifter also in split stances [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the posture rule; None for none

    Raises:
        Refusal: for an exercise without a posture rule, for values out of range and for a posture that cannot be
            reached or balanced
    """
    return demand_of(solve(body, exercise_id, load, depth, technique))


def solve(
    body: Body, exercise_id: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> Solved:
    """The setup of setup_demand solved at its bottom, for searches that want the whole demand of a few alone.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: departures from the posture rule; None for none

    Raises:
        Refusal: as setup_demand, but for a posture on the way up
    """
    technique = with_departure(body, exercise_id, load, depth, technique or USUAL_TECHNIQUE)
    body = body_departing(body, technique.departure)
    setup, statics, hip_limit = _resolved(body, exercise_id, load, depth, technique)
    return Solved(body, exercise_id, load, setup, technique, statics, statics.at(setup.thigh_angle), hip_limit)


def demand_of(solved: Solved) -> Demand:
    """The demand of a solved setup.

    Args:
        solved: by solve

    Raises:
        Refusal: when no trunk lean balances a posture on the way up
    """
    body, load, setup, technique = solved.body, solved.load, solved.setup, solved.technique
    statics, bottom = solved.statics, solved.bottom
    posture = _posture(body, statics, bottom)
    above = mass_above_lumbosacral(body, load, setup.carry)
    return Demand(
        body,
        solved.exercise,
        setup.family,
        load,
        setup,
        technique,
        statics,
        bottom,
        posture,
        _moments(statics, bottom, GRAVITY * above),
        peaks_of(statics, bottom),
        posture.trunk_lean,
        above - body.above_mass,
        GRAVITY * above,
        posture.limited_by + solved.hip_limit,
        cautions_of(body, setup, technique, posture.trunk_lean),
    )


def with_departure(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> Technique:
    """The technique checked, with what follows from what was seen of it.

    That is how the lifter departs from the rule.

    Args:
        body: the lifter
        exercise_id: id of a posture rule, of an exercise or of one with another implement
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: as requested

    Raises:
        Refusal: for values out of range, and for angles that no such lifter could show together
    """
    check_setup(body, exercise_id, load, depth, technique)
    seen = technique.seen
    if seen is None or technique.departure is not None:
        return technique
    return replace(technique, departure=departure_of(body, exercise_id, load, depth, technique))


def _resolved(
    body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique
) -> tuple[Setup, Statics, tuple[str, ...]]:
    """The setup checked and resolved, its statics, and the hip limit if that is what ends its depth."""
    setup = resolve_setup(body, exercise_id, load, depth=depth, technique=technique)
    statics = statics_of(body, setup)
    if technique.hip_flexion is None or trunk_to_thigh(statics, setup.thigh_angle) <= technique.hip_flexion:
        return setup, statics, ()
    setup = at_hip_limit(body, setup, technique, depth)
    return setup, statics_of(body, setup), ("hip_flexion",)


def _posture(body: Body, statics: Statics, solution: Solution) -> Posture:
    """The posture at the bottom."""
    setup = statics.setup
    return joint_positions(
        body,
        setup.carry,
        solution.shin_angle,
        setup.thigh_angle,
        solution.trunk_lean,
        hip_x=solution.hip_x,
        balance_x=statics.balance_x,
        pitch=setup.pitch,
        limited_by=limits_binding(setup, solution.shin_angle),
        stance=setup.stance,
    )


def _moments(statics: Statics, solution: Solution, weight_above: float) -> Moments:
    balance_x = statics.balance_x
    return Moments(
        solution.ankle,
        solution.knee,
        solution.hip,
        solution.lumbosacral,
        balance_x - statics.ankle_x,
        solution.knee_x - balance_x,
        balance_x - solution.hip_x,
        solution.lumbosacral / weight_above,
    )
