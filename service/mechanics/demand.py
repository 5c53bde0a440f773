"""What one lifter, one exercise and one load ask of ankle, knee, hip and lower back, from standing to the bottom."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, degrees, pi, sin

from msgspec import Struct
from msgspec.structs import replace

from service.knowledge.mechanics_data import POSTURES, Family
from service.mechanics.balance import leg_statics, upper_body_statics
from service.mechanics.body import GRAVITY, MEASURABLE, Body, unusual_lengths
from service.mechanics.moments import (
    Moments,
    bilateral_moments,
    lead_leg_moments,
    lumbosacral_moment,
    mass_above_lumbosacral,
)
from service.mechanics.posture import Posture, shin_shape
from service.mechanics.setup_checks import check_setup
from service.mechanics.setups import (
    USUAL_TECHNIQUE,
    Depth,
    Setup,
    Technique,
    posture_at,
    resolve_setup,
    rule_for,
    shin_at,
)
from service.refusals import Refusal

JOINTS = ("ankle", "knee", "hip", "lumbosacral")

_STANDING = pi / 2  # [rad], thigh angle
_RANGE_STEPS = 6  # postures looked at from the bottom to just short of standing
_TIE = 1e-9  # [N·m], a moment that does not change with depth is said to peak at the bottom


class Peak(Struct, frozen=True):
    """The largest extensor moment of a joint in the range, or the largest flexor one if it is never extensor.

    moment [N·m], negative for a flexor one; thigh_angle, knee_flexion: where it occurs [rad].
    """

    moment: float
    thigh_angle: float
    knee_flexion: float


class Demand(Struct, frozen=True):
    """What a setup asks of a lifter.

    load [kg]; setup: as resolved; posture, moments: at the bottom; in a split stance ankle, knee and hip are the lead
    leg's. peaks: by joint, through the range. trunk_lean [rad]: at the bottom. body_above, load_above: mass that the
    spine carries at the lumbosacral joint [kg]; weight_above: their weight [N]. lead_share: of the system weight [1],
    0.5 on both feet; share_range: within which it is met, split stances only. limited_by: limits that kept the lifter
    from the rule's posture or depth. cautions: codes of knowledge/postures.toml.
    assumptions: sentences for the caller's `basis`.
    """

    exercise: str
    family: Family
    load: float
    setup: Setup
    posture: Posture
    moments: Moments
    peaks: dict[str, Peak]
    trunk_lean: float
    body_above: float
    load_above: float
    weight_above: float
    lead_share: float
    share_range: tuple[float, float] | None
    limited_by: tuple[str, ...]
    cautions: tuple[str, ...]
    assumptions: tuple[str, ...]


def setup_demand(
    body: Body, exercise_id: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> Demand:
    """Posture, moments and their peaks for one lifter, one exercise and one load.

    load: on the implement [kg], for the whole lifter also in split stances; depth: the exercise's usual one if None;
    technique: the exercise's posture rule if None.
    Raises Refusal for an exercise without a posture rule, for values out of range and for a posture that cannot be had.
    """
    technique = technique or USUAL_TECHNIQUE
    check_setup(body, exercise_id, load, depth, technique)
    setup = resolve_setup(body, exercise_id, load, depth=depth, technique=technique)
    limited_by: tuple[str, ...] = ()
    if technique.hip_flexion is not None:
        setup, limited_by = _within_hip_limit(body, setup, technique.hip_flexion, depth)
    share = lead_share(exercise_id)
    posture, moments = moments_at(body, setup, setup.thigh_angle, share)
    above = mass_above_lumbosacral(body, load, setup.carry)
    limited_by = posture.limited_by + limited_by
    return Demand(
        exercise_id,
        setup.family,
        load,
        setup,
        posture,
        moments,
        _peaks(body, setup, share),
        posture.trunk_lean,
        body.above_mass,
        above - body.above_mass,
        GRAVITY * above,
        share,
        _share_range(exercise_id),
        limited_by,
        _cautions(body, setup, posture),
        _assumptions(body, setup, technique, limited_by),
    )


def lead_share(exercise_id: str) -> float:
    """Share of the system weight on the leg that is computed: the lead leg's in a split stance, else one half."""
    share = rule_for(exercise_id).lead_share
    return 0.5 if share is None else share.value


def _share_range(exercise_id: str) -> tuple[float, float] | None:
    share = rule_for(exercise_id).lead_share
    return None if share is None else (share.low, share.high)


def moments_at(body: Body, setup: Setup, thigh_angle: float, share: float) -> tuple[Posture, Moments]:
    """Posture and moments of a setup at one thigh angle [rad]; share: lead leg's in a split stance [1]."""
    posture = posture_at(body, setup, thigh_angle)
    if setup.family != "split":
        return posture, bilateral_moments(body, posture, setup.load, setup.carry)
    leg = lead_leg_moments(body, share, body.mass + setup.load, posture.shin_angle, thigh_angle, balance=setup.balance)
    load_arm = posture.load_point.x - posture.lumbosacral.x
    lumbosacral = lumbosacral_moment(body, posture.trunk_lean, setup.load, setup.carry, load_arm)
    arm = lumbosacral / (GRAVITY * mass_above_lumbosacral(body, setup.load, setup.carry))
    return posture, Moments(leg.ankle, leg.knee, leg.hip, lumbosacral, leg.ankle_arm, leg.knee_arm, leg.hip_arm, arm)


# Moments at ankle, knee, hip and lumbosacral joint [N·m] and trunk lean [rad] at one thigh angle.
Solution = tuple[float, float, float, float, float]


