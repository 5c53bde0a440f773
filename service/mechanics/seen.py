"""What was seen of a lifter's posture, and how the lifter therefore most probably departs from the posture rule."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, SHIN_OF_EXERCISE, exercise_of
from service.mechanics.depth import Depth

SeenBy = Literal["eye", "phone_video", "inclinometer"]
SeenAngle = Literal["shin_angle", "thigh_angle", "trunk_lean"]

_ERRORS = {by: errors.in_radians() for by, errors in POSTURES.seen_by.items()}
_DEPTH = POSTURES.defaults.depth_error.in_radians()


class Seen(Struct, frozen=True, gc=False):
    """Angles at the bottom as they were seen.

    Attributes:
        shin_angle: shin from the vertical [rad]
        trunk_lean: line from hip to shoulder from the vertical [rad]
        thigh_angle: thigh above the horizontal [rad]
        by: how they were seen; None where that is not stated, which is refused
    """

    shin_angle: float | None
    trunk_lean: float | None
    thigh_angle: float | None
    by: SeenBy | None


class Departure(Struct, frozen=True, gc=False):
    """How a lifter departs from the rule of the exercise in which it was seen; nil in what does not enter there.

    Attributes:
        exercise: id of its posture rule
        shin_angle: shin beyond the rule, in squats at a level thigh [rad]
        depth: thigh above the level asked for [rad]
        balance: balance point beyond the rule, of the foot's length [1]
        proportion: by how much the thigh is longer and the trunk shorter than usual, in standard deviations, as far as
            they are not measured [1]
        trunk_residual: trunk as it is seen beyond its line from hip to shoulder, which changes no moment [rad]
        shoulder_ahead: shoulder further ahead of the load of a pull [m]
        shoulder_drop: shoulder let further down in a pull [m]
        turning_height: higher turn of a pull that nothing ends [m]
        trunk_lean: lean beyond the rule of a split stance or hinge [rad]
        foot_spacing: feet further apart than by the rule, in leg lengths [1]
        lead_share: share of the lead leg beyond the rule [1]
        asked: depth that was asked for when it was seen, None for the exercise's own
        misfit: furthest that an angle lies from what the others and the rule let expect, in standard deviations [1]
        misfit_of: that angle
    """

    exercise: str
    shin_angle: float = 0.0
    depth: float = 0.0
    balance: float = 0.0
    proportion: float = 0.0
    trunk_residual: float = 0.0
    shoulder_ahead: float = 0.0
    shoulder_drop: float = 0.0
    turning_height: float = 0.0
    trunk_lean: float = 0.0
    foot_spacing: float = 0.0
    lead_share: float = 0.0
    asked: Depth | None = None
    misfit: float = 0.0
    misfit_of: SeenAngle = "shin_angle"


def depth_seen(exercise_id: str, depth: Depth | None, seen: Seen | None) -> float | None:
    """The thigh as it was seen, where no depth is stated to which it could be added [rad].

    Args:
        exercise_id: id of a posture rule
        depth: as stated
        seen: as seen

    Returns:
        thigh above the horizontal [rad]; None where it measures a depth that is asked for, or what follows
    """
    if seen is None or depth is not None or POSTURE_RULES[exercise_id].family not in ("squat", "split"):
        return None
    return seen.thigh_angle


def spread_of_depth(exercise_id: str, depth: Depth | None, seen: Seen | None) -> float:
    """How far the thigh of a lifter may be from the depth before anything else was seen [rad].

    Args:
        exercise_id: id of a posture rule
        depth: as stated
        seen: as seen

    Returns:
        one standard deviation about the level asked for, or of reading one repetition where that is the depth [rad]
    """
    if seen is None or depth_seen(exercise_id, depth, seen) is None:
        return _DEPTH.between
    error: float = _ERRORS[seen.by or "eye"].thigh_angle
    return float((error**2 + _DEPTH.within**2) ** 0.5)


def readings(exercise_id: str, depth: Depth | None, seen: Seen) -> dict[SeenAngle, tuple[float, float]]:
    """Each angle that was seen with the variance of reading it.

    Args:
        exercise_id: id of a posture rule
        depth: as stated
        seen: as seen

    Returns:
        by angle [rad] and [rad²]; without a thigh that is the depth itself
    """
    errors = _ERRORS[seen.by or "eye"]
    angles: tuple[SeenAngle, ...] = ("shin_angle", "thigh_angle", "trunk_lean")
    found: dict[SeenAngle, tuple[float, float]] = {}
    for name in angles:
        value: float | None = getattr(seen, name)
        if value is not None and not (name == "thigh_angle" and depth_seen(exercise_id, depth, seen) is not None):
            found[name] = value, getattr(errors, name) ** 2
    return found


def departing_in(exercise_id: str, departure: Departure | None) -> Departure:
    """What of a departure holds in an exercise.

    Args:
        exercise_id: id of a posture rule
        departure: as it was seen in the same or in another exercise

    Returns:
        in another exercise of the same family what is of the lifter and not of the exercise, in others nothing
    """
    if departure is None:
        return Departure(exercise_id)
    if exercise_of(departure.exercise) == exercise_of(exercise_id):
        return departure
    rule = POSTURE_RULES[departure.exercise]
    if rule.family != POSTURE_RULES[exercise_id].family:
        return Departure(exercise_id)
    of_lifter = 1.0 - (SHIN_OF_EXERCISE / rule.shin_angle.between) ** 2
    return Departure(exercise_id, of_lifter * departure.shin_angle, departure.depth, departure.balance)
