"""The load path of an exercise through the spine, where only the lean of the trunk is known."""

from __future__ import annotations

from typing import Final

from service.knowledge.catalogue import Exercise
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body
from service.mechanics.spine import SpineSetup

CARRIES: Final = ("trunk", "hands", "pelvis")
"""How a load may be carried that has a modelled path through a standing spine, or, at the pelvis, none through it."""


def upper_body_height(body: Body, exercise: Exercise) -> float:
    """Where along the trunk the mass above the lumbosacral joint acts, from the joint [m].

    Arms at a bar go with the trunk; with a load in the hands they hang straight down, and act at the shoulder.
    """
    if exercise.carry == "trunk":
        return (body.above_centre_at_bar - body.lumbosacral_level) * body.trunk
    arms = body.arms_mass * body.arms_centre / body.above_mass
    return (body.above_centre_hanging - body.lumbosacral_level) * body.trunk + arms


def reach_forward(body: Body, exercise: Exercise) -> float:
    """First moment of arms that reach forward, as with a load on the pelvis, whatever the lean [kg·m]."""
    return body.arms_mass * body.arms_centre if exercise.carry == "pelvis" else 0.0


def load_path(exercise: Exercise, body: Body, load: float, lean: float) -> SpineSetup:
    """Where the load of an exercise acts on the trunk.

    Args:
        exercise: with a carry of CARRIES
        body: of the lifter
        load: on the implement [kg]
        lean: trunk from the vertical [rad]
    """
    along, anterior = body.trunk * (1 - body.lumbosacral_level), 0.0
    rule = EXERCISE_RULES.get(exercise.id)
    if exercise.carry == "trunk" and rule is not None:
        scale = body.stature / BAR_REFERENCE_STATURE
        along, anterior = along + rule.along * scale, rule.anterior * scale
    return SpineSetup(0.0 if exercise.carry == "pelvis" else load, along, anterior, lean)
