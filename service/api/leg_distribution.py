"""leg-distribution: what rests on either leg in a split stance, and the load that matches another stance."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.api.operation import Example, Operation
from service.api.shared import Answer, Basis, Caution, Closed, Estimate, cautions, estimate
from service.intervals import Interval
from service.knowledge.catalogue import STANCES
from service.mechanics.stance import matching_load, on_lead, share_from_positions
from service.quantities import Length, Mass, MassUnit, mass, si
from service.refusals import Refusal

Stance = Literal[
    "bilateral", "split_squat", "lunge", "rear_foot_elevated_split_squat", "single_leg", "step_up", "kickstand"
]


class MatchStance(Closed, kw_only=True, frozen=True):
    """A stance and the load lifted in it, whose lead-leg load is to be matched."""

    stance: Stance
    load: Mass


class LegDistribution(Closed, kw_only=True, frozen=True):
    """A stance with its load. The share comes from lead_share, else from the places of feet and centre of mass, else from the published share."""

    stance: Stance
    load: Mass
    body_mass: Mass | UnsetType = UNSET
    lead_share: (
        Annotated[float, Meta(ge=0, le=1, description="Measured or estimated share of the lead leg, 0 to 1.")]
        | UnsetType
    ) = UNSET
    foot_spacing: (
        Annotated[Length, Meta(description="Distance between the pressure centres of the feet, more than 0.")]
        | UnsetType
    ) = UNSET
    centre_of_mass_behind_lead_foot: (
        Annotated[
            Length, Meta(description="Distance of the system's centre of mass behind the lead foot, 0 to foot_spacing.")
        ]
        | UnsetType
    ) = UNSET
    match: MatchStance | UnsetType = UNSET


class Legs(Answer, kw_only=True, frozen=True):
    """What rests on either leg."""

    lead: Mass
    trail: Mass


class MatchingLoad(Answer, kw_only=True, frozen=True):
    """The load in this stance that puts the other stance's load on the lead leg; null where body mass is unknown or alone exceeds it."""

    load_only: Mass
    with_body_mass: Mass | None


class LegDistributionAnswer(Answer, kw_only=True, frozen=True):
    """load_only applies the share to the load alone, as the trade does; with_body_mass to body and load, as force plates measure."""

    lead_share: Estimate
    load_only: Legs
    with_body_mass: Legs | None
    matching_load: MatchingLoad | None
    basis: Basis
    cautions: list[Caution]


def _share(request: LegDistribution) -> tuple[Interval, str, str, list[str]]:
    """The lead share, what its interval means, its source, and what was assumed."""
    spacing, behind = request.foot_spacing, request.centre_of_mass_behind_lead_foot
    placed = not isinstance(spacing, UnsetType), not isinstance(behind, UnsetType)
    if not isinstance(request.lead_share, UnsetType):
        if any(placed):
            raise Refusal.one(
                "lead_share", "State the share, or the places of feet and centre of mass, not both.", "one of them"
            )
        given = request.lead_share
        return Interval(given, given, given), "as stated by the caller", "statics", []
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
    body = None if isinstance(request.body_mass, UnsetType) else si(request.body_mass)
    codes = ["shares_include_body", "joint_load_differs"]
    if share.value < 1 and request.stance != "bilateral":
        codes.append("rear_leg_works")
    matched = None
    if not isinstance(request.match, UnsetType):
        if share.value <= 0:
            raise Refusal.one("lead_share", "With nothing on the lead leg no load matches.", "more than 0")
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
        cautions=cautions(*codes),
    )


def _legs(share: float, load: float, body: float, unit: MassUnit) -> Legs:
    lead, trail = on_lead(share, load, body)
    return Legs(lead=mass(lead, unit), trail=mass(trail, unit))


OPERATIONS = (
    Operation(
        name="leg-distribution",
        tag="Mechanics",
        summary="Load on lead and trail leg in a split stance",
        description="What rests on either leg, for the load alone (as the trade counts) and for body plus load (as force plates measure), from a published share, a "
        "stated share (0 to 1), or foot spacing and centre of mass (m, cm, in, ft). With `match`, the load in this stance that puts another stance's "
        "load on the lead leg. A kickstand stance has no published share: state it.",
        request=LegDistribution,
        answer=LegDistributionAnswer,
        compute=leg_distribution,
        examples=(
            Example(
                "split-squat",
                "Split squats that put 62.5 kg of front squats on the lead leg",
                {
                    "stance": "split_squat",
                    "load": {"value": 30, "unit": "kg"},
                    "body_mass": {"value": 64, "unit": "kg"},
                    "match": {"stance": "bilateral", "load": {"value": 62.5, "unit": "kg"}},
                },
            ),
            Example(
                "places",
                "From foot spacing and centre of mass",
                {
                    "stance": "kickstand",
                    "load": {"value": 30, "unit": "kg"},
                    "foot_spacing": {"value": 42, "unit": "cm"},
                    "centre_of_mass_behind_lead_foot": {"value": 9, "unit": "cm"},
                },
            ),
        ),
    ),
)
