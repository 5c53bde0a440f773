"""Pulls by the rules of postures.toml: where the shoulder and the bar are, at which height, and whether it balances."""

from __future__ import annotations

from functools import cache
from math import cos, pi

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, ExerciseRule
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body, build_body
from service.mechanics.closure import Pull, PullPosture, at_stated_lean, closed
from service.mechanics.depth import falling_root
from service.mechanics.seen import Departure
from service.mechanics.tipping import refuse_balance
from service.messages import message
from service.units import length

_QUARTER = pi / 2
_PULL = POSTURES.pull
_BALANCE = POSTURES.limits.balance
_CLOSES = 1e-9  # [m], by rounding
_FURTHEST_AHEAD = 0.30  # [m], of the shoulder beyond its usual place, more than any lifter would need
_REFERENCE = build_body(75.0, BAR_REFERENCE_STATURE)
"""The lifter in whom the usual lean of a lift is met; its mass does not enter."""


def pull_of(
    body: Body,
    rule_id: str,
    load: float,
    *,
    shin_angle: float,
    shin_is_stated: bool,
    shin_limit: float,
    ankle_y: float,
    leg_projection: float,
    drift: float,
    lean: float | None,
    departure: Departure,
) -> Pull:
    """A lifter's pull by the rule of an exercise.

    Args:
        body: the lifter
        rule_id: id of a posture rule of the family pull
        load: mass of the implement [kg]
        shin_angle: shin from the vertical as stated or as usual [rad]
        shin_is_stated: whether it is stated
        shin_limit: greatest shin angle that ankle and heel lift allow [rad]
        ankle_y: ankle above the floor [m]
        leg_projection: share of what foot, shank and thigh extend along the floor that lies in the sagittal plane [1]
        drift: load ahead of its usual line [m]
        lean: trunk from the vertical as stated; None where it follows [rad]
        departure: of the lifter from the rule, as far as it was seen
    """
    rule = POSTURE_RULES[rule_id]
    scale = body.stature / BAR_REFERENCE_STATURE
    return Pull(
        body,
        load,
        ankle_y,
        shin_angle if shin_is_stated else min(shin_angle, shin_limit),
        shin_is_stated,
        leg_projection,
        usual_grip_height(body, rule),
        None if rule.line is None else rule.line * body.foot,
        drift,
        shoulder_ahead(rule_id) * scale + departure.shoulder_ahead,
        _PULL.shoulder_drop.mean * scale + departure.shoulder_drop,
        _PULL.shin_to_front.mean * scale + _PULL.bar_radius.value,
        lean,
        departure.turning_height,
    )


def for_body(pull: Pull, rule_id: str, body: Body) -> Pull:
    """The same pull by a lifter of other segments and the same stature.

    Args:
        pull: the lifter's
        rule_id: id of its posture rule
        body: the other lifter
    """
    rule = POSTURE_RULES[rule_id]
    line_x = None if rule.line is None else rule.line * body.foot
    return replace(pull, body=body, usual_height=usual_grip_height(body, rule), line_x=line_x)


@cache
def shoulder_ahead(rule_id: str) -> float:
    """How far the shoulder of a lifter of 1.75 m is ahead of the load where a lift begins or turns.

    Args:
        rule_id: id of a posture rule of the family pull

    Returns:
        the usual distance, or where the rule has a usual lean the distance that goes with that lean [m]
    """
    rule = POSTURE_RULES[rule_id]
    if rule.trunk_lean is None:
        return _PULL.shoulder_ahead.mean
    usual = Pull(
        _REFERENCE,
        0.0,
        _REFERENCE.ankle_height,
        rule.shin_angle.mean,
        shin_is_stated=False,
        leg_projection=cos(rule.abduction),
        usual_height=usual_grip_height(_REFERENCE, rule),
        line_x=None if rule.line is None else rule.line * _REFERENCE.foot,
        drift=0.0,
        ahead=0.0,
        lowered=_PULL.shoulder_drop.mean,
        shin_to_bar=_PULL.shin_to_front.mean + _PULL.bar_radius.value,
        lean=rule.trunk_lean.mean,
    )
    return at_stated_lean(usual, usual.usual_height, rule.trunk_lean.mean).ahead


def posture_of_pull(pull: Pull, grip_height: float, *, unbalanced: bool = False) -> PullPosture:
    """The posture at one height of the grip.

    A load so light that the lifter would stand behind where a foot is stood on takes the shoulder further ahead, until
    the foot is stood on; a stated lean is kept.

    Args:
        pull: the lifter's
        grip_height: grip above the floor [m]
        unbalanced: whether the posture is taken as it closes, even if the lifter would tip

    Raises:
        Refusal: when straight arms do not take the hands there, or the lifter would tip
    """
    posture = _checked(pull, closed(pull, grip_height))
    foot = pull.body.foot
    if unbalanced:
        return posture
    if pull.lean is not None:
        if not 0.0 <= posture.balance_x <= foot:
            refuse_balance(posture.balance_x / foot, "technique/trunk_lean")
        return posture
    if posture.balance_x < _BALANCE.low * foot:
        further = falling_root(
            lambda more: _BALANCE.low * foot - closed(replace(pull, ahead=pull.ahead + more), grip_height).balance_x,
            0.0,
            _FURTHEST_AHEAD,
        )
        if further is not None:
            further_ahead = replace(pull, ahead=pull.ahead + further)
            return replace(_checked(further_ahead, closed(further_ahead, grip_height)), leans_further=True)
    if not _BALANCE.low * foot <= posture.balance_x <= _BALANCE.high * foot:
        refuse_balance(
            posture.balance_x / foot,
            "technique/shin_angle" if pull.shin_is_stated and not pull.drift else "technique/bar_forward_of_midfoot",
        )
    return posture


def usual_grip_height(body: Body, rule: ExerciseRule) -> float:
    """Height of the grip above what the load stands on, at the bottom of the exercise's own range [m].

    Args:
        body: the lifter
        rule: of the exercise
    """
    if rule.grip_shank_fraction is not None:
        return body.ankle_height + rule.grip_shank_fraction * body.shank
    return rule.grip_height or 0.0


def _checked(pull: Pull, posture: PullPosture) -> PullPosture:
    if posture.gap > _CLOSES or abs(posture.trunk_lean) > _QUARTER:
        raise Refusal.one(
            "depth" if pull.lean is None or _out_of_reach(pull, posture.grip_height) else "technique/trunk_lean",
            message("arms_do_not_reach_the_bar", height=length(posture.grip_height, "m")),
            "another bar height (depth/box_height), technique/trunk_lean or technique/shin_angle, or another variation",
            or_else=(
                "technique/shin_angle",
                "technique/bar_forward_of_midfoot",
                "technique/heel_lift",
                "lifter/segment_lengths",
            ),
        )
    return posture


def _out_of_reach(pull: Pull, grip_height: float) -> bool:
    """Whether no lean at all takes the hands there with the shin as it is."""
    return closed(replace(pull, lean=None), grip_height).gap > _CLOSES
