"""Lumbosacral demand by the single-equivalent-muscle model: sagittal, at rest, one extensor at a stated lever arm.

M = Σ W·d, F = M / e, C = F + Σ W·cos φ, S = Σ W·sin φ, along and across the trunk line, the muscle parallel to it.
The same statics is worked in physics texts (openstax_college_physics, serway_jewett, giancoli). Results are for
comparing setups of one lifter: single-muscle newtons are about a third below detailed models and no limit applies to
them.
"""

from __future__ import annotations

from math import cos, radians, sin
from operator import truediv
from typing import Final

import msgspec

from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import GRAVITY

_SPINE: Final = CHOICES.spine
ARM: Final = _SPINE.muscle_arm
FRACTION: Final = _SPINE.mass_fraction
SHARED_ERROR: Final = radians(_SPINE.shared_lean_error)
ASSUMED_ERROR: Final = radians(_SPINE.assumed_lean_error)
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
        own_error: further error of a lean that is computed or assumed and not stated [rad]
    """

    load: float
    along: float
    anterior: float
    lean: float
    own_error: float = 0.0


class UpperBody(msgspec.Struct, frozen=True, gc=False):
    """Body above the lumbosacral joint.

    Attributes:
        mass: body mass above the joint with the range of published tables [kg]
        height: centre of that mass from the joint along the trunk [m]
    """

    mass: Interval
    height: float


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
            parameter, "The single-muscle model is used for a trunk lean of 0 to 80 degrees.", "0 to 80 deg"
        )


class Extremes(msgspec.Struct, frozen=True, gc=False):
    """A setup over the ranges of the uncertain quantities.

    The lists have one entry for each combination of the uncertainties that all setups of one lifter share; each entry
    is the least or greatest value over the further error of a lean that is only assumed.

    Attributes:
        central: central values
        least_moment: extensor moments [N·m]
        greatest_moment: extensor moments [N·m]
        least_compression: forces along the trunk [N]
        greatest_compression: forces along the trunk [N]
        least_shear: force across the trunk over all uncertainties [N]
        greatest_shear: force across the trunk over all uncertainties [N]
    """

    central: SpineLoad
    least_moment: list[float]
    greatest_moment: list[float]
    least_compression: list[float]
    greatest_compression: list[float]
    least_shear: float
    greatest_shear: float


def extremes(setup: SpineSetup, upper: UpperBody) -> Extremes:
    """The setup at the corners of muscle arm, mass fraction and lean error.

    Corners are enough: moment and compression, and their ratios between setups, are monotonic in the arm and the
    fraction, and in the lean up to about 70 degrees; beyond, compression peaks within 0.2 % of the larger corner.
    """
    implement = setup.load * GRAVITY
    own = setup.own_error
    upper_low, upper_high = upper.mass.low * GRAVITY, upper.mass.high * GRAVITY
    moments: tuple[list[float], list[float]] = ([], [])
    pressed: tuple[list[float], list[float]] = ([], [])
    across: list[float] = []
    for shared in (-SHARED_ERROR, SHARED_ERROR):
        leans = (setup.lean + shared - own, setup.lean + shared + own)
        for lean, at_joint, compression in zip(leans, moments, pressed, strict=True):
            held = min(HIGHEST_LEAN, max(LOWEST_LEAN, lean))
            s, c = sin(held), cos(held)
            extra = implement * (setup.along * s + setup.anterior * c)
            for weight in (upper_low, upper_high):
                moment = weight * upper.height * s + extra
                total = weight + implement
                along = total * c
                at_joint.extend((moment, moment))
                compression.extend((moment / ARM.low + along, moment / ARM.high + along))
                across.append(total * s)
    central = spine_load(setup, upper.mass.value, upper.height, setup.lean, ARM.value)
    return Extremes(central, *moments, *pressed, min(across), max(across))


def span(value: float, least: list[float], greatest: list[float]) -> Interval:
    """Central value and extremes of one quantity.

    Args:
        value: central value [N·m or N]
        least: least values at the corners [N·m or N]
        greatest: greatest values at the corners [N·m or N]

    Returns:
        value with the range over all corners [N·m or N]
    """
    return Interval(value, min(value, *least, *greatest), max(value, *least, *greatest))


def relative(
    value: float,
    least: list[float],
    greatest: list[float],
    base: float,
    base_least: list[float],
    base_greatest: list[float],
) -> Interval | None:
    """Ratio of a quantity to the reference setup's, with the shared uncertainties taken together.

    Args:
        value: central value [N·m or N]
        least: least values at the corners [N·m or N]
        greatest: greatest values at the corners [N·m or N]
        base: central value of the reference [N·m or N]
        base_least: least values of the reference at the corners [N·m or N]
        base_greatest: greatest values of the reference at the corners [N·m or N]

    Returns:
        the ratio [1]; None where the reference is nil
    """
    if base <= 0 or min(base_least) <= 0 or min(base_greatest) <= 0:
        return None
    ratio = value / base
    ends = [ratio, *map(truediv, least, base_greatest), *map(truediv, greatest, base_least)]
    return Interval(ratio, min(ends), max(ends))