def solve(body: Body, setup: Setup, thigh_angles: Sequence[float], share: float) -> list[Solution]:
    """The numbers of moments_at for several thigh angles, with all that depth leaves alone computed once.

    thigh_angles [rad]; share: of the system weight on the computed leg [1].
    Raises Refusal when one of the postures cannot be balanced.
    """
    load, carry = setup.load, setup.carry
    mass = body.mass + load
    balance_x = setup.balance * body.foot
    split = setup.family == "split"
    legs = leg_statics(body, share * mass, balance_x, 0.5) if split else leg_statics(body, mass, balance_x)
    per_leg = GRAVITY if split else GRAVITY / 2
    upper = upper_body_statics(body, load, carry, balance_x)
    ankle = per_leg * legs.ankle
    shank, thigh, ankle_x = body.shank, setup.thigh_projection * body.thigh, body.ankle_from_heel
    solutions = []
    for thigh_angle in thigh_angles:
        knee_reach = shank * sin(shin_at(setup, thigh_angle))
        thigh_reach = thigh * cos(thigh_angle)
        knee = legs.knee + legs.knee_per_reach * knee_reach
        hip = legs.both_per_reach * thigh_reach - knee
        hip_x = ankle_x + knee_reach - thigh_reach
        lean = setup.trunk_lean if split else upper.lean(hip, hip_x)
        solutions.append((ankle, per_leg * knee, per_leg * hip, GRAVITY * upper.lumbosacral(lean, hip_x), lean))
    return solutions


def _peaks(body: Body, setup: Setup, share: float) -> dict[str, Peak]:
    bottom = setup.thigh_angle
    step = (_STANDING - bottom) / _RANGE_STEPS
    angles = [bottom + number * step for number in range(_RANGE_STEPS)]
    solutions = solve(body, setup, angles, share)
    peaks: dict[str, Peak] = {}
    for index, joint in enumerate(JOINTS):
        values = [solution[index] for solution in solutions]
        place = _peak_place(values)
        angle = angles[place]
        peaks[joint] = Peak(values[place], angle, shin_at(setup, angle) + _STANDING - angle)
    return peaks


def _peak_place(values: list[float]) -> int:
    """Where the largest extensor moment is (the largest flexor one if there is none); the bottom wins a tie."""
    sign = 1.0 if max(values) > 0.0 else -1.0
    place = 0
    for number, value in enumerate(values):
        if sign * value > sign * values[place] + _TIE:
            place = number
    return place


def _within_hip_limit(body: Body, setup: Setup, limit: float, depth: Depth | None) -> tuple[Setup, tuple[str, ...]]:
    """The setup no deeper than the trunk-to-thigh limit lets it go; an asked-for depth beyond it is refused."""
    if posture_at(body, setup, setup.thigh_angle).hip_flexion <= limit:
        return setup, ()
    low, high = setup.thigh_angle, _STANDING
    for _ in range(40):
        middle = (low + high) / 2
        if posture_at(body, setup, middle).hip_flexion > limit:
            low = middle
        else:
            high = middle
    reached = posture_at(body, setup, high)
    if depth is not None:
        raise Refusal.one(
            "depth",
            f"The trunk would come closer to the thigh than the stated hip flexion of {degrees(limit):.0f} deg.",
            f"the thigh no lower than {degrees(high):.0f} deg above the horizontal (knee bent "
            f"{degrees(reached.knee_flexion):.0f} deg), a heel lift, or a variation with a more upright trunk",
        )
    cut = replace(
        setup,
        thigh_angle=high,
        shin_angle=reached.shin_angle - setup.shin_nudge,
        shape_at_bottom=shin_shape(high),
    )
    return cut, ("hip_flexion",)


def _cautions(body: Body, setup: Setup, posture: Posture) -> tuple[str, ...]:
    codes = [caution.code for caution in POSTURES.cautions if setup.exercise in caution.exercises]
    if setup.pitch > 0.0:
        codes.append("heel_lift_upper_bound")
    if setup.thigh_projection < 1.0:
        codes.append("frontal_plane_not_modelled")
    if unusual_lengths(body):
        codes.append("unusual_segment_length")
    if setup.family == "squat" and degrees(posture.trunk_lean) > POSTURES.limits.trunk_lean.high:
        codes.append("lean_outside_squat_range")
    return tuple(codes)


def _assumptions(body: Body, setup: Setup, technique: Technique, limited_by: tuple[str, ...]) -> tuple[str, ...]:
    rule = rule_for(setup.exercise)
    said = [
        "Everything at rest in the sagittal plane.",
        f"The centre of mass of body and load stands over {setup.balance:.2f} of the foot, from the heel.",
    ]
    if technique.shin_angle is None:
        where = "at the bottom" if rule.family == "hinge" else "at a level thigh"
        said.append(f"Preferred shin angle {degrees(rule.shin_angle):.0f} deg {where} (posture rule).")
    if technique.ankle_dorsiflexion is None and "ankle_dorsiflexion" in limited_by:
        limit = POSTURES.defaults.ankle_limit.value
        said.append(f"Ankle dorsiflexion taken to end at {limit:.0f} deg; none was stated.")
    if rule.family == "split":
        said.append(f"The lead leg carries {lead_share(setup.exercise):.2f} of body and load.")
        said.append(f"Trunk lean {degrees(setup.trunk_lean):.0f} deg; horizontal forces between the feet left out.")
    if body.sex is None:
        said.append("Segment masses are the mean of the female and the male table.")
    missing = [name for name in MEASURABLE if name not in body.measured]
    if missing:
        said.append(f"From stature, not measured: {', '.join(missing)}.")
    return tuple(said)
