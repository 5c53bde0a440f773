"""How a lift is set up, as requests describe it: depth and technique."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Final, Protocol

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, stated_si, states
from service.api.models.lifter import Lifter, limits_of
from service.errors import Refusal
from service.mechanics import setups
from service.mechanics.seen import Seen, SeenBy
from service.units import Angle, Length

_OF_LIFTER: Final = ("/ankle_dorsiflexion", "/hip_flexion", "/hip_abduction", "/hip_external_rotation")
"""Pointers of limits that the mechanics has in the technique and requests have with the lifter."""
_MAY_BE_MISSING: Final = ("/technique/seen_by",)
"""What is refused for being left out."""


class Depth(RequestModel, kw_only=True, frozen=True):
    """How deep, in exactly one way: thigh below the horizontal (negative above it), a box, or knee flexion at the bottom; in presses and pulls how far above the lowest point of the full range."""

    thigh_below_horizontal: Angle | UnsetType = UNSET
    box_height: (
        Annotated[
            Length,
            Meta(
                description="Height of the box under the seat (squats), the lead foot (step-up) or the bar (block pull), 0.05 to 0.80 m."
            ),
        ]
        | UnsetType
    ) = UNSET
    knee_flexion: Angle | UnsetType = UNSET
    above_bottom: (
        Annotated[
            Length,
            Meta(
                description="Presses and pulls: how far above the lowest point of its full range the load turns, of a bench press above the chest; in lifts of one's own body, the body; up to two thirds of the range."
            ),
        ]
        | UnsetType
    ) = UNSET


class Technique(RequestModel, kw_only=True, frozen=True):
    """What is done otherwise than the exercise's usual rule: heel lift 0 to 0.08 m, stance, shin angle at the bottom -15 to 50 deg, drift of the bar ahead of mid-foot -0.05 to 0.15 m.

    stance: narrow as the hips are broad, shoulder 1.1 and wide 1.5 times the breadth between the acromia (the deltoids are a fifth broader); or stance_width.
    """

    heel_lift: Length | UnsetType = UNSET
    stance: setups.StanceWidth = "shoulder"
    stance_width: (
        Annotated[
            Length,
            Meta(
                description="From the middle of one ankle to that of the other, above the heels, 0.08 to 1.3 m, instead of `stance`; computed in squats."
            ),
        ]
        | UnsetType
    ) = UNSET
    toe_out: (
        Annotated[
            Angle,
            Meta(
                description="Feet from straight ahead, 0 to 60 deg; what goes with the width where left out; computed in squats."
            ),
        ]
        | UnsetType
    ) = UNSET
    knee_over_toe: (
        Annotated[
            bool,
            Meta(description="Whether the knees go over the toes, as where left out, or straight ahead; in squats."),
        ]
        | UnsetType
    ) = UNSET
    shin_angle: (
        Annotated[
            Angle,
            Meta(
                description="Shin from the vertical at the bottom, instead of the rule's: exactly so where it is asked for, or as it was seen with `seen_by`."
            ),
        ]
        | UnsetType
    ) = UNSET
    trunk_lean: (
        Annotated[
            Angle,
            Meta(
                description="Line from hip to shoulder from the vertical at the bottom, 0 to 85 deg: as it was seen, with `seen_by`; in split stances, up to 65 deg, in pulls and in bent-over rows it may be asked for without, on both feet else balance decides it."
            ),
        ]
        | UnsetType
    ) = UNSET
    thigh_angle: (
        Annotated[
            Angle,
            Meta(
                description="Thigh above the horizontal at the bottom as it was seen, negative below it, with `seen_by`; of squats and split stances it is the depth where no `depth` is stated. A depth that is asked for is a `depth`."
            ),
        ]
        | UnsetType
    ) = UNSET
    seen_by: (
        Annotated[
            SeenBy,
            Meta(
                description="How the angles were seen: by eye (error 6 deg), from the side on a phone's video (3.5, of the shin 4.5 deg), or with an inclinometer while the bottom is held (2.2 deg). In every lift the posture that fits them, the usual one and balance best is computed with, as sure as they are read."
            ),
        ]
        | UnsetType
    ) = UNSET
    bar_forward_of_midfoot: Length | UnsetType = UNSET
    foot_spacing: (
        Annotated[
            Length,
            Meta(
                description="Split squats and lunges: between the pressure centres of the feet from front to back, 0.25 to 1.40 m."
            ),
        ]
        | UnsetType
    ) = UNSET
    grip_width: (
        Annotated[
            Length,
            Meta(
                description="Between the middles of the hands, 0.95 to 2 times the breadth between the acromia (on the floor from 0.4), in presses and pulls whose hands a bar or the floor joins."
            ),
        ]
        | UnsetType
    ) = UNSET
    shoulder_abduction: (
        Annotated[
            Angle,
            Meta(
                description="Upper arm from the trunk at the bottom, elbows tucked or flared, 45 to 90 deg; in presses of a level trunk."
            ),
        ]
        | UnsetType
    ) = UNSET
    bench_angle: (
        Annotated[
            Angle,
            Meta(
                description="Bench from level, positive with the head up: -25 to 15 deg in bench presses, 15 to 60 deg in incline presses."
            ),
        ]
        | UnsetType
    ) = UNSET
    wrist_bend: (
        Annotated[
            Angle,
            Meta(
                description="Hands bent back against the forearms, 0 to 80 deg; 0 where left out; in presses and pulls whose hands a bar or the floor joins."
            ),
        ]
        | UnsetType
    ) = UNSET
    bounce: (
        Annotated[
            bool,
            Meta(
                description="Whether each repetition is bounced out of the bottom, in squats, presses, and pulls that turn above the floor. It raises the force at the turn and leaves the posture; with a hold or a pause at the bottom nothing is bounced."
            ),
        ]
        | UnsetType
    ) = UNSET


def depth_of(depth: Depth | UnsetType | None) -> setups.Depth | None:
    """The depth in SI, None for the exercise's usual one."""
    if depth is None or isinstance(depth, UnsetType):
        return None
    return setups.Depth(
        thigh_below_horizontal=stated_si(depth.thigh_below_horizontal),
        box_height=stated_si(depth.box_height),
        knee_flexion=stated_si(depth.knee_flexion),
        above_bottom=stated_si(depth.above_bottom),
    )


