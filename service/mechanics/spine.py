"""Lumbosacral demand by the single-equivalent-muscle model: sagittal, at rest, one extensor at a stated lever arm.

M = Σ W·d, F = M / e, C = F + Σ W·cos φ, S = Σ W·sin φ, along and across the trunk line, the muscle parallel to it.
The same statics is worked in physics texts (openstax_college_physics, serway_jewett, giancoli). Results are for comparing
setups of one lifter: single-muscle newtons are about a third below detailed models and no limit applies to them.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Final

import msgspec

from service.intervals import Interval
from service.knowledge.loader import CHOICES
from service.refusals import Refusal

GRAVITY: Final = 9.81
_SPINE: Final = CHOICES["spine"]
ARM: Final = Interval(**_SPINE["muscle_arm"])
FRACTION: Final = Interval(**_SPINE["mass_fraction"])
MASS_HEIGHT: Final[float] = _SPINE["mass_height"]
SHARED_ERROR: Final = radians(_SPINE["shared_lean_error"])
ASSUMED_ERROR: Final = radians(_SPINE["assumed_lean_error"])
LOWEST_LEAN, HIGHEST_LEAN = (radians(end) for end in _SPINE["lean_range"])


class SpineLoad(msgspec.Struct, frozen=True):
    """Moment [N·m], extensor force, compression and shear [N] at the lumbosacral joint; shear positive when the trunk slides forward."""

    moment: float
    muscle: float
    compression: float
    shear: float


class SpineSetup(msgspec.Struct, frozen=True):
    """What one setup puts above the joint.

    load: mass of the implement carried through the spine [kg]; along, anterior: its place from the joint in the trunk's
    directions [m]; lean [rad]; assumed: whether the lean is an exercise's default and not stated.
    """

    load: float
    along: float
    anterior: float
    lean: float
    assumed: bool


def muscle_balance(moment: float, weight_along: float, weight_across: float, arm: float, line: float = 0.0) -> SpineLoad:
    """Joint load from the moment [N·m] and the weights above it, resolved along and across the trunk [N].

    arm: lever arm of the extensor [m]; line: angle between muscle and trunk that takes shear off [rad].
    """
    muscle = moment / arm
    return SpineLoad(moment, muscle, muscle * cos(line) + weight_along, weight_across - muscle * sin(line))


def spine_load(setup: SpineSetup, body_mass: float, stature: float, lean: float, arm: float, fraction: float) -> SpineLoad:
    """Lumbosacral load of a setup for body mass [kg], stature [m], lean [rad], muscle arm [m], mass fraction above [1]."""
    upper = fraction * body_mass * GRAVITY
    implement = setup.load * GRAVITY
    s, c = sin(lean), cos(lean)
    moment = upper * MASS_HEIGHT * stature * s + implement * (setup.along * s + setup.anterior * c)
    total = upper + implement
    return muscle_balance(moment, total * c, total * s, arm)


def check_lean(lean: float, parameter: str) -> None:
    """Refuse a lean [rad] outside the range in which the model is used."""
    if not LOWEST_LEAN <= lean <= HIGHEST_LEAN + 1e-9:
        raise Refusal.one(parameter, "The single-muscle model is used for a trunk lean of 0 to 80 degrees.", "0 to 80 deg")


def sweep(setup: SpineSetup, body_mass: float, stature: float) -> list[list[SpineLoad]]:
    """The setup over the span of the uncertain quantities.

    One row for each combination of muscle arm, mass fraction and lean error that all setups of a lifter share; within a
    row the further error of a lean that is only assumed. The first row and entry are the central values.
    """
    own = (0.0, -ASSUMED_ERROR, ASSUMED_ERROR) if setup.assumed else (0.0,)
    return [
        [
            spine_load(setup, body_mass, stature, min(HIGHEST_LEAN, max(LOWEST_LEAN, setup.lean + shared + one)), arm, fraction)
            for one in own
        ]
        for shared in (0.0, -SHARED_ERROR, SHARED_ERROR)
        for fraction in (FRACTION.value, FRACTION.low, FRACTION.high)
        for arm in (ARM.value, ARM.low, ARM.high)
    ]


def span(rows: list[list[SpineLoad]], quantity: str) -> Interval:
    """Central value and extremes of one quantity over a sweep."""
    found = [getattr(load, quantity) for row in rows for load in row]
    return Interval(found[0], min(found), max(found))


def relative(rows: list[list[SpineLoad]], reference: list[list[SpineLoad]], quantity: str) -> Interval | None:
    """Ratio of a quantity to the reference setup, the shared uncertainties swept together; None where the reference is nil."""
    lows, highs = [], []
    for row, base in zip(rows, reference, strict=True):
        ours = [getattr(load, quantity) for load in row]
        theirs = [getattr(load, quantity) for load in base]
        if min(theirs) <= 0:
            return None
        lows.append(min(ours) / max(theirs))
        highs.append(max(ours) / min(theirs))
    return Interval(getattr(rows[0][0], quantity) / getattr(reference[0][0], quantity), min(lows), max(highs))
