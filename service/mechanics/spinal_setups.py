"""The load of an exercise on the spine, where only the lean of the trunk is known."""

from __future__ import annotations

from typing import Final

from service.knowledge.catalogue import Exercise
from service.knowledge.posture_rules import POSTURE_RULES, ExerciseRule, posture_of
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import GRAVITY, Body
from service.mechanics.spine import ARM, SpineLoad, SpineSetup, muscle_balance, spine_load
from service.vocabulary import Implement

CARRIES: Final = ("trunk", "hands", "pelvis")
"""How a load may be carried that has a modelled path through a standing spine, or, at the pelvis, none through it."""


def _rule_of(exercise: Exercise, implement: Implement | None) -> ExerciseRule | None:
    return POSTURE_RULES.get(posture_of(exercise.id, implement) or "")


def _carried(exercise: Exercise, implement: Implement | None) -> str:
    """How the load of an exercise is carried with an implement, as CARRIES has it: dumbbells hang from the hands."""
    rule = _rule_of(exercise, implement)
    return exercise.carry if rule is None else rule.carry.partition("_")[0]


def upper_body_height(body: Body, exercise: Exercise, implement: Implement | None = None) -> float:
    """Where along the trunk the mass above the lumbosacral joint acts, from the joint [m].

    Arms at a bar go with the trunk; with a load in the hands they hang straight down, and act at the shoulder.
    """
    if _carried(exercise, implement) == "trunk":
        return (body.above_centre_at_bar - body.lumbosacral_level) * body.trunk
    arms = body.arms_mass * body.arms_centre / body.above_mass
    return (body.above_centre_hanging - body.lumbosacral_level) * body.trunk + arms


def _reach_forward(body: Body, exercise: Exercise) -> float:
    """First moment of arms that reach forward, as with a load on the pelvis, whatever the lean [kg·m]."""
    return body.arms_mass * body.arms_centre if exercise.carry == "pelvis" else 0.0


def load_path(
    exercise: Exercise,
    body: Body,
    load: float,
    lean: float,
    *,
    ahead: float = 0.0,
    implement: Implement | None = None,
) -> SpineSetup:
    """Where the load of an exercise acts on the trunk.

    Args:
        exercise: with a carry of CARRIES
        body: of the lifter
        load: on the implement [kg]
        lean: trunk from the vertical [rad]
        ahead: load ahead of its usual place on the trunk [m]
        implement: what is lifted, None for what the exercise is usually done with
    """
    along, anterior = body.trunk * (1 - body.lumbosacral_level), ahead
    rule, carried = _rule_of(exercise, implement), _carried(exercise, implement)
    if carried == "trunk" and rule is not None:
        scale = body.stature / BAR_REFERENCE_STATURE
        along, anterior = along + rule.along * scale, anterior + rule.anterior * scale
    return SpineSetup(0.0 if carried == "pelvis" else load, along, anterior, lean)


def load_at_lean(
    exercise: Exercise,
    body: Body,
    load: float,
    lean: float,
    *,
    ahead: float = 0.0,
    implement: Implement | None = None,
) -> SpineLoad:
    """The load on the lumbosacral joint at a lean, with the load in its usual place or hanging below the shoulder.

    Args:
        exercise: with a carry of CARRIES
        body: of the lifter
        load: on the implement [kg]
        lean: trunk from the vertical [rad]
        ahead: load ahead of its usual place on the trunk [m]
        implement: what is lifted, None for what the exercise is usually done with

    Source: statics, single-equivalent-muscle model.
    """
    setup = load_path(exercise, body, load, lean, ahead=ahead, implement=implement)
    one = spine_load(setup, body.above_mass, upper_body_height(body, exercise, implement), lean, ARM.value)
    if not (reach := _reach_forward(body, exercise)):
        return one
    return muscle_balance(one.moment + GRAVITY * reach, one.compression - one.muscle, one.shear, ARM.value)
