"""Assumptions of the model for one setup, as messages for the caller's `basis`."""

from __future__ import annotations

from math import pi

from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.body import MEASURABLE, Body
from service.mechanics.seen import Departure, departing_in
from service.mechanics.seen_messages import assumption_of_seen
from service.mechanics.setups import Setup, Technique
from service.mechanics.split_messages import assumptions_of_split
from service.mechanics.stance import Stance
from service.messages import Message, message
from service.units import Angle, angle, length

_ANKLE_LIMIT = Angle(POSTURES.defaults.ankle_limit.value, "deg")


def _preferred_shin(exercise: str) -> Message:
    rule = POSTURE_RULES[exercise]
    return message(
        "assumed_shin_at_bottom" if rule.family == "pull" else "assumed_shin_at_level_thigh",
        angle=angle(rule.shin_angle.mean, "deg"),
    )


def _stance_of(stance: Stance, width: float) -> Message:
    return message(
        "assumed_stance",
        width=length(width, "m"),
        toe_out=angle(stance.toe_out, "deg"),
        thigh=angle(stance.thigh, "deg"),
    )


def _hinge(setup: Setup, departure: Departure | None) -> Message:
    rule = POSTURE_RULES[setup.exercise]
    kept = departing_in(setup.exercise, departure).trunk_lean
    return message(
        "assumed_hinge",
        lean=angle(kept if rule.trunk_lean is None else rule.trunk_lean.mean + kept, "deg"),
        shin=angle(setup.shin_angle, "deg"),
        knee=angle(setup.shin_angle + pi / 2 - setup.thigh_angle, "deg"),
        back=angle(rule.shin_angle.low, "deg"),
    )


def _closed_by(pull: Setup) -> Message:
    ahead, lowered = pull.carry.ahead, length(pull.carry.lowered, "cm")
    if ahead < 0.0:
        return message("assumed_pull_closed_behind", behind=length(-ahead, "cm"), lowered=lowered)
    return message("assumed_pull_closed", ahead=length(ahead, "cm"), lowered=lowered)


def assumptions_of(body: Body, setup: Setup, technique: Technique, limited_by: tuple[str, ...]) -> tuple[Message, ...]:
    """What applies to one lifter's setup.

    Args:
        body: the lifter
        setup: as resolved
        technique: as requested
        limited_by: limits that kept the lifter from the posture rule
    """
    assumed = [message("assumed_at_rest"), message("assumed_balance_point", balance=setup.balance)]
    assumed += assumption_of_seen(setup, technique)
    if technique.shin_angle is None and setup.split is None:
        assumed.append(
            _hinge(setup, technique.departure) if setup.family == "hinge" else _preferred_shin(setup.exercise)
        )
    if setup.pull is not None:
        assumed.append(_closed_by(setup))
    if setup.family == "squat" and setup.stance.width is not None:
        assumed.append(_stance_of(setup.stance, setup.stance.width))
    elif technique.stance != "shoulder" or technique.stance_width is not None or technique.toe_out is not None:
        assumed.append(message("assumed_stance_as_usual"))
    if technique.ankle_dorsiflexion is None and "ankle_dorsiflexion" in limited_by:
        assumed.append(message("assumed_ankle_limit", angle=_ANKLE_LIMIT))
    if setup.split is not None:
        assumed.append(assumptions_of_split(setup.exercise, setup.split))
    if body.sex is None:
        assumed.append(message("assumed_mean_segment_table"))
    if missing := tuple([name for name in MEASURABLE if name not in body.measured]):
        assumed.append(_from_stature(missing))
    return tuple(assumed)


def _from_stature(lengths: tuple[str, ...]) -> Message:
    return message("assumed_lengths_from_stature", lengths=lengths)
