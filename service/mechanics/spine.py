"""Lumbosacral demand by the single-equivalent-muscle model: sagittal, at rest, one extensor at a stated lever arm.

M = Σ W·d, F = M / e, C = F + Σ W·cos φ, S = Σ W·sin φ, along and across the trunk line, the muscle parallel to it.
The same statics is worked in physics texts (openstax_college_physics, serway_jewett, giancoli). Results are for
comparing setups of one lifter: single-muscle newtons are about a third below detailed models and no limit applies to
them.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Final

import msgspec

from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import GRAVITY

_SPINE: Final = CHOICES.spine
ARM: Final = _SPINE.muscle_arm
LOWEST_LEAN, HIGHEST_LEAN = (radians(end) for end in _SPINE.lean_range)


class SpineLoad(msgspec.Struct, frozen=True, gc=False):
    """Load on the lumbosacral joint.

    Attributes:
        moment: extensor moment [N·m]
        muscle: extensor force [N]
        compression: force along the trunk [N]
        shear: force across the trunk, positive when the trunk slides forward [N]
    """

    moment: float
    muscle: float
    compression: float
    shear: float


class SpineSetup(msgspec.Struct, frozen=True, gc=False):
    """Load and trunk lean of one setup.

    Attributes:
        load: mass of the implement carried through the spine [kg]
        along: load from the joint along the trunk [m]
        anterior: load ahead of the joint across the trunk [m]
        lean: trunk from the vertical [rad]
    """

    load: float
    along: float
    anterior: float
    lean: float


def muscle_balance(moment: float, weight_along: float, weight_across: float, arm: float) -> SpineLoad:
    """Joint load from the moment and the weight above the joint, with one extensor parallel to the trunk.

    Args:
        moment: extensor moment [N·m]
        weight_along: weight along the trunk [N]
        weight_across: weight across the trunk [N]
        arm: lever arm of the extensor [m]

    Source: statics, single-equivalent-muscle model.
    """
    muscle = moment / arm
    return SpineLoad(moment, muscle, muscle + weight_along, weight_across)


def spine_load(setup: SpineSetup, upper_mass: float, height: float, lean: float, arm: float) -> SpineLoad:
    """Lumbosacral load of a setup.

    Args:
        setup: load and its position on the trunk
        upper_mass: body mass above the joint [kg]
        height: centre of that mass from the joint along the trunk [m]
        lean: trunk from the vertical [rad]
        arm: lever arm of the extensor [m]

    Source: statics, single-equivalent-muscle model.
    """
    upper, implement = upper_mass * GRAVITY, setup.load * GRAVITY
    s, c = sin(lean), cos(lean)
    moment = upper * height * s + implement * (setup.along * s + setup.anterior * c)
    total = upper + implement
    return muscle_balance(moment, total * c, total * s, arm)


def check_lean(lean: float, parameter: str) -> None:
    """Check a lean against the range in which the model is used.

    Args:
        lean: trunk from the vertical [rad]
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: for a lean outside the range
    """
    if not LOWEST_LEAN <= lean <= HIGHEST_LEAN + 1e-9:
        raise Refusal.one(
            parameter,
            "The single-muscle model is used for a trunk lean of 0 to 80 degrees.",
            "0 to 80 deg",
            change=into(lean, LOWEST_LEAN, HIGHEST_LEAN),
        )
