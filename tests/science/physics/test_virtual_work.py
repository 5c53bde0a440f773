"""Joint moments against the gradient of potential energy.

A joint turned a little lifts or lowers all that is above it.
"""

from __future__ import annotations

from math import cos, pi, sin

from msgspec.structs import replace

from service.mechanics.body import GRAVITY, Body
from service.mechanics.demand import Demand
from service.mechanics.posture import Point
from tests.science.physics.lifters import Case, random_cases

STEP = 1e-4  # [rad]
TOLERANCE = 1e-4  # [N·m]: the numerical gradient's own error, with energies of some kilojoules

Masses = list[tuple[float, Point]]


def between(start: Point, end: Point, part: float) -> Point:
    return Point(start.x + part * (end.x - start.x), start.y + part * (end.y - start.y))


def arms(body: Body, demand: Demand) -> tuple[float, Point]:
    shoulder = demand.posture.shoulder
    if demand.setup.carry.kind == "pelvis":
        return body.arms_mass, Point(shoulder.x + body.arms_centre, shoulder.y)
    if demand.family == "pull":
        return body.arms_mass, between(demand.posture.arms_from, demand.posture.load_point, body.arms_centre / body.arm)
    return body.arms_mass, Point(shoulder.x, shoulder.y - body.arms_centre)


def upper_body(body: Body, demand: Demand, mass: float, at_bar: float, hanging: float) -> Masses:
    """A tabulated part of the upper body on the line from hip to shoulder.

    With free arms taken out and put where they are.
    """
    hip, shoulder = demand.posture.hip, demand.posture.shoulder
    if demand.setup.carry.kind == "trunk":
        return [(mass, between(hip, shoulder, at_bar))]
    along_the_trunk = 1.0 - body.arms_centre / body.trunk
    rest = mass - body.arms_mass
    return [
        (rest, between(hip, shoulder, (mass * hanging - body.arms_mass * along_the_trunk) / rest)),
        arms(body, demand),
    ]


def masses_above(body: Body, demand: Demand, joint: str) -> Masses:
    posture = demand.posture
    load = [(demand.load, posture.load_point)]
    if joint == "lumbosacral":
        above = upper_body(body, demand, body.above_mass, body.above_centre_at_bar, body.above_centre_hanging)
        return above if demand.setup.carry.kind == "pelvis" else above + load
    masses = upper_body(body, demand, body.upper_mass, body.upper_centre_at_bar, body.upper_centre_hanging) + load
    if joint in {"knee", "ankle"}:
        masses.append((body.thighs_mass, between(posture.hip, posture.knee, body.thigh_centre)))
    if joint == "ankle":
        masses.append((body.shanks_mass, between(posture.knee, posture.ankle, body.shank_centre)))
    return masses


def energy_after_turning(masses: Masses, joint: Point, angle: float) -> float:
    """Potential energy [J] when everything above the joint turns forward about it as one body."""
    return sum(
        mass * GRAVITY * (joint.y + (position.y - joint.y) * cos(angle) - (position.x - joint.x) * sin(angle))
        for mass, position in masses
    )


def moment_by_virtual_work(body: Body, demand: Demand, joint: str) -> float:
    """The moment that does the work: what is won by turning forward has to be held back by the extensors."""
    masses, position = masses_above(body, demand, joint), getattr(demand.posture, joint)
    rise = energy_after_turning(masses, position, STEP) - energy_after_turning(masses, position, -STEP)
    forward = -rise / (2 * STEP)
    if joint == "lumbosacral":
        return forward
    return (-forward if joint == "knee" else forward) / 2


def about_mediolateral_axis(demand: Demand, joint: str) -> float:
    """The service's moment about the axis about which all is turned here; the legs' own are turned out."""
    stance, statics, posture = demand.setup.stance, demand.statics, demand.posture
    if joint == "ankle":
        return stance.foot_ahead * demand.moments.ankle
    if joint == "knee":
        of_shank = statics.legs.knee_per_reach * (posture.knee.x - posture.ankle.x)
        return statics.per_leg * (of_shank - statics.ankle_ahead)
    moment: float = getattr(demand.moments, joint)
    return moment


def worst_difference(cases: list[Case], joints: tuple[str, ...], thigh_error: float = 0.0) -> list[float]:
    worst = []
    for body, demand in cases:
        checked = replace(body, thigh_centre=body.thigh_centre + thigh_error)
        worst.append(
            max(
                abs(moment_by_virtual_work(checked, demand, joint) - about_mediolateral_axis(demand, joint))
                for joint in joints
            )
        )
    return worst


def test_moments_on_both_feet_do_the_virtual_work() -> None:
    cases = random_cases(500, ("squat", "hinge", "pull"))
    assert max(worst_difference(cases, ("ankle", "knee", "hip", "lumbosacral"))) < TOLERANCE


def test_lumbosacral_moment_of_a_split_stance_does_the_virtual_work() -> None:
    cases = random_cases(100, ("split",))
    assert max(worst_difference(cases, ("lumbosacral",))) < TOLERANCE


def test_the_check_notices_a_wrong_centre_of_mass() -> None:
    cases = [case for case in random_cases(300, ("squat", "hinge", "pull")) if case.demand.posture.thigh_angle < pi / 3]
    assert min(worst_difference(cases, ("ankle", "knee"), thigh_error=0.01)) > TOLERANCE
