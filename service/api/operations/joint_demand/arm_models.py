"""What joint-demand answers of one arm in presses, pulls and raises."""

from __future__ import annotations

from typing import Literal

from service.api.models.base import ResponseModel
from service.api.models.common import Estimate
from service.mechanics.arm.shoulder import Movement
from service.mechanics.arm.uncertain import Assumption
from service.units import Angle
from service.vocabulary import Difference


class ShoulderAnswer(ResponseModel, kw_only=True, frozen=True):
    """Where most is asked of the shoulder, each movement weighed by its relative strength.

    Attributes:
        at: Where, of the hand's way from the bottom of the lift (0) to its top (1).
        leading: The movement whose part is largest for its strength.
        weighed: The three parts as one, in N·m of adduction.
        raising: Moment that raises the arm in N·m, as it is; negative where it lowers it.
        forward: Moment that swings the raised arm forward in N·m, as it is; negative where backward.
        inward_rotation: Moment that turns the arm inward in N·m, as it is; negative where outward.
    """

    at: float
    leading: Movement
    weighed: Estimate
    raising: Estimate
    forward: Estimate
    inward_rotation: Estimate


class ElbowAnswer(ResponseModel, kw_only=True, frozen=True):
    """What holds the largest moment about the elbow's hinge, and where.

    Attributes:
        at: Where, of the hand's way from the bottom of the lift (0) to its top (1).
        muscles: Which muscles hold it.
        valgus: The largest moment beside the hinge, in N·m.
    """

    at: float
    muscles: Literal["extensors", "flexors"]
    valgus: Estimate


class ArmPosture(ResponseModel, kw_only=True, frozen=True):
    """Postures of the repetition that provoke a shoulder whatever the moment.

    Attributes:
        behind_the_body: Upper arm behind the trunk at most.
        elevation_low: Lowest elevation of the upper arm from hanging.
        elevation_high: Highest elevation of the upper arm from hanging.
        in_provoking_elevation: Part of the hand's way, 0 to 1, with the upper arm between 70 and 120 degrees of
            elevation.
        outward_rotation: The most outward turn of the arm there; null where it is never so high.
    """

    behind_the_body: Angle
    elevation_low: Angle
    elevation_high: Angle
    in_provoking_elevation: float
    outward_rotation: Angle | None


class ArmDifferences(ResponseModel, kw_only=True, frozen=True):
    """What else of the arm is less or more than in the first setup, where every assumption at either end of its span agrees.

    Attributes:
        elbow_valgus: Moment beside the elbow's hinge; null where both hands are free.
        behind_the_body: How far the upper arm goes behind the trunk.
    """

    elbow_valgus: Difference | None
    behind_the_body: Difference


class ArmAnswer(ResponseModel, kw_only=True, frozen=True):
    """One arm at rest in each part of the lift, besides its moments.

    Attributes:
        shoulder: Where most is asked of the shoulder.
        elbow: Where most is asked of the elbow; null where the hand is free, as at a dumbbell or a cable.
        posture: Postures that provoke a shoulder.
        difference: What else differs from the first setup; null where that is no lift of the arms.
        unclear_by: Assumptions that leave a difference of shoulder or elbow unclear; empty where none does.
    """

    shoulder: ShoulderAnswer
    elbow: ElbowAnswer | None
    posture: ArmPosture
    difference: ArmDifferences | None
    unclear_by: list[Assumption]
