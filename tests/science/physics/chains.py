"""The lifter as a rigid-body chain of an independent simulator, and the joint moments it finds at rest.

The simulator's axes: x forward, z up; every hinge turns about y, so that a positive angle leans forward. The trunk is
cut at the lumbosacral joint and the arms, when they do not hold a bar on the trunk, are a body of their own.
"""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin
from typing import NamedTuple

import mujoco
import numpy as np

from service.mechanics.body import GRAVITY, Body
from service.mechanics.demand import Demand

_CHAIN = f"""
<mujoco>
  <option gravity="0 0 -{GRAVITY}"/>
  <worldbody>
    <body name="shank">
      <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
      <body name="thigh">
        <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
        <body name="pelvis">
          <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
          <body name="thorax">
            <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
            <body name="arms">
              <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
            </body>
          </body>
        </body>
      </body>
    </body>
  </worldbody>
</mujoco>
"""

_LEG = f"""
<mujoco>
  <option gravity="0 0 -{GRAVITY}"/>
  <worldbody>
    <body name="thigh">
      <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
      <body name="shank">
        <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
        <body name="foot">
          <joint type="hinge" axis="0 1 0"/><inertial pos="0 0 0.1" mass="1" diaginertia="0.1 0.1 0.1"/>
        </body>
      </body>
    </body>
  </worldbody>
</mujoco>
"""


class JointMoments(NamedTuple):
    ankle: float
    knee: float
    hip: float
    lumbosacral: float


class Chain:
    """One compiled model whose segments are given each lifter's lengths and masses in turn."""

    def __init__(self, description: str) -> None:
        self.model = mujoco.MjModel.from_xml_string(description)
        self.data = mujoco.MjData(self.model)

    def segment(self, name: str, mass: float, centre: tuple[float, float], at: tuple[float, float]) -> None:
        """Mass [kg], centre of mass and position on the parent segment, each (x, z) in its segment's own frame [m]."""
        number = self.model.body(name).id
        self.model.body_mass[number] = mass
        self.model.body_ipos[number] = (centre[0], 0.0, centre[1])
        self.model.body_pos[number] = (at[0], 0.0, at[1])

    def at_rest(self, angles: list[float]) -> None:
        mujoco.mj_setConst(self.model, self.data)
        self.data.qpos[:] = angles
        self.data.qvel[:] = 0.0
        self.data.qacc[:] = 0.0
        mujoco.mj_inverse(self.model, self.data)

    def torque(self, *, weight: float, at: tuple[float, float], on: str) -> np.ndarray:
        """Joint torques that hold the chain under its own weight and one more downward force [N] at a point [m]."""
        outside = np.zeros(self.model.nv)
        mujoco.mj_applyFT(
            self.model,
            self.data,
            np.array([0.0, 0.0, -weight]),
            np.zeros(3),
            np.array([at[0], 0.0, at[1]]),
            self.model.body(on).id,
            outside,
        )
        held: np.ndarray = self.data.qfrc_inverse - outside
        return held


def whole_body() -> Chain:
    return Chain(_CHAIN)


def single_leg() -> Chain:
    return Chain(_LEG)


