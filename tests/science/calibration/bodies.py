"""Lifters drawn from the stated spreads of bodies and postures, and what one repetition of theirs asks by statics.

Nothing is linearised: every drawn lifter is solved anew, with lengths, masses and habits of their own, and each
repetition of theirs with its scatter. What the service says is known of a lifter (a stated sex, measured lengths, an
ankle's range) is what all lifters drawn for a question have in common.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from math import acos, asin, cos, degrees, radians, sin, sqrt
from typing import Final

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.random import Generator

from service.errors import Refusal
from service.knowledge.anthropometry import BODY
from service.knowledge.dynamics import LIFTS
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import GRAVITY, Body
from service.mechanics.body_variants import length_spread, of_sex
from service.mechanics.depth import Depth
from service.mechanics.hinges import legs_of_hinge
from service.mechanics.posture import shin_shape, shin_shape_spread
from service.mechanics.pull_setups import pull_setup
from service.mechanics.setups import Setup, resolve_setup
from service.mechanics.spine import ARM
from service.mechanics.split_stance import in_equilibrium
from service.mechanics.stance import STEEPEST, Feet, Stance, stance_at, stance_of_squat
from service.mechanics.statics import Solution, statics_of
from service.mechanics.step_up import risen_of
from service.mechanics.supports import QUANTITIES
from service.mechanics.technique import Technique

WAY: Final = np.linspace(0.0, 0.95, 13)
"""Parts of the way up at which moments are looked at [1]."""
OWN_SHIN: Final = radians(POSTURES.spread.shin_angle_own.value)
DEPTH: Final = POSTURES.defaults.depth_error.in_radians()
RESIDUAL: Final = POSTURES.defaults.trunk_residual.in_radians()


class Question(msgspec.Struct, frozen=True):
    """What all lifters drawn have in common: the lift and how it is asked about.

    Attributes:
        exercise: id
        load: on the implement [kg]
        depth: as asked for
        technique: as asked for, with the lifter's limits
    """

    exercise: str
    load: float
    depth: Depth | None = None
    technique: Technique = Technique()


class Turning(msgspec.Struct, frozen=True):
    """Largest moments of a repetition with the force of its turn [N·m]."""

    ankle: float
    knee: float
    hip: float
    hip_adductor: float
    hip_resultant: float
    lumbosacral: float


class Truth(msgspec.Struct, frozen=True):
    """What one repetition of a drawn lifter asks: moments [N·m], angles [deg], force on the trunk [N], lead share [1].

    turning: largest moments where the force at the turn is this lifter's [N·m]
    """

    ankle: float
    knee: float
    hip: float
    hip_adductor: float
    hip_resultant: float
    lumbosacral: float
    trunk_lean: float
    compression: float
    lead_share: float
    shin_angle: float
    thigh_angle: float
    turning: Turning


class DrawnLifter:
    """One lifter: a body, and habits in standard deviations, some of each exercise alone."""

    def __init__(self, known: Body, draw: Generator) -> None:
        self.draw = draw
        self.body = _drawn_body(known, draw)
        self.habits: defaultdict[object, float] = defaultdict(draw.standard_normal)
        self.turn = draw.spawn(1)[0].standard_normal()
        self.arm = ARM.value + _split_normal(draw, ARM.low - ARM.value, ARM.high - ARM.value)

    def once(self, question: Question) -> Truth | None:
        """One repetition; None where this lifter would tip or not reach."""
        family = POSTURE_RULES[question.exercise].family
        try:
            if family == "pull":
                return self._pull(question)
            if family == "hinge":
                return self._hinge(question)
            return self._split(question) if family == "split" else self._squat(question)
        except Refusal:
            return None

    def _deviation(self, name: str, between: float, within: float, *scope: str) -> float:
        """Of one repetition from what is usual: the habit, in this scope of its own, and the scatter."""
        return self.habits[name, *scope] * between + self.draw.normal(0.0, within)

    def _shin(self, exercise: str) -> float:
        shin = POSTURE_RULES[exercise].shin_angle
        shared = self._deviation("shin", sqrt(shin.between**2 - OWN_SHIN**2), shin.within)
        return shared + self._deviation("shin", OWN_SHIN, 0.0, exercise)

    def _squat(self, question: Question) -> Truth:
        exercise, body, rule = question.exercise, self.body, POSTURE_RULES[question.exercise]
        usual = resolve_setup(body, exercise, question.load, depth=question.depth, technique=question.technique)
        setup = usual
        if question.depth is None or question.depth.box_height is None:
            deeper = usual.thigh_angle + self._deviation("depth", DEPTH.between, DEPTH.within)
            there = Depth(thigh_below_horizontal=-deeper)
            setup = resolve_setup(body, exercise, question.load, depth=there, technique=question.technique)
        shin, limit = self.draw.normal(0.0, rule.shin_angle.within), setup.shin_limit
        if question.technique.shin_angle is None:
            shin = self._shin(exercise)
            if rule.shin_angle.slope:  # the share of the maximum is not stated
                shin += self._deviation("slope", radians(POSTURES.defaults.slope_unknown.value), 0.0, exercise)
            if setup.shape_at_bottom:
                course = setup.shin_angle / setup.shape_at_bottom * shin_shape_spread(setup.thigh_angle)
                shin += self._deviation("course", course, 0.0, exercise)
            if question.technique.ankle_dorsiflexion is None:
                limit += shin  # the limit is assumed, and a lifter with another habit has another
        balance = rule.balance or POSTURES.defaults.balance
        forward = self._deviation("balance", balance.between, balance.within)
        setup = replace(
            setup,
            shin_angle=setup.shin_angle + shin,
            shin_limit=limit,
            balance=setup.balance + forward,
            carry=replace(
                setup.carry,
                anterior=setup.carry.anterior + self._bar(setup, exercise),
                line=None
                if setup.carry.line is None
                else setup.carry.line + forward,  # a belt hangs over the balance point
            ),
        )
        setup = replace(setup, stance=self._stance(setup, question.technique))
        statics = statics_of(body, setup)
        way = [statics.at(float(setup.thigh_angle + part * (np.pi / 2 - setup.thigh_angle))) for part in WAY]
        seen = self._deviation("residual", RESIDUAL.between, RESIDUAL.within)
        return self._truth(way, setup, seen)

    def _hinge(self, question: Question) -> Truth:
        exercise, body, rule = question.exercise, self.body, POSTURE_RULES[question.exercise]
        setup = resolve_setup(body, exercise, question.load, depth=question.depth, technique=question.technique)
        assert rule.trunk_lean is not None
        lean = self._deviation("lean", *_spreads(rule.trunk_lean), exercise)
        depth = self._deviation("depth", DEPTH.between, DEPTH.within)
        carry = replace(setup.carry, anterior=setup.carry.anterior + self._bar(setup, exercise))
        balance = setup.balance + self._deviation("balance", *_spreads(rule.balance or POSTURES.defaults.balance))
        shin, thigh = legs_of_hinge(
            body,
            rule,
            question.load,
            balance,
            carry,
            shin_angle=None,
            shin_limit=setup.shin_limit,
            depth=None,
            further=(lean, self._shin(exercise), depth),
        )
        moved = replace(
            setup, carry=carry, balance=balance, shin_angle=shin, thigh_angle=thigh, shape_at_bottom=shin_shape(thigh)
        )
        statics = statics_of(body, moved)
        way = [statics.at(float(thigh + part * (np.pi / 2 - thigh))) for part in WAY]
        return self._truth(way, moved, 0.0)

    def _pull(self, question: Question) -> Truth:
        exercise, body, spread = question.exercise, self.body, POSTURES.pull
        setup = resolve_setup(body, exercise, question.load, depth=question.depth, technique=question.technique)
        pull, closed = setup.pull, setup.closed
        assert pull is not None
        assert closed is not None
        scale = body.stature / BAR_REFERENCE_STATURE
        moved = {
            name: self._deviation(name, scale * one.between, scale * one.within, exercise)
            for name, one in (
                ("ahead", spread.shoulder_ahead),
                ("lowered", spread.shoulder_drop),
                ("shin_to_bar", spread.shin_to_front),
                ("height", spread.turning_height),
            )
        }
        if pull.line_x is not None:
            moved["shin_to_bar"] = 0.0
        rule = POSTURE_RULES[exercise]
        at: Depth | float | None = question.depth
        if rule.grip_height is None:
            at = closed.grip_height + moved["height"]
        pull = replace(
            pull,
            shin_angle=pull.shin_angle + self._shin(exercise),
            ahead=pull.ahead + moved["ahead"],
            lowered=pull.lowered + moved["lowered"],
            shin_to_bar=pull.shin_to_bar + moved["shin_to_bar"],
        )
        if pull.leg_projection < 1.0:
            pull = replace(pull, leg_projection=cos(acos(pull.leg_projection) + self._turned(exercise, "pull")))
        setup = pull_setup(exercise, pull, at, setup.shin_limit, setup.pitch)
        statics = statics_of(body, setup)
        return self._truth([statics.at(setup.thigh_angle)], setup, 0.0)

    def _split(self, question: Question) -> Truth:
        exercise, rule = question.exercise, POSTURE_RULES[question.exercise]
        setup = resolve_setup(self.body, exercise, question.load, depth=question.depth, technique=question.technique)
        lift = setup.lift
        assert lift is not None
        balance = lift.balance + self._deviation("balance", *_spreads(rule.balance or POSTURES.defaults.balance))
        carry = replace(lift.carry, anterior=lift.carry.anterior + self._bar(setup, exercise))
        inputs = replace(lift, balance=balance, carry=carry).at(
            setup.thigh_angle + self._deviation("depth", DEPTH.between, DEPTH.within)
        )
        usual = list(inputs.usual)
        for index, name in enumerate(QUANTITIES):
            one = getattr(rule, name)
            if one is None or (rule.steps_up and name == "foot_spacing"):
                continue
            habit = self._shin(exercise) if name == "shin_angle" else self._deviation(name, *_spreads(one), exercise)
            usual[index] = usual[index].moved(habit / one.between)
        lean, shin, spacing, share = usual
        split = in_equilibrium(replace(inputs, usual=(lean, shin, spacing, share)))
        setup = replace(
            setup,
            carry=carry,
            balance=balance,
            thigh_angle=inputs.thigh_angle,
            shin_angle=split.shin_angle,
            trunk_lean=split.trunk_lean,
            split=split,
        )
        statics = statics_of(self.body, setup)
        risen = risen_of(statics)
        way, up = [statics.at(setup.thigh_angle)], [0.0]
        if risen is not None:  # a step-up whose lead foot has come to bear everything
            way.append(risen.solution)
            up.append((risen.stance.inputs.thigh_angle - setup.thigh_angle) / (np.pi / 2 - setup.thigh_angle))
        return self._truth(way, setup, 0.0, np.array(up))

    def _bar(self, setup: Setup, exercise: str) -> float:
        if setup.carry.kind != "trunk":
            return 0.0
        return self._deviation("bar", POSTURES.spread.bar_anterior.value, 0.0, exercise)

    def _turned(self, exercise: str, stance: str) -> float:
        """How far the thighs are turned out beyond what is usual [rad]."""
        return self._deviation("abduction", radians(POSTURES.spread.abduction.value), 0.0, exercise, stance)

    def _stance(self, setup: Setup, technique: Technique) -> Stance:
        """The legs over feet that stay where they are, the thighs turned out as this lifter does."""
        stance = setup.stance
        if stance.follows is None or stance.width is None:
            return stance
        feet = Feet(stance.width, stance.toe_out, stance.toe_out if technique.knee_over_toe else 0.0)
        shin = min(setup.shin_angle, setup.shin_limit)
        stance = stance_of_squat(self.body, feet, shin, setup.thigh_angle, technique.hip_abduction, stated=False)
        thigh = stance.thigh + self._turned(setup.exercise, technique.stance)
        if stance.follows != "shank":
            return stance_at(stance.width, stance.toe_out, stance.shank, thigh, follows=stance.follows)
        aside = self.body.thigh * cos(min(setup.thigh_angle, STEEPEST)) * (sin(thigh) - stance.thigh_aside)
        shank = asin(max(-1.0, min(1.0, stance.shank_aside + aside / (self.body.shank * sin(shin)))))
        return stance_at(stance.width, stance.toe_out, shank, thigh, follows="shank")

    def _truth(self, way: Sequence[Solution], setup: Setup, seen: float, parts: np.ndarray | None = None) -> Truth:
        at_hip, hardest = (max(way, key=lambda one: getattr(one, joint)) for joint in ("hip", "lumbosacral"))
        weight = GRAVITY * (self.body.above_mass + (0.0 if setup.carry.kind == "pelvis" else setup.load))
        return Truth(
            _largest([one.ankle for one in way]),
            _largest([one.knee for one in way]),
            at_hip.hip,
            at_hip.hip_adductor,
            at_hip.hip_resultant,
            hardest.lumbosacral,
            degrees(way[0].trunk_lean + seen),
            hardest.lumbosacral / self.arm + weight * cos(hardest.trunk_lean),
            0.5 if setup.split is None else setup.split.lead_share,
            degrees(way[0].shin_angle),
            degrees(setup.thigh_angle),
            self._turning(way, setup, WAY[: len(way)] if parts is None else parts),
        )

    def _turning(self, way: Sequence[Solution], setup: Setup, parts: np.ndarray) -> Turning:
        """Moments grow with the force, which falls as half a sine with the height of the hip."""
        usual = LIFTS[setup.exercise].usual
        excess = max(0.0, usual.value + self.turn * usual.sd - 1.0)
        lowest = sin(setup.thigh_angle)
        up = (np.sin(setup.thigh_angle + parts * (np.pi / 2 - setup.thigh_angle)) - lowest) / (1.0 - lowest)
        force = 1.0 + excess * np.maximum(0.0, np.cos(np.pi * up))
        at_hip, factor = max(zip(way, force, strict=True), key=lambda one: one[0].hip * one[1])
        return Turning(
            _largest([one.ankle * more for one, more in zip(way, force, strict=True)]),
            _largest([one.knee * more for one, more in zip(way, force, strict=True)]),
            at_hip.hip * factor,
            at_hip.hip_adductor * factor,
            at_hip.hip_resultant * factor,
            max(one.lumbosacral * more for one, more in zip(way, force, strict=True)),
        )


def _spreads(one: Distribution) -> tuple[float, float]:
    return one.between, one.within


def _largest(moments: list[float]) -> float:
    """The largest extensor moment, or the largest flexor one where it is never extensor."""
    return max(moments) if max(moments) > 0 else min(moments)


def _split_normal(draw: Generator, low: float, high: float) -> float:
    """A deviation that is `low` or `high` one standard deviation down or up."""
    z = draw.standard_normal()
    return float(-z * low if z < 0 else z * high)


def _drawn_body(known: Body, draw: Generator) -> Body:
    """A body of the known mass and stature with its own mass above the joint, and its own lengths if none are known."""
    body = known if known.sex else of_sex(known, "female" if draw.integers(2) else "male")
    spread, thigh, foot = (
        length_spread(known.sex),
        draw.standard_normal(),
        1 + draw.standard_normal() * length_spread(known.sex).foot,
    )
    lengths = {
        "shank": 1 + draw.standard_normal() * spread.shank,
        "thigh": 1 + thigh * spread.thigh,
        "trunk": 1 - thigh * spread.trunk,
        "foot": foot,
    }
    own = {name: getattr(known, name) * factor for name, factor in lengths.items() if name not in known.measured}
    if "foot" in own:
        own |= {name: getattr(known, name) * foot for name in ("ankle_from_heel", "ball_from_heel")}
    lightest = min(body.above_mass, BODY.spread.above_lumbosacral_mass_low.value * body.mass)
    heaviest = BODY.spread.above_lumbosacral_mass_high.value * body.mass
    return replace(
        body,
        **own,
        arm=known.arm * (1 + draw.standard_normal() * POSTURES.pull.arm_spread.value),
        hip_centres=known.hip_centres + draw.normal(0.0, POSTURES.spread.hip_centres.value),
        lumbosacral_level=body.lumbosacral_level + draw.normal(0.0, BODY.spread.lumbosacral_level.value),
        above_mass=body.above_mass + _split_normal(draw, lightest - body.above_mass, heaviest - body.above_mass),
    )
