"""What joint-demand answers of one arm in presses, pulls and raises."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from service.api.models.base import ResponseModel
from service.api.models.common import Estimate
from service.mechanics.arm.shoulder import Movement
from service.mechanics.arm.uncertain import Assumption
from service.units import Angle
from service.vocabulary import Difference

OfTheWay = Annotated[float, Meta(ge=0, le=1, description="Of the hand's way from the bottom of the lift to its top.")]


class ArmMoments(ResponseModel, kw_only=True, frozen=True):
    """Largest net moments of one arm over the repetition: shoulder, elbow about its hinge and beside it, wrist; and how far each is known."""

    shoulder: Estimate
    elbow: Estimate
    elbow_valgus: Estimate
    wrist: Estimate


class ShoulderAnswer(ResponseModel, kw_only=True, frozen=True):
    """Where most is asked of the shoulder, each movement weighed by its relative strength: raising, swinging the raised arm forward, turning it inward, as they are; backward, downward and outward are negative.

    `weighed` has the three as one, in newton metres of adduction; `leading` is the movement whose part is largest for its strength.
    """

    at: OfTheWay
    leading: Movement
    weighed: Estimate
    raising: Estimate
    forward: Estimate
    inward_rotation: Estimate


class ElbowAnswer(ResponseModel, kw_only=True, frozen=True):
    """Whether the triceps or the biceps holds the largest moment about the elbow's hinge, and where."""

    at: OfTheWay
    muscles: Literal["extensors", "flexors"]


class ArmPosture(ResponseModel, kw_only=True, frozen=True):
    """Postures of the repetition that provoke a shoulder whatever the moment: upper arm behind the trunk at most, its elevation from hanging, the part of the way between 70 and 120 degrees of it and the most outward turn there."""

    behind_the_body: Angle
    elevation_low: Angle
    elevation_high: Angle
    in_provoking_elevation: OfTheWay
    outward_rotation: Angle | None


class ArmRatios(ResponseModel, kw_only=True, frozen=True):
    """Largest moments against the first setup, least and most over all that is assumed; null where the first has none to speak of."""

    shoulder: Estimate | None
    elbow: Estimate | None
    elbow_valgus: Estimate | None
    wrist: Estimate | None


class ArmDifferences(ResponseModel, kw_only=True, frozen=True):
    """Whether one arm is asked for less or more than in the first setup, where every assumption at either end of its span agrees; of the shoulder, where net and weighed moment agree as well."""

    shoulder: Difference
    elbow: Difference
    elbow_valgus: Difference
    wrist: Difference
    behind_the_body: Difference


class ArmAnswer(ResponseModel, kw_only=True, frozen=True):
    """One arm at rest in each part of the lift; relative and difference are null where the first setup is no lift of the arms."""

    moments: ArmMoments
    shoulder: ShoulderAnswer
    elbow: ElbowAnswer
    posture: ArmPosture
    relative: ArmRatios | None
    difference: ArmDifferences | None
    unclear_by: Annotated[
        list[Assumption], Meta(description="Assumptions that leave a difference of shoulder or elbow unclear.")
    ]
