"""How a lift is set up, as requests describe it: depth and technique."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final, Protocol

import msgspec
from msgspec import UNSET, UnsetType

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
    """How deep, in exactly one way.

    Attributes:
        thigh_below_horizontal: Thigh below the horizontal at the bottom of a squat or split squat; negative above it.
        box_height: Height of the box under the seat (squats), the lead foot (step-up) or the bar (block pull), 0.05 to
            0.80 m.
        knee_flexion: Angle of the bent knee at the bottom, 0 for a straight leg.
        above_bottom: Presses and pulls: how far above the lowest point of its full range the load turns, of a bench
            press above the chest; in lifts of one's own body, the body; up to two thirds of the range.
    """

    thigh_below_horizontal: Angle | UnsetType = UNSET
    box_height: Length | UnsetType = UNSET
    knee_flexion: Angle | UnsetType = UNSET
    above_bottom: Length | UnsetType = UNSET


class Technique(RequestModel, kw_only=True, frozen=True):
    """What is done otherwise than the exercise's usual rule; what is left out is as usual.

    Attributes:
        heel_lift: Height under the heels, as of lifting shoes, 0 to 0.08 m.
        stance: Width of the stance; or `stance_width`.
        stance_width: From the middle of one ankle to that of the other, above the heels, 0.08 to 1.3 m, instead of
            `stance`; computed in squats.
        toe_out: Feet from straight ahead, 0 to 60 deg; computed in squats. Left out: what goes with the width.
        knee_over_toe: Whether the knees go over the toes or, if false, straight ahead; in squats. Left out: over the
            toes.
        shin_angle: Shin from the vertical at the bottom, -15 to 50 deg: exactly so where it is asked for, or as it was
            seen, with `seen_by`.
        trunk_lean: Line from hip to shoulder from the vertical at the bottom, 0 to 85 deg: as it was seen, with
            `seen_by`; in split stances, up to 65 deg, in pulls and in bent-over rows it may be asked for without, on
            both feet else balance decides it.
        thigh_angle: Thigh above the horizontal at the bottom as it was seen, negative below it, with `seen_by`; of
            squats and split stances it is the depth where no `depth` is stated. A depth that is asked for is a `depth`.
        seen_by: How the angles were seen: by eye (error 6 deg), from the side on a phone's video (3.5, of the shin 4.5
            deg), or with an inclinometer while the bottom is held (2.2 deg). In every lift the posture that fits them,
            the usual one and balance best is computed with, as sure as they are read.
        bar_forward_of_midfoot: How far the bar drifts ahead of its usual line over mid-foot, -0.05 to 0.15 m.
        foot_spacing: Split squats and lunges: between the pressure centres of the feet from front to back, 0.25 to 1.40
            m.
        grip_width: Between the middles of the hands, 0.95 to 2 times the breadth between the acromia (on the floor from
            0.4), in presses and pulls whose hands a bar or the floor joins.
        shoulder_abduction: Upper arm from the trunk at the bottom, elbows tucked or flared, 45 to 90 deg; in presses of
            a level trunk.
        bench_angle: Bench from level, positive with the head up: -25 to 15 deg in bench presses, 15 to 60 deg in
            incline presses.
        wrist_bend: Hands bent back against the forearms, 0 to 80 deg; in presses and pulls whose hands a bar or the
            floor joins. Left out: 0.
        bounce: Whether each repetition is bounced out of the bottom, in squats, presses, and pulls that turn above the
            floor. It raises the force at the turn and leaves the posture; with a hold or a pause at the bottom nothing
            is bounced.
    """

    heel_lift: Length | UnsetType = UNSET
    stance: setups.StanceWidth = "shoulder"
    stance_width: Length | UnsetType = UNSET
    toe_out: Angle | UnsetType = UNSET
    knee_over_toe: bool | UnsetType = UNSET
    shin_angle: Angle | UnsetType = UNSET
    trunk_lean: Angle | UnsetType = UNSET
    thigh_angle: Angle | UnsetType = UNSET
    seen_by: SeenBy | UnsetType = UNSET
    bar_forward_of_midfoot: Length | UnsetType = UNSET
    foot_spacing: Length | UnsetType = UNSET
    grip_width: Length | UnsetType = UNSET
    shoulder_abduction: Angle | UnsetType = UNSET
    bench_angle: Angle | UnsetType = UNSET
    wrist_bend: Angle | UnsetType = UNSET
    bounce: bool | UnsetType = UNSET


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
