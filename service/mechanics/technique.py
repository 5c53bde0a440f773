"""How a lifter does an exercise otherwise than its posture rule, and the lifter's own limits."""

from __future__ import annotations

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from service.mechanics.depth import Depth
from service.mechanics.habits import Maximum
from service.mechanics.seen import Departure, Seen
from service.mechanics.stance import StanceWidth

OF_ARMS: Final = ("grip_width", "shoulder_abduction", "bench_angle", "wrist_bend")
"""What of a technique is of presses and pulls alone."""


class Technique(Struct, frozen=True, gc=False):
    """Departures from the exercise's posture rule, and the lifter's own limits.

    Attributes:
        heel_lift: solid lift under the heels [m]
        stance: width between the feet in words
        stance_width: from ankle to ankle, instead of the word [m]; in squats
        toe_out: feet from straight ahead [rad]; None for what goes with the width; in squats
        knee_over_toe: whether the knees go over the toes; otherwise straight ahead; in squats
        shin_angle: shin from the vertical at the bottom [rad]; None for the preferred one
        bar_forward_of_midfoot: drift of the load ahead of its usual line [m]
        trunk_lean: trunk from the vertical, in split stances and pulls alone [rad]; None where it follows
        foot_spacing: between the centres of pressure of the feet of a split stance [m]; None where it follows
        lead_share: lead foot's share of body and load in a split stance, as measured [1]; None where it follows
        ankle_dorsiflexion: greatest dorsiflexion [rad]; None where not stated
        hip_flexion: greatest flexion of trunk against thigh reached in a squat, not a clinical hip range since pelvis
            and spine contribute to it [rad]; None where not stated
        hip_abduction: furthest azimuth of the thigh reached in a squat, which mixes clinical abduction and rotation
            [rad]; None where not stated
        hip_external_rotation: furthest toe-out that the hips allow [rad]; None where not stated
        grip_width: between the middles of the hands, in presses and pulls at a bar or handles [m]
        shoulder_abduction: upper arm from the trunk at the bottom, in presses of a level trunk [rad]
        bench_angle: bench from level, head up, in presses on a bench [rad]
        wrist_bend: hands bent back, in presses and pulls at a bar or handles [rad]
        bounce: whether it is bounced out of the bottom, which enters the force at the turn and no posture
        seen: angles as they were seen, from which shin, depth and balance point are inferred in squats
        departure: what follows from them, once it was inferred
        maximum: the lifter's, as far as it is known; the posture changes near it
    """

    heel_lift: float = 0.0
    stance: StanceWidth = "shoulder"
    stance_width: float | None = None
    toe_out: float | None = None
    knee_over_toe: bool = True
    shin_angle: float | None = None
    bar_forward_of_midfoot: float = 0.0
    trunk_lean: float | None = None
    foot_spacing: float | None = None
    lead_share: float | None = None
    ankle_dorsiflexion: float | None = None
    hip_flexion: float | None = None
    hip_abduction: float | None = None
    hip_external_rotation: float | None = None
    grip_width: float | None = None
    shoulder_abduction: float | None = None
    bench_angle: float | None = None
    wrist_bend: float | None = None
    bounce: bool = False
    seen: Seen | None = None
    departure: Departure | None = None
    maximum: Maximum | None = None


USUAL_TECHNIQUE = Technique()


def asked_lean(technique: Technique | None) -> float | None:
    """The trunk from the vertical as it was seen, else as it is asked for; None where neither is stated [rad].

    Args:
        technique: None for the usual one
    """
    if technique is None:
        return None
    seen = None if technique.seen is None else technique.seen.trunk_lean
    return technique.trunk_lean if seen is None else seen


def still_seen(technique: Technique, depth: Depth | None) -> Seen | None:
    """What was seen, as long as it is still so: nothing at another depth, nor where shin or trunk are to be otherwise.

    Args:
        technique: with what was seen, and how the lifter therefore departs from the rule
        depth: at which the lift is to be done; None for the exercise's own
    """
    departure = technique.departure
    if departure is None:
        return technique.seen
    otherwise = technique.shin_angle is not None or technique.trunk_lean is not None
    return None if otherwise or departure.asked != depth else technique.seen


def prescribed(technique: Technique | None) -> Technique:
    """What of a technique is to be done, without what is only known of the lifter.

    Args:
        technique: None for the usual one
    """
    if technique is None:
        return USUAL_TECHNIQUE
    return replace(technique, seen=None, departure=None, maximum=None)
