"""What a moment asks of the shoulder: each of its three parts against the strength of the movement that makes it."""

from __future__ import annotations

from math import hypot, sqrt
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import astuple, replace

from service.knowledge.arm_figures import ARM
from service.mechanics.arm.moments import HumeralMoment
from service.mechanics.arm.pose import ArmPose

Movement = Literal["raising", "lowering", "forward", "backward", "inward_rotation", "outward_rotation"]


class RelativeStrength(Struct, frozen=True, gc=False):
    """Strength of the shoulder's movements over that of adduction, by the names of `knowledge.arm_figures`.

    Attributes:
        adduction: lowering the arm in the frontal plane [1]
        abduction: raising it there [1]
        extension: taking the arm from before the trunk to behind it [1]
        flexion: raising the arm before the trunk [1]
        horizontal_forward: swinging the raised arm across the chest [1]
        horizontal_backward: the way back [1]
        inward_rotation: turning the upper arm inward about itself [1]
        outward_rotation: turning it outward [1]
    """

    adduction: float
    abduction: float
    extension: float
    flexion: float
    horizontal_forward: float
    horizontal_backward: float
    inward_rotation: float
    outward_rotation: float

    def times(self, factor: float, *movements: str) -> RelativeStrength:
        """The same with some movements stronger.

        Args:
            factor: by which they are [1]
            movements: their names
        """
        return replace(self, **{movement: factor * getattr(self, movement) for movement in movements})


STRENGTH: Final = RelativeStrength(*(figure.value for figure in astuple(ARM.strength)))


class ShoulderDemand(Struct, frozen=True, gc=False):
    """A moment at the shoulder, weighed by relative strength.

    Attributes:
        weighed: of adduction, whose strength is the unit: the root of the squares of each part over its strength [N·m]
        leading: the movement whose part is largest over its strength
        moment: the three parts as they are
    """

    weighed: float
    leading: Movement
    moment: HumeralMoment


def shoulder_demand(pose: ArmPose, moment: HumeralMoment, strength: RelativeStrength = STRENGTH) -> ShoulderDemand:
    """What a moment asks of the shoulder.

    Args:
        pose: where the arm is
        moment: about the upper arm's own axes
        strength: of the movements

    Source: ratios of isokinetic strength (1985); parts without a published ratio by our own (body/arm.toml).
    """
    elevation, horizontal, axial = parts = _parts(pose, moment, strength)
    leading = max(parts, key=abs)
    movement: Movement
    if leading == elevation:
        movement = "raising" if elevation > 0 else "lowering"
    elif leading == horizontal:
        movement = "forward" if horizontal > 0 else "backward"
    else:
        movement = "inward_rotation" if axial > 0 else "outward_rotation"
    return ShoulderDemand(hypot(*parts), movement, moment)


def weighed(pose: ArmPose, moment: HumeralMoment, strength: RelativeStrength = STRENGTH) -> float:
    """What a moment asks of the shoulder, as `ShoulderDemand.weighed` [N·m].

    Args:
        pose: where the arm is
        moment: about the upper arm's own axes
        strength: of the movements
    """
    elevation, horizontal, axial = _parts(pose, moment, strength)
    return sqrt(elevation * elevation + horizontal * horizontal + axial * axial)


def _parts(pose: ArmPose, moment: HumeralMoment, strength: RelativeStrength) -> tuple[float, float, float]:
    """Elevation, horizontal and axial moment, each over the strength of its movement [N·m].

    Raising and lowering to the side have the strength of abduction and adduction, before the trunk of flexion and
    extension, behind it the other way round, and between them by the squares of the plane's cosine and sine.
    """
    elevation, horizontal, axial = moment.elevation, moment.horizontal, moment.axial
    behind = pose.raising_axis.x  # sine of the plane in which the arm is raised, positive behind the trunk
    sagittal = behind * behind
    upward = elevation > 0
    sideways = strength.abduction if upward else strength.adduction
    forward = strength.flexion if upward == (behind <= 0) else strength.extension
    return (
        elevation / (sideways + sagittal * (forward - sideways)),
        horizontal / (strength.horizontal_forward if horizontal > 0 else strength.horizontal_backward),
        axial / (strength.inward_rotation if axial > 0 else strength.outward_rotation),
    )
