"""What the model of the arm says of the setups of data/arm_setups.toml, as plain numbers."""

from __future__ import annotations

import tomllib
from functools import cache
from itertools import pairwise
from math import acos, degrees, hypot
from typing import Final

import msgspec

from service.knowledge.anthropometry import Sex
from service.mechanics.arm.lifts import ArmSetup, ArmState, ArmTechnique, arm_setup, outward_of, state_at
from service.mechanics.arm.pose import elevation, outward_rotation, plane_of_elevation
from service.mechanics.arm.repetition import PARTS
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.vectors import dot
from service.mechanics.body import GRAVITY, build_body
from tests.science.reference.answers import DATA

SCAPULAR_PLANE: Final = 30.0
"""Before the frontal plane, by convention [deg]."""

Answer = dict[str, float]
"""Newton metres, metres, degrees and shares [1] of one lifter in one setup."""


class ArmLifter(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A lifter of data/arm_setups.toml.

    Attributes:
        mass: body mass [kg]
        stature: stature [m]
        sex: sex
    """

    mass: float
    stature: float
    sex: Sex


class Described(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A setup of data/arm_setups.toml.

    Attributes:
        exercise: id
        load: on the implement [kg]
        grip: over biacromial breadth, where it is not the lift's own [1]
        touch: hand moved across the load's line [m]
        point: of the lift's path; None for the whole repetition
        lifter: name
    """

    exercise: str
    load: float = 0.0
    grip: float | None = None
    touch: float = 0.0
    point: int | None = None
    lifter: str = "man"


class ArmSetups(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole of data/arm_setups.toml.

    Attributes:
        lifters: by name
        setups: by name
    """

    lifters: dict[str, ArmLifter]
    setups: dict[str, Described]


ARM_SETUPS: Final = msgspec.convert(tomllib.loads((DATA / "arm_setups.toml").read_text(encoding="utf-8")), ArmSetups)


@cache
def answer(name: str) -> Answer:
    """All numbers of a setup: of its point, or the largest of the repetition."""
    described = ARM_SETUPS.setups[name]
    lifter = ARM_SETUPS.lifters[described.lifter]
    body = build_body(lifter.mass, lifter.stature, lifter.sex)
    arm = arm_of(body)
    setup = arm_setup(described.exercise, described.load, ArmTechnique(grip=described.grip, touch=described.touch))
    parts = [step / PARTS for step in range(PARTS + 1)]
    whole = [state_at(body, arm, setup, part) for part in parts]
    states = whole if described.point is None else [state_at(body, arm, setup, part_of(setup, described.point))]
    weight = body.mass * GRAVITY / 2
    first, last = whole[0].pose.upper_arm, whole[-1].pose.upper_arm
    near_90 = min(whole, key=lambda state: abs(degrees(elevation(state.pose)) - 90.0))
    return {
        "shoulder_net": max(state.moments.shoulder for state in states),
        "horizontal": max(abs(state.moments.horizontal) for state in states),
        "lowering": max(-state.moments.elevation for state in states),
        "elbow": max(abs(state.moments.elbow_extension or 0.0) for state in states),
        "outward": outward_of(setup),
        "hand_share": max(abs(state.force.z) for state in states) / weight,
        "elbow_height": min(state.pose.elbow.z for state in states),
        "elevation": max(degrees(elevation(state.pose)) for state in states),
        "plane": max(degrees(plane_of_elevation(state.pose)) for state in states),
        "plane_off_scapular": max(_off_scapular(state) for state in states),
        "outward_rotation": max(_turned(state) for state in states),
        "outward_rotation_at_90": _turned(near_90),
        "upper_arm_range": degrees(acos(dot(first, last))),
    }


def part_of(setup: ArmSetup, point: int) -> float:
    """Where a point of the lift's path is, of the whole way [1]."""
    path = setup.lift.path
    ways = [hypot(after.across - before.across, after.along - before.along) for before, after in pairwise(path)]
    return sum(ways[:point]) / sum(ways)


def _off_scapular(state: ArmState) -> float:
    return abs(degrees(plane_of_elevation(state.pose)) - SCAPULAR_PLANE)


def _turned(state: ArmState) -> float:
    turn = outward_rotation(state.pose)
    return -180.0 if turn is None else degrees(turn)


NAMES: Final = frozenset(answer("overhead"))
