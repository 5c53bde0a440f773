"""The lifter as rigid bodies of an independent simulator, and the joint moments it finds at rest.

A lifter is a tree in three dimensions, in a split stance all in the sagittal plane. The trunk is cut at the lumbosacral
joint and the arms, when they do not hold a bar on the trunk, are a body of their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, sin
from typing import NamedTuple, TypeAlias

import mujoco
import numpy as np

from service.mechanics.body import GRAVITY, Body
from service.mechanics.demand import Demand

Vector: TypeAlias = Sequence[float] | np.ndarray
UP = np.array([0.0, 0.0, 1.0])

_TINY = "0.1 0.1 0.1"
_BALL = "".join(f'<joint type="hinge" axis="{axis}"/>' for axis in ("1 0 0", "0 1 0", "0 0 1"))
_SEGMENT = f'{_BALL}<inertial pos="0 0 0" mass="1" diaginertia="{_TINY}"/>'


def _leg_of_tree(side: str) -> str:
    return f"""
      <body name="thigh_{side}">{_SEGMENT}
        <body name="shank_{side}">{_SEGMENT}
          <body name="foot_{side}">{_SEGMENT}</body>
        </body>
      </body>
    """


_TREE = f"""
<mujoco>
  <option gravity="0 0 -{GRAVITY}"/>
  <worldbody>
    <body name="pelvis">
      <freejoint/><inertial pos="0 0 0" mass="1" diaginertia="{_TINY}"/>
      {_leg_of_tree("left")}
      {_leg_of_tree("right")}
      <body name="thorax">{_SEGMENT}
        <body name="arms"><inertial pos="0 0 0" mass="1" diaginertia="{_TINY}"/></body>
      </body>
    </body>
  </worldbody>
