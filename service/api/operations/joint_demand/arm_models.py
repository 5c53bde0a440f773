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
    """Whether the triceps or the biceps holds the largest moment about the elbow's hinge, and where; valgus: the largest beside the hinge."""

    at: OfTheWay
    muscles: Literal["extensors", "flexors"]
    valgus: Estimate


class ArmPosture(ResponseModel, kw_only=True, frozen=True):
    """Postures of the repetition that provoke a shoulder whatever the moment: upper arm behind the trunk at most, its elevation from hanging, the part of the way between 70 and 120 degrees of it and the most outward turn there."""

    behind_the_body: Angle
    elevation_low: Angle
    elevation_high: Angle
    in_provoking_elevation: OfTheWay
    outward_rotation: Angle | None


class ArmDifferences(ResponseModel, kw_only=True, frozen=True):
    """What else of the arm is less or more than in the first setup, where every assumption at either end of its span agrees; of the valgus moment null where both hands are free."""

    elbow_valgus: Difference | None
    behind_the_body: Difference


class ArmAnswer(ResponseModel, kw_only=True, frozen=True):
    """One arm at rest in each part of the lift, besides its moments; elbow is null where the hand is free, as at a dumbbell or a cable; difference is null where the first setup is no lift of the arms."""

    shoulder: ShoulderAnswer
    elbow: ElbowAnswer | None
    posture: ArmPosture
    difference: ArmDifferences | None
    unclear_by: Annotated[
        list[Assumption], Meta(description="Assumptions that leave a difference of shoulder or elbow unclear.")
    ]
