"""What to mind of a solved setup: codes of postures.toml."""

from __future__ import annotations

from math import radians

from service.knowledge.posture_rules import HELD_BEFORE_CHEST, POSTURE_RULES, POSTURES, exercise_of
from service.mechanics.body import Body, unusual_lengths
from service.mechanics.frontal import stance_cautions
from service.mechanics.resolved_setup import Setup
from service.mechanics.stance import is_wide
from service.mechanics.technique import Technique

_MOST_BEFORE_CHEST = POSTURES.defaults.before_chest.value
_STEEPEST_PUBLISHED = radians(POSTURES.limits.published_lean.high)
_CAUTIONS_OF_RULE = {
    rule: tuple(caution.code for caution in POSTURES.cautions if exercise_of(rule) in caution.exercises)
    for rule in POSTURE_RULES
}


def cautions_of(body: Body, setup: Setup, technique: Technique, trunk_lean: float) -> tuple[str, ...]:
    """Codes of what to mind.

    Args:
        body: the lifter
        setup: as resolved
        technique: as requested
        trunk_lean: trunk from the vertical at the bottom [rad]
    """
    codes = list(_CAUTIONS_OF_RULE.get(setup.exercise, ()))
    if setup.pitch > 0.0:
        codes.append("heel_lift_upper_bound")
        if technique.ankle_dorsiflexion is None and technique.shin_angle is None:
            codes.append("heel_lift_ankle_not_stated")
    codes += stance_cautions(setup.stance, technique)
    if setup.family == "squat" and is_wide(body, setup.stance):
        codes.append("wide_stance_knee")
    if setup.exercise in HELD_BEFORE_CHEST and setup.load > _MOST_BEFORE_CHEST:
        codes.append("load_before_chest")
    if body.measured and unusual_lengths(body):
        codes.append("unusual_segment_length")
    if setup.closed is not None and setup.closed.leans_further:
        codes.append("light_pull_leans_further")
    if setup.family == "squat" and technique.seen is None and trunk_lean > _STEEPEST_PUBLISHED:
        codes.append("lean_beyond_published")
    return tuple(codes)
