"""The largest moments of a repetition, from the bottom to just short of standing."""

from __future__ import annotations

from math import copysign, hypot
from typing import Final

from msgspec import Struct

from service.mechanics.setups import shin_at
from service.mechanics.stance import SAGITTAL
from service.mechanics.statics import STANDING, Solution, Statics, stations_above
from service.mechanics.step_up import hardest, risen_of

MOMENTS: Final = ("ankle", "knee", "hip", "hip_adductor", "hip_resultant", "lumbosacral")
MOMENT_TOLERANCE = 1e-9  # [N·m], a moment that does not change with depth is reported at the bottom


class Peak(Struct, frozen=True, gc=False):
    """The largest extensor moment of a joint in the range, or the largest flexor one if it is never extensor.

    Attributes:
        moment: extensor moment, negative for a flexor one [N·m]
        thigh_angle: thigh above the horizontal where it occurs [rad]
        knee_flexion: shank against thigh where it occurs [rad]
    """

    moment: float
    thigh_angle: float
    knee_flexion: float


def peaks_of(statics: Statics, bottom: Solution) -> dict[str, Peak]:
    """The largest moments from the bottom to just short of standing; the ankle's is the same at every depth.

    The hip's adductor moment and resultant are those where its extensor moment is largest.

    Args:
        statics: of the setup
        bottom: its solution at the bottom

    Raises:
        Refusal: when no trunk lean balances a posture on the way
    """
    setup = statics.setup
    if setup.split is not None:
        return _peaks_of_split(statics, bottom)
    lowest = setup.thigh_angle
    stations = stations_above(lowest)
    above = statics.above_bottom(stations, bottom)
    knee_flexion = bottom.shin_angle + STANDING - lowest
    peaks = {"ankle": Peak(bottom.ankle, lowest, knee_flexion)}
    for joint, moment, others in (
        ("knee", bottom.knee, above.knee),
        ("hip", bottom.hip, above.hip),
        ("lumbosacral", bottom.lumbosacral, above.lumbosacral),
    ):
        largest = _largest(moment, others)
        if largest == moment:
            peaks[joint] = Peak(moment, lowest, knee_flexion)
        else:
            angle = stations.thigh_angle[others.index(largest)]
            peaks[joint] = Peak(largest, angle, shin_at(setup, angle) + STANDING - angle)
    hip = peaks["hip"]
    adductor, resultant = _aside(statics, bottom, hip.moment, hip.thigh_angle)
    peaks["hip_adductor"] = Peak(adductor, hip.thigh_angle, hip.knee_flexion)
    peaks["hip_resultant"] = Peak(resultant, hip.thigh_angle, hip.knee_flexion)
    return peaks


def largest_moments(statics: Statics, bottom: Solution) -> dict[str, float]:
    """The moments of peaks_of alone [N·m], for searches through many setups.

    Args:
        statics: of the setup
        bottom: its solution at the bottom

    Raises:
        Refusal: as peaks_of
    """
    if statics.setup.split is not None:
        most = hardest(bottom, risen_of(statics))
        return {joint: getattr(most, joint) for joint in MOMENTS}
    stations = stations_above(statics.setup.thigh_angle)
    above = statics.above_bottom(stations, bottom)
    hip = _largest(bottom.hip, above.hip)
    hip_at = statics.setup.thigh_angle if hip == bottom.hip else stations.thigh_angle[above.hip.index(hip)]
    adductor, resultant = _aside(statics, bottom, hip, hip_at)
    return {
        "ankle": bottom.ankle,
        "knee": _largest(bottom.knee, above.knee),
        "hip": hip,
        "hip_adductor": adductor,
        "hip_resultant": resultant,
        "lumbosacral": _largest(bottom.lumbosacral, above.lumbosacral),
    }


def _peaks_of_split(statics: Statics, start: Solution) -> dict[str, Peak]:
    """The largest moments of a split stance, of a step-up where the lead foot has come to bear everything.

    With both feet where they stand and share and lean as they are, body and load rise straight up, so that hip and
    lower back are asked for the same all the way, within some per cent, and the knee for less.
    """
    risen = risen_of(statics)
    most = hardest(start, risen)
    here, there = statics.setup.thigh_angle, None if risen is None else risen.stance.inputs.thigh_angle
    peaks = {}
    for joint in MOMENTS:
        moment = getattr(most, joint)
        angle = here if there is None or moment == getattr(start, joint) else there
        peaks[joint] = Peak(moment, angle, start.shin_angle + STANDING - angle)
    return peaks


def _aside(statics: Statics, bottom: Solution, hip: float, thigh_angle: float) -> tuple[float, float]:
    """The hip's adductor moment where its extensor moment is largest, and the resultant of both [N·m]."""
    if statics.setup.stance is SAGITTAL:
        return 0.0, hip
    at_bottom = thigh_angle == statics.setup.thigh_angle
    adductor = bottom.hip_adductor if at_bottom else statics.hip_adductor(thigh_angle)
    return adductor, copysign(hypot(hip, adductor), hip)


def _largest(bottom: float, above: list[float]) -> float:
    """The largest extensor moment [N·m], or the largest flexor one if it is never extensor."""
    largest = max(above, default=bottom)
    if largest <= 0.0 and bottom <= 0.0:
        largest = min(above, default=bottom)
        return largest if largest < bottom - MOMENT_TOLERANCE else bottom
    return largest if largest > bottom + MOMENT_TOLERANCE else bottom
