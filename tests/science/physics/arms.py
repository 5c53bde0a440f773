"""One arm as a chain of rigid bodies of an independent simulator, and random arms under random loads.

The simulator's arm hangs along the trunk and is brought into the pose by its angles: plane, elevation and turn of the
upper arm, bend of the elbow. What its hinges hold is the model's moment about the same axes, without any cross product
of ours. Armature keeps the simulator from a singular matrix where two axes meet; at rest it does nothing.
"""

from __future__ import annotations

from math import atan2, cos, radians, sin
from typing import NamedTuple

import mujoco
import numpy as np
from msgspec.structs import astuple, replace

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.knowledge.arm_lifts import ARM_LIFTS
from service.mechanics.arm.lifts import ArmSetup, ArmState, ArmTechnique, arm_setup, state_at
from service.mechanics.arm.moments import weight_direction
from service.mechanics.arm.pose import elbow_flexion, elevation, outward_rotation, plane_of_elevation
from service.mechanics.arm.segments import Arm, arm_fractions, arm_of, with_own_arm
from service.mechanics.arm.vectors import Vector
from service.mechanics.arm_lengths import ArmLengths
from service.mechanics.body import GRAVITY, Body, build_body

SEED = 20240917

_INERTIA = 'mass="1" diaginertia="0.1 0.1 0.1"'
_ARM = f"""
<mujoco>
  <default><joint armature="0.01"/></default>
  <worldbody>
    <body name="trunk">
      <body name="upper_arm">
        <joint type="hinge" axis="0 -1 0"/><joint type="hinge" axis="0 0 1"/><joint type="hinge" axis="0 1 0"/>
        <inertial pos="0 -0.1 0" {_INERTIA}/>
        <body name="forearm">
          <joint type="hinge" axis="-1 0 0"/><joint type="hinge" axis="0 0 -1"/><joint type="hinge" axis="0 -1 0"/>
          <inertial pos="0 -0.1 0" {_INERTIA}/>
          <body name="hand">
            <joint type="hinge" axis="1 0 0"/><joint type="hinge" axis="0 1 0"/><joint type="hinge" axis="0 0 1"/>
            <inertial pos="0 -0.1 0" {_INERTIA}/>
          </body>
        </body>
      </body>
    </body>
  </worldbody>
</mujoco>
"""


class Case(NamedTuple):
    body: Body
    arm: Arm
    setup: ArmSetup
    state: ArmState


class Held(NamedTuple):
    """What the hinges of shoulder and elbow hold, each about its axis, and the net moment of the wrist [N·m]."""

    about_trunk: float
    elevation: float
    axial: float
    extension: float
    valgus: float
    wrist: float


class SimulatedArm:
    """One compiled model that is given each arm's lengths and masses in turn."""

    def __init__(self) -> None:
        self.model = mujoco.MjModel.from_xml_string(_ARM)
        self.data = mujoco.MjData(self.model)

    def held(self, arm: Arm, setup: ArmSetup, state: ArmState) -> Held:
        """Moments that the simulator's inverse dynamics finds at rest [N·m]."""
        self._place(arm, setup, state)
        mujoco.mj_inverse(self.model, self.data)
        outside = np.zeros(self.model.nv)
        force, point = np.array(astuple(state.force)), np.array(astuple(state.pose.grip))
        mujoco.mj_applyFT(self.model, self.data, force, np.zeros(3), point, self.model.body("hand").id, outside)
        plane, raising, turn, bend, beside, _, *wrist = self.data.qfrc_inverse - outside
        return Held(plane, raising, -turn, -bend, beside, float(np.linalg.norm(wrist)))

    def wrist(self) -> Vector:
        """Where the simulator has the wrist joint [m]."""
        return Vector(*(float(part) for part in self.data.body("hand").xpos))

    def _place(self, arm: Arm, setup: ArmSetup, state: ArmState) -> None:
        pose = state.pose
        self.model.opt.gravity[:] = [GRAVITY * part for part in astuple(weight_direction(radians(setup.lift.line)))]
        trunk = atan2(pose.trunk.head.z, pose.trunk.head.y)
        self.model.body("trunk").quat[:] = [cos(trunk / 2), sin(trunk / 2), 0.0, 0.0]
        self._segment("upper_arm", arm.upper_arm_mass, arm.upper_arm_centre, 0.0)
        self._segment("forearm", arm.forearm_mass, arm.forearm_centre, arm.upper_arm)
        self._segment("hand", arm.hand_mass, arm.hand_centre, arm.forearm)
        mujoco.mj_setConst(self.model, self.data)
        turn = outward_rotation(pose) or 0.0
        self.data.qpos[:4] = [plane_of_elevation(pose), elevation(pose), turn, elbow_flexion(pose)]
        self.data.qpos[4:] = self.data.qvel[:] = self.data.qacc[:] = 0.0

    def _segment(self, name: str, mass: float, centre: float, at: float) -> None:
        number = self.model.body(name).id
        self.model.body_mass[number] = mass
        self.model.body_ipos[number] = (0.0, -centre, 0.0)
        self.model.body_pos[number] = (0.0, -at, 0.0)


