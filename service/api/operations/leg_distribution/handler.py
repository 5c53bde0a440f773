"""leg-distribution: what rests on either leg in a split stance, and the load that matches another stance."""

from __future__ import annotations

from math import radians

from msgspec import UnsetType

from service.api.models.base import stated_si
from service.api.models.common import Basis, cautions, estimate
from service.api.models.lifter import body_of
from service.api.operations.leg_distribution.models import (
    LegDistribution,
    LegDistributionAnswer,
    Legs,
    MatchingLoad,
    SplitPosture,
)
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import STANCES
from service.mechanics.balance import Carry
from service.mechanics.posture import split_posture
from service.mechanics.spine import SHARED_ERROR as LEAN_ERROR
from service.mechanics.weight_distribution import matching_load, on_lead, share_from_positions, share_from_posture
from service.units import MassUnit, mass, si

USUAL_SHIN = radians(10)
LEAST_SHARE = 0.05


def _share(request: LegDistribution) -> tuple[Interval, str, str, list[str]]:
    """The lead share, what its interval means, its source, and what was assumed."""
    spacing, behind = request.foot_spacing, request.centre_of_mass_behind_lead_foot
    placed = not isinstance(spacing, UnsetType), not isinstance(behind, UnsetType)
    if not isinstance(request.lead_share, UnsetType):
        if any(placed) or not isinstance(request.posture, UnsetType):
            raise Refusal.one("lead_share", "State the share, or what it follows from, not both.", "one of them")
        given = request.lead_share
        return Interval(given, given, given), "as stated by the caller", "statics", []
    if not isinstance(request.posture, UnsetType):
        return _from_posture(request, request.posture)
    if any(placed):
        if isinstance(spacing, UnsetType) or isinstance(behind, UnsetType):
            missing = "foot_spacing" if isinstance(spacing, UnsetType) else "centre_of_mass_behind_lead_foot"
            raise Refusal.one(
                missing, "Both foot_spacing and centre_of_mass_behind_lead_foot are needed.", "both or neither"
            )
        found = share_from_positions(si(spacing), si(behind))
        return (
            Interval(found, found, found),
            "from the places as stated",
            "statics",
            ["Both feet on one level, forces vertical."],
        )
    stance = STANCES[request.stance]
    if stance.value is None or stance.low is None or stance.high is None:
        raise Refusal.one("lead_share", f"{stance.name}: {stance.note}", "0 to 1")
    return (
        Interval(stance.value, stance.low, stance.high),
        stance.interval,
        stance.source,
        [f"Published share of: {stance.name}."],
    )


def _from_posture(request: LegDistribution, given: SplitPosture) -> tuple[Interval, str, str, list[str]]:
    spacing = request.foot_spacing
    if isinstance(spacing, UnsetType) or not isinstance(request.centre_of_mass_behind_lead_foot, UnsetType):
        raise Refusal.one(
            "foot_spacing",
            "The share from a posture needs foot_spacing and finds the centre of mass itself.",
            "foot_spacing alone",
        )
    try:
        body = body_of(given.lifter)
    except Refusal as refusal:
        raise refusal.under("/posture") from None
    lean = si(given.trunk_lean)
    shin = USUAL_SHIN if isinstance(given.shin_angle, UnsetType) else si(given.shin_angle)
    thigh = 0.0 if isinstance(given.thigh_below_horizontal, UnsetType) else -si(given.thigh_below_horizontal)
    for name, value, low, high in (
        ("trunk_lean", lean, 0, 80),
        ("shin_angle", shin, -15, 50),
        ("thigh_below_horizontal", -thigh, -60, 25),
    ):
        if not radians(low) - 1e-9 <= value <= radians(high) + 1e-9:
            raise Refusal.one(f"posture/{name}", "The model covers no such angle.", f"{low} to {high} deg")
    carry = Carry("trunk", along=0.03, anterior=-0.075) if given.load_at == "shoulders" else Carry("hands_at_shoulder")

    def share_at(tilt: float) -> float:
        posture = split_posture(body, carry, shin, thigh, min(radians(80), max(0.0, tilt)))
        return share_from_posture(body, posture, si(request.load), si(spacing))

    try:
        value = share_at(lean)
    except Refusal as refusal:
        raise refusal.at({"/centre_of_mass_behind_lead_foot": "/foot_spacing"}) from None
    ends = [value]
    for tilt in (lean - LEAN_ERROR, lean + LEAN_ERROR):
        try:
            ends.append(share_at(tilt))
        except Refusal:
            ends.append(1.0 if tilt > lean else 0.0)
    found = Interval(value, min(ends), max(ends))
    meaning = "as far as a lean that is 10 degrees less or more would move it"
    return (
        found,
        meaning,
        "statics",
        [
            "Feet on one level, forces vertical; the rear thigh and shank have their centre midway between hip and rear foot."
        ],
    )


def _published(stance: str, pointer: str) -> float:
    value = STANCES[stance].value
    if value is None:
        raise Refusal.one(
            pointer, f"{STANCES[stance].name}: no share is published to match.", "a stance with a published share"
        )
    return value


def leg_distribution(request: LegDistribution) -> LegDistributionAnswer:
    """The legs' shares. Raises Refusal where no share is published and none is given."""
    share, meaning, source, assumed = _share(request)
    unit: MassUnit = request.load.unit
    load = si(request.load)
    body = _body_mass(request)
    codes = ["shares_include_body", "joint_load_differs"]
    if share.value < 1 and request.stance != "bilateral":
        codes.append("rear_leg_works")
    published = STANCES[request.stance].value
    if (
        not isinstance(request.posture, UnsetType)
        and published is not None
        and not share.low <= published <= share.high
    ):
        codes.append("posture_share_differs")
    matched = None
    if not isinstance(request.match, UnsetType):
        if share.value < LEAST_SHARE:
            raise Refusal.one(
                "lead_share", "With next to nothing on the lead leg no load matches.", f"{LEAST_SHARE:g} to 1"
            )
        other = _published(request.match.stance, "match/stance")
        other_load = si(request.match.load)
        with_body = None if body is None else matching_load(share.value, other, other_load, body)
        if with_body is not None and with_body < 0:
            codes.append("body_alone_exceeds")
            with_body = None
        codes.append("floor_force_match")
        matched = MatchingLoad(
            load_only=mass(matching_load(share.value, other, other_load), unit),
            with_body_mass=None if with_body is None else mass(with_body, unit),
        )
    return LegDistributionAnswer(
        lead_share=estimate(share, meaning),
        load_only=_legs(share.value, load, 0.0, unit),
        with_body_mass=None if body is None else _legs(share.value, load, body, unit),
        matching_load=matched,
        basis=Basis(
            method="two vertical supports: the lead share is the place of the centre of mass between the feet",
            sources=list(dict.fromkeys([source, "statics", "openstax_college_physics"])),
            assumptions=assumed,
            evidence="published" if source != "statics" else "computed",
        ),
        cautions=cautions(*codes, published=f"{100 * (published or 0):.0f} %"),
    )


def _body_mass(request: LegDistribution) -> float | None:
    posture = request.posture
    if isinstance(posture, UnsetType):
        return stated_si(request.body_mass)
    if not isinstance(request.body_mass, UnsetType):
        raise Refusal.one("body_mass", "The lifter of the posture has a body mass already.", "left out")
    return si(posture.lifter.body_mass)


def _legs(share: float, load: float, body: float, unit: MassUnit) -> Legs:
    lead, trail = on_lead(share, load, body)
    return Legs(lead=mass(lead, unit), trail=mass(trail, unit))
