"""One arm in the answer of joint-demand."""

from __future__ import annotations

from typing import Final

from service.api.models.common import Estimate, estimate
from service.api.operations.joint_demand.arm_models import (
    ArmAnswer,
    ArmDifferences,
    ArmMoments,
    ArmPosture,
    ArmRatios,
    ElbowAnswer,
    ShoulderAnswer,
)
from service.mechanics.arm.directions import Direction, direction, of_shoulder
from service.mechanics.arm.repetition import ArmPostures
from service.mechanics.arm.uncertain import Assumption, Quantity, UncertainArm
from service.units import angle

OF_ARM: Final = "least and most with each assumption of lifter and lift at the ends of its span by itself; no coverage"

_COMPARED: Final[tuple[Quantity, ...]] = (
    "shoulder_net",
    "shoulder",
    "elbow",
    "elbow_valgus",
    "wrist",
    "behind_the_body",
)


def arm_answer(arm: UncertainArm, reference: UncertainArm | None) -> ArmAnswer:
    """One arm in a setup, and against that of the first.

    Args:
        arm: the setup's
        reference: the first setup's; None where that is no lift of the arms
    """
    peak = arm.demand.shoulder
    against = {quantity: direction(arm, reference, quantity) for quantity in _COMPARED} if reference else None
    return ArmAnswer(
        moments=ArmMoments(
            shoulder=_moment(arm, "shoulder_net"),
            elbow=_moment(arm, "elbow"),
            elbow_valgus=_moment(arm, "elbow_valgus"),
            wrist=_moment(arm, "wrist"),
        ),
        shoulder=ShoulderAnswer(
            at=round(peak.part, 4),
            leading=peak.demand.leading,
            weighed=_moment(arm, "shoulder"),
            raising=estimate(arm.shoulder_part("elevation"), OF_ARM, "N·m"),
            forward=estimate(arm.shoulder_part("horizontal"), OF_ARM, "N·m"),
            inward_rotation=estimate(arm.shoulder_part("axial"), OF_ARM, "N·m"),
        ),
        elbow=ElbowAnswer(
            at=round(arm.demand.elbow.part, 4),
            muscles="extensors" if arm.demand.elbow.value >= 0 else "flexors",
        ),
        posture=_posture(arm.demand.postures),
        relative=_ratios(against) if against else None,
        difference=_differences(arm, reference, against) if against and reference else None,
        unclear_by=_unclear(against) if against and arm is not reference else [],
    )


def _moment(arm: UncertainArm, quantity: Quantity) -> Estimate:
    return estimate(arm.interval(quantity), OF_ARM, "N·m")


def _posture(postures: ArmPostures) -> ArmPosture:
    turned = postures.outward_rotation
    return ArmPosture(
        behind_the_body=angle(postures.behind_the_body, "deg"),
        elevation_low=angle(postures.elevation_low, "deg"),
        elevation_high=angle(postures.elevation_high, "deg"),
        in_provoking_elevation=round(postures.in_provoking_elevation, 4),
        outward_rotation=None if turned is None else angle(turned, "deg"),
    )


def _ratios(against: dict[Quantity, Direction]) -> ArmRatios:
    return ArmRatios(
        shoulder=_ratio(against["shoulder_net"]),
        elbow=_ratio(against["elbow"]),
        elbow_valgus=_ratio(against["elbow_valgus"]),
        wrist=_ratio(against["wrist"]),
    )


def _ratio(found: Direction) -> Estimate | None:
    return None if found.ratio is None else estimate(found.ratio, OF_ARM)


def _differences(arm: UncertainArm, reference: UncertainArm, against: dict[Quantity, Direction]) -> ArmDifferences:
    return ArmDifferences(
        shoulder=of_shoulder(arm, reference),
        elbow=against["elbow"].difference,
        elbow_valgus=against["elbow_valgus"].difference,
        wrist=against["wrist"].difference,
        behind_the_body=against["behind_the_body"].difference,
    )


def _unclear(against: dict[Quantity, Direction]) -> list[Assumption]:
    quantities: tuple[Quantity, ...] = ("shoulder_net", "shoulder", "elbow")
    return list(dict.fromkeys(by for quantity in quantities for by in against[quantity].turned_by))
