"""Assumptions of the model for one setup, in sentences for the caller's `basis`."""

from __future__ import annotations

from math import degrees

from service.knowledge.posture_rules import EXERCISE_RULES, POSTURES
from service.mechanics.body import MEASURABLE, Body
from service.mechanics.setups import Setup, Technique

_PREFERRED_SHIN = {
    name: f"Preferred shin angle {degrees(rule.shin_angle):.0f} deg "
    f"{'at the bottom' if rule.family == 'hinge' else 'at a level thigh'} (posture rule)."
    for name, rule in EXERCISE_RULES.items()
}
_ASSUMED_LIMIT = f"Ankle dorsiflexion taken to end at {POSTURES.defaults.ankle_limit.value:.0f} deg; none was stated."


def assumptions_of(
    body: Body, setup: Setup, technique: Technique, share: float, limited_by: tuple[str, ...]
) -> tuple[str, ...]:
    """The sentences that apply to one lifter's setup.

    Args:
        body: the lifter
        setup: as resolved
        technique: as requested
        share: share of the weight of body and load on the computed leg [1]
        limited_by: limits that kept the lifter from the posture rule
    """
    assumed = [
        "Everything at rest in the sagittal plane.",
        f"The centre of mass of body and load stands over {setup.balance:.2f} of the foot, from the heel.",
    ]
    if technique.shin_angle is None:
        assumed.append(_PREFERRED_SHIN[setup.exercise])
    if technique.stance != "shoulder" and (technique.stance == "narrow" or setup.family != "squat"):
        assumed.append(f"A {technique.stance} stance is computed like the exercise's usual one.")
    if technique.ankle_dorsiflexion is None and "ankle_dorsiflexion" in limited_by:
        assumed.append(_ASSUMED_LIMIT)
    if setup.family == "split":
        assumed.append(f"The lead leg carries {share:.2f} of body and load.")
        assumed.append(f"Trunk lean {degrees(setup.trunk_lean):.0f} deg; horizontal forces between the feet left out.")
    if body.sex is None:
        assumed.append("Segment masses are the mean of the female and the male table.")
    missing = [name for name in MEASURABLE if name not in body.measured]
    if missing:
        assumed.append(f"From stature, not measured: {', '.join(missing)}.")
    return tuple(assumed)