def moments_on_both_feet(chain: Chain, body: Body, demand: Demand) -> JointMoments:
    """Extensor moments found by the simulator's inverse dynamics in the posture of a demand; legs per side."""
    posture, carry = demand.posture, demand.setup.carry
    _place_upper_body(chain, body, demand, arms_apart=carry.kind != "trunk")
    # With the thighs turned out the sagittal plane sees a shorter thigh at a steeper angle.
    across = demand.setup.thigh_projection * cos(posture.thigh_angle)
    upward = sin(posture.thigh_angle)
    thigh = body.thigh * hypot(across, upward)
    chain.segment(
        "shank", body.shanks_mass, (0.0, (1 - body.shank_centre) * body.shank), (posture.ankle.x, posture.ankle.y)
    )
    chain.segment("thigh", body.thighs_mass, (0.0, (1 - body.thigh_centre) * thigh), (0.0, body.shank))
    chain.segment("pelvis", chain.model.body("pelvis").mass[0], _ipos(chain, "pelvis"), (0.0, thigh))
    thigh_lean = -(pi / 2 - atan2(upward, across))
    hands, arms_from = posture.load_point, posture.arms_from
    arms_lean = pi / 2 if carry.kind == "pelvis" else pi
    if demand.family == "pull":
        arms_lean = atan2(hands.x - arms_from.x, hands.y - arms_from.y)
    chain.at_rest(
        [
            posture.shin_angle,
            thigh_lean - posture.shin_angle,
            posture.trunk_lean - thigh_lean,
            0.0,
            arms_lean - posture.trunk_lean,
        ]
    )
    torque = chain.torque(
        weight=GRAVITY * demand.load,
        at=(posture.load_point.x, posture.load_point.y),
        on={"pelvis": "pelvis"}.get(carry.kind, "arms" if demand.family == "pull" else "thorax"),
    )
    return JointMoments(-torque[0] / 2, torque[1] / 2, -torque[2] / 2, -torque[3])


def moments_of_lead_leg(chain: Chain, body: Body, demand: Demand) -> JointMoments:
    """The lead leg hung from a fixed pelvis, pushed up at its centre of pressure; no lumbosacral moment."""
    posture = demand.posture
    ankle_height = posture.ankle.y
    foot_centre = body.feet_centre * body.foot - body.ankle_from_heel
    chain.segment("thigh", body.thighs_mass / 2, (0.0, body.thigh_centre * body.thigh), (posture.hip.x, posture.hip.y))
    chain.segment("shank", body.shanks_mass / 2, (0.0, body.shank_centre * body.shank), (0.0, body.thigh))
    chain.segment("foot", body.feet_mass / 2, (foot_centre, -ankle_height / 2), (0.0, body.shank))
    thigh_turn, shank_turn = pi / 2 + posture.thigh_angle, pi + posture.shin_angle
    chain.at_rest([thigh_turn, shank_turn - thigh_turn, -shank_turn])
    support = demand.lead_share * (body.mass + demand.load) * GRAVITY
    torque = chain.torque(weight=-support, at=(posture.balance_point, 0.0), on="foot")
    return JointMoments(torque[2], -torque[1], torque[0], 0.0)


def _ipos(chain: Chain, name: str) -> tuple[float, float]:
    centre = chain.model.body_ipos[chain.model.body(name).id]
    return float(centre[0]), float(centre[2])


def _place_upper_body(chain: Chain, body: Body, demand: Demand, *, arms_apart: bool) -> None:
    """Pelvis, thorax and arms from the tabulated whole.

    The parts are what is left when the named ones are taken out. Arms begin at the shoulder as it is let down.
    """
    joint = body.lumbosacral_level * body.trunk
    whole_centre = body.upper_centre_hanging if arms_apart else body.upper_centre_at_bar
    above_centre = body.above_centre_hanging if arms_apart else body.above_centre_at_bar
    whole = body.upper_mass * whole_centre * body.trunk
    above = body.above_mass * above_centre * body.trunk
    pelvis_mass = body.upper_mass - body.above_mass
    chain.segment("pelvis", pelvis_mass, (0.0, (whole - above) / pelvis_mass), (0.0, 0.0))
    arms_mass = body.arms_mass if arms_apart else 0.0
    thorax_mass = body.above_mass - arms_mass
    thorax = above - arms_mass * (body.trunk - body.arms_centre)
    chain.segment("thorax", thorax_mass, (0.0, thorax / thorax_mass - joint), (0.0, joint))
    posture = demand.posture
    down, lean = posture.shoulder.y - posture.arms_from.y, posture.trunk_lean
    shoulder = (down * sin(lean), body.trunk - joint - down * cos(lean))  # in the trunk's own frame
    chain.segment("arms", max(arms_mass, 1e-12), (0.0, body.arms_centre), shoulder)