def held_by_the_model(state: ArmState) -> Held:
    """The model's moments about the hinges of the simulator [N·m]."""
    moments, raised = state.moments, elevation(state.pose)
    return Held(
        about_trunk=cos(raised) * moments.axial + sin(raised) * moments.horizontal,
        elevation=moments.elevation,
        axial=moments.axial,
        extension=moments.elbow_extension or 0.0,
        valgus=moments.elbow_valgus or 0.0,
        wrist=moments.wrist,
    )


def random_arm_cases(count: int) -> list[Case]:
    """`count` arms, each in some part of a random lift done in a random way."""
    random = np.random.default_rng(SEED)
    cases: list[Case] = []
    refused = 0
    while len(cases) < count:
        case = _random_case(random)
        if case is None:
            refused += 1
        else:
            cases.append(case)
        assert refused < count, "most random arms are refused: the sample is no sample of the model's range"
    return cases


def _random_case(random: np.random.Generator) -> Case | None:
    stature, mass = float(random.uniform(1.45, 2.05)), float(random.uniform(45.0, 150.0))
    sexes: tuple[Sex | None, ...] = ("female", "male", None)
    body = build_body(mass, stature, sexes[int(random.integers(3))])
    usual = arm_fractions(body.sex)
    factor = random.uniform(0.9, 1.1, size=3)
    lengths = ArmLengths(
        shoulder_breadth=float(body.shoulder_breadth * factor[0]),
        upper_arm=float(usual.upper_arm * stature * factor[1]),
        forearm=float(usual.forearm * stature * factor[2]),
    )
    exercise = sorted(ARM_LIFTS)[int(random.integers(len(ARM_LIFTS)))]
    lift = ARM_LIFTS[exercise]
    technique = ArmTechnique(
        grip=None if lift.grip is None else float(random.uniform(0.95, 2.0)),
        trunk_angle=radians(lift.trunk_angle + float(random.uniform(-20.0, 20.0))),
        outward=float(random.uniform(-0.3, 0.3)),
        wrist_bend=radians(float(random.uniform(0.0, 60.0))) if random.integers(2) else 0.0,
        touch=float(random.uniform(-0.03, 0.03)),
        height=float(random.uniform(-0.02, 0.03)),
    )
    try:
        arm = arm_of(with_own_arm(body, lengths))
        setup = arm_setup(exercise, float(random.uniform(0.0, 2.0)) * mass, technique)
        setup = replace(setup, lift=replace(lift, line=lift.line + float(random.choice([0.0, 0.0, 30.0, -20.0]))))
        return Case(body, arm, setup, state_at(body, arm, setup, float(random.uniform(0.0, 1.0))))
    except Refusal:
        return None