def technique_of(technique: Technique | UnsetType | None, lifter: Lifter | None = None) -> setups.Technique:
    """The technique in SI, within the lifter's own limits where the lifter is known."""
    limits = setups.USUAL_TECHNIQUE if lifter is None else limits_of(lifter)
    if technique is None or isinstance(technique, UnsetType):
        return limits
    lift, shin, drift = technique.heel_lift, technique.shin_angle, technique.bar_forward_of_midfoot
    seen = _seen(technique)
    return msgspec.structs.replace(
        limits,
        heel_lift=stated_si(lift) or 0.0,
        stance=technique.stance,
        stance_width=stated_si(technique.stance_width),
        toe_out=stated_si(technique.toe_out),
        knee_over_toe=technique.knee_over_toe is not False,
        shin_angle=None if seen else stated_si(shin),
        trunk_lean=None if seen else stated_si(technique.trunk_lean),
        seen=seen,
        bar_forward_of_midfoot=stated_si(drift) or 0.0,
        foot_spacing=stated_si(technique.foot_spacing),
        grip_width=stated_si(technique.grip_width),
        shoulder_abduction=stated_si(technique.shoulder_abduction),
        bench_angle=stated_si(technique.bench_angle),
        wrist_bend=stated_si(technique.wrist_bend),
        bounce=technique.bounce is True,
    )


def _seen(technique: Technique) -> Seen | None:
    by = None if isinstance(technique.seen_by, UnsetType) else technique.seen_by
    thigh = stated_si(technique.thigh_angle)
    if by is None and thigh is None:
        return None
    return Seen(stated_si(technique.shin_angle), stated_si(technique.trunk_lean), thigh, by)


class _WithSetup(Protocol):
    @property
    def depth(self) -> Depth | None: ...

    @property
    def technique(self) -> Technique | None: ...


def describes_setup(one: _WithSetup) -> bool:
    """Whether a prescription or a part of one states how the lift is set up, its depth or technique."""
    return one.depth is not None or one.technique is not None


def states_other(one: Depth | Technique | None, names: Collection[str] = ()) -> bool:
    """Whether a depth or a technique states anything beyond the named fields."""
    if one is None:
        return False
    usual = type(one)()
    return any(getattr(one, name) != getattr(usual, name) for name in one.__struct_fields__ if name not in names)


def located(refusal: Refusal, where: str, setup: object, lifter: Lifter | None) -> Refusal:
    """A refusal of the mechanics at what is stated in the setup at `where` or of the lifter, else at the setup."""
    of_lifter = {f"/technique{limit}": f"/lifter{limit}" for limit in _OF_LIFTER}
    named = refusal.at({"/exercise_id": "/exercise"} | of_lifter)

    def is_stated(pointer: str) -> bool:
        if pointer.startswith("/lifter/"):
            return states(lifter, pointer.removeprefix("/lifter"))
        return pointer in _MAY_BE_MISSING or states(setup, pointer)

    found = named.where_stated(is_stated, "")
    return found.at(
        {fault.pointer: where + fault.pointer for fault in found.faults if not fault.pointer.startswith("/lifter/")}
    )