</mujoco>
"""


class JointMoments(NamedTuple):
    """Moments of the left leg, and what both legs, spine and floor leave over [N·m, of the last N besides]."""

    ankle: float
    knee: float
    hip: float
    lumbosacral: float
    hip_adductor: float = 0.0
    knee_out_of_plane: float = 0.0
    left_over: float = 0.0


class Tree:
    """Trunk and both legs in three dimensions, every joint with three axes, free in space.

    The simulator's axes: x forward, y to the left, z up. Bodies keep the directions of the world: a posture is where
    each body's parts lie, all joint angles are nil, and each torque is a component of a joint's moment about an axis of
    the world.
    """

    def __init__(self) -> None:
        self.model = mujoco.MjModel.from_xml_string(_TREE)
        self.data = mujoco.MjData(self.model)

    def segment(self, name: str, mass: float, centre: Vector, at: Vector) -> None:
        """Mass [kg], centre of mass from its joint, and the joint from that of the parent segment [m]."""
        number = self.model.body(name).id
        self.model.body_mass[number] = mass
        self.model.body_ipos[number] = centre
        self.model.body_pos[number] = at

    def at_rest(self, pelvis: Vector) -> None:
        mujoco.mj_setConst(self.model, self.data)
        self.data.qpos[:] = 0.0
        self.data.qpos[:4] = (*pelvis, 1.0)
        self.data.qvel[:] = 0.0
        self.data.qacc[:] = 0.0
        mujoco.mj_inverse(self.model, self.data)
        self.held = np.array(self.data.qfrc_inverse)

    def push(self, force: Vector, at: Vector, on: str) -> None:
        """One more force [N] at a point of the world [m]."""
        outside = np.zeros(self.model.nv)
        point, number = np.array(at), self.model.body(on).id
        mujoco.mj_applyFT(self.model, self.data, np.array(force), np.zeros(3), point, number, outside)
        self.held -= outside

    def moment(self, name: str) -> np.ndarray:
        """Moment of the parent segment on a segment, about the axes of the world [N·m]."""
        first = self.model.body_dofadr[self.model.body(name).id]
        held: np.ndarray = self.held[first : first + 3]
        return held


def whole_body() -> Tree:
    return Tree()


def moments_on_both_feet(tree: Tree, body: Body, demand: Demand, *, inward: float = 0.0) -> JointMoments:
    """Moments found by the simulator's inverse dynamics in the posture of a demand.

    inward: force of the floor on each foot towards the other [N].
    """
    posture, carry, stance = demand.posture, demand.setup.carry, demand.setup.stance
    _place_upper_body(tree, body, demand)
    for side, left in (("left", 1.0), ("right", -1.0)):
        _place_leg(tree, body, demand, side, left)
    tree.at_rest((posture.hip.x, 0.0, posture.hip.y))
    load = (0.0, 0.0, -GRAVITY * demand.load)
    on_pelvis = carry.kind == "pelvis"
    tree.push(load, (posture.load_point.x, 0.0, posture.load_point.y), "pelvis" if on_pelvis else "thorax")
    support = GRAVITY * (body.mass + demand.load) / 2
    for side, left in (("left", 1.0), ("right", -1.0)):
        pressure = _pressure(body, demand, left)
        tree.push((0.0, -left * inward, support), pressure, f"foot_{side}")
    ankle, knee, hip = (tree.moment(f"{part}_left") for part in ("foot", "shank", "thigh"))
    spine = tree.moment("thorax")
    mirrored = [tree.moment(f"{part}_right") * (-1.0, 1.0, -1.0) for part in ("foot", "shank", "thigh")]
    left_over = [*tree.held[:6], *np.ravel(np.subtract(mirrored, [ankle, knee, hip])), spine[0], spine[2]]
    return JointMoments(
        _about_normal(ankle, stance.toe_out),
        -_about_normal(knee, stance.thigh),
        hip[1],
        -spine[1],
        -hip[0],
        -knee[0] * cos(stance.thigh) - knee[1] * sin(stance.thigh),
        float(np.max(np.abs(left_over))),
    )


def _about_normal(moment: np.ndarray, azimuth: float) -> float:
    """Component of a left leg's moment about the normal of a vertical plane that is turned out [N·m]."""
    return float(moment[1] * cos(azimuth) - moment[0] * sin(azimuth))


def _outward(azimuth: float, left: float) -> np.ndarray:
    return np.array([cos(azimuth), left * sin(azimuth), 0.0])


def _limbs(body: Body, demand: Demand, left: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Thigh from hip to knee, shank from knee to ankle, and the foot's direction."""
    stance, posture = demand.setup.stance, demand.posture
    thigh = body.thigh * (cos(posture.thigh_angle) * _outward(stance.thigh, left) - sin(posture.thigh_angle) * UP)
    shank = -body.shank * (sin(posture.shin_angle) * _outward(stance.shank, left) + cos(posture.shin_angle) * UP)
    return thigh, shank, _outward(stance.toe_out, left)


def _place_leg(tree: Tree, body: Body, demand: Demand, side: str, left: float) -> None:
    thigh, shank, foot = _limbs(body, demand, left)
    hip = (0.0, left * body.hip_centres / 2, 0.0)
    tree.segment(f"thigh_{side}", body.thighs_mass / 2, body.thigh_centre * thigh, hip)
    tree.segment(f"shank_{side}", body.shanks_mass / 2, body.shank_centre * shank, thigh)
    foot_centre = (body.feet_centre * body.foot - body.ankle_from_heel) * foot
    tree.segment(f"foot_{side}", body.feet_mass / 2, foot_centre, shank)


def _pressure(body: Body, demand: Demand, left: float) -> np.ndarray:
    """Where the floor pushes a foot up."""
    thigh, shank, foot = _limbs(body, demand, left)
    hip = np.array([demand.posture.hip.x, left * body.hip_centres / 2, demand.posture.hip.y])
    ankle = hip + thigh + shank
    at = ankle + (demand.setup.balance * body.foot - body.ankle_from_heel) * foot
    return np.array([at[0], at[1], 0.0])


def moments_in_split_stance(tree: Tree, body: Body, demand: Demand) -> JointMoments:
    """Moments of the lead leg and the spine of a lifter on two supports, in the sagittal plane.

    The left leg leads. The trail leg is straight from hip to rear foot and as long as that, its masses in the places of
    its lengths.
    """
    posture, split = demand.posture, demand.setup.split
    assert split is not None
    _place_upper_body(tree, body, demand)
    _place_leg(tree, body, demand, "left", 0.0)
    hip = np.array([posture.hip.x, 0.0, posture.hip.y])
    rear = np.array([posture.balance_point - split.foot_spacing, 0.0, 0.0])
    thigh = (rear - hip) * body.thigh / (body.thigh + body.shank)
    shank = rear - hip - thigh
    tree.segment("thigh_right", body.thighs_mass / 2, body.thigh_centre * thigh, (0.0, 0.0, 0.0))
    tree.segment("shank_right", body.shanks_mass / 2, body.shank_centre * shank, thigh)
    tree.segment("foot_right", body.feet_mass / 2, (0.0, 0.0, 0.0), shank)
    tree.at_rest(hip)
    weight = GRAVITY * (body.mass + demand.load)
    tree.push((0.0, 0.0, -GRAVITY * demand.load), (posture.load_point.x, 0.0, posture.load_point.y), "thorax")
    tree.push((0.0, 0.0, split.lead_share * weight), (posture.balance_point, 0.0, 0.0), "foot_left")
    tree.push((0.0, 0.0, (1.0 - split.lead_share) * weight), rear, "foot_right")
    ankle, knee, hip_moment = (tree.moment(f"{part}_left") for part in ("foot", "shank", "thigh"))
    left_over = float(np.max(np.abs(tree.held[:6])))
    return JointMoments(ankle[1], -knee[1], hip_moment[1], -tree.moment("thorax")[1], left_over=left_over)


def _place_upper_body(tree: Tree, body: Body, demand: Demand) -> None:
    """Pelvis, thorax and arms from the tabulated whole.

    The parts are what is left when the named ones are taken out. Arms begin at the shoulder as it is let down.
    """
    posture, carry = demand.posture, demand.setup.carry.kind
    arms_apart = carry != "trunk"
    along = np.array([sin(posture.trunk_lean), 0.0, cos(posture.trunk_lean)])
    joint = body.lumbosacral_level * body.trunk
    whole_centre = body.upper_centre_hanging if arms_apart else body.upper_centre_at_bar
    above_centre = body.above_centre_hanging if arms_apart else body.above_centre_at_bar
    whole = body.upper_mass * whole_centre * body.trunk
    above = body.above_mass * above_centre * body.trunk
    pelvis_mass = body.upper_mass - body.above_mass
    tree.segment("pelvis", pelvis_mass, (whole - above) / pelvis_mass * along, (0.0, 0.0, 0.0))
    arms_mass = body.arms_mass if arms_apart else 0.0
    thorax_mass = body.above_mass - arms_mass
    thorax = above - arms_mass * (body.trunk - body.arms_centre)
    tree.segment("thorax", thorax_mass, (thorax / thorax_mass - joint) * along, joint * along)
    hands, arms_from, spine = posture.load_point, posture.arms_from, posture.lumbosacral
    hang = np.array([1.0, 0.0, 0.0]) if carry == "pelvis" else -UP
    if demand.family == "pull":
        to_hands = np.array([hands.x - arms_from.x, 0.0, hands.y - arms_from.y])
        hang = to_hands / np.linalg.norm(to_hands)
    shoulder = (arms_from.x - spine.x, 0.0, arms_from.y - spine.y)
    tree.segment("arms", max(arms_mass, 1e-12), body.arms_centre * hang, shoulder)
