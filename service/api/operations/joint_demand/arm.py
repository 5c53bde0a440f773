"""One arm in the answer of joint-demand."""

from __future__ import annotations

from typing import Final

from service.api.models.common import OF_ARM, estimate
from service.api.operations.joint_demand.arm_models import (
    ArmAnswer,
    ArmDifferences,
    ArmPosture,
    ElbowAnswer,
    ShoulderAnswer,
)
from service.mechanics.arm.directions import direction, numbered
from service.mechanics.arm.repetition import ArmPostures
from service.mechanics.arm.uncertain import Assumption, Quantity, UncertainArm
from service.units import angle
from service.vocabulary import Difference

_DECIMALS: Final = 9  # of a radian: what is smaller is left by rounding


def arm_answer(arm: UncertainArm, reference: UncertainArm | None) -> ArmAnswer:
    """One arm in a setup, and against that of the first.

    Args:
        arm: the setup's
        reference: the first setup's; None where that is no lift of the arms
    """
    peak = arm.demand.shoulder
    return ArmAnswer(
        shoulder=ShoulderAnswer(
            at=round(peak.part, 4),
            leading=peak.demand.leading,
            weighed=estimate(arm.interval("shoulder"), OF_ARM, "N·m"),
            raising=estimate(arm.shoulder_part("elevation"), OF_ARM, "N·m"),
            forward=estimate(arm.shoulder_part("horizontal"), OF_ARM, "N·m"),
            inward_rotation=estimate(arm.shoulder_part("axial"), OF_ARM, "N·m"),
        ),
        elbow=_elbow(arm) if "elbow" in numbered(arm.setup) else None,
        posture=_posture(arm.demand.postures),
        difference=None
        if reference is None
        else ArmDifferences(
            elbow_valgus=_valgus_against(arm, reference),
            behind_the_body=direction(arm, reference, "behind_the_body").difference,
        ),
        unclear_by=[] if reference is None or arm is reference else _unclear(arm, reference),
    )


def _elbow(arm: UncertainArm) -> ElbowAnswer:
    return ElbowAnswer(
        at=round(arm.demand.elbow.part, 4),
        muscles="extensors" if arm.demand.elbow.value >= 0 else "flexors",
        valgus=estimate(arm.interval("elbow_valgus"), OF_ARM, "N·m"),
    )


def _valgus_against(arm: UncertainArm, reference: UncertainArm) -> Difference | None:
    """None where neither lift leaves a number of the elbow."""
    known = any("elbow" in numbered(one.setup) for one in (arm, reference))
    return direction(arm, reference, "elbow_valgus").difference if known else None


def _posture(postures: ArmPostures) -> ArmPosture:
    turned = postures.outward_rotation
    return ArmPosture(
        behind_the_body=angle(postures.behind_the_body, "deg"),
        elevation_low=angle(postures.elevation_low, "deg"),
        elevation_high=angle(postures.elevation_high, "deg"),
        in_provoking_elevation=round(postures.in_provoking_elevation, 4),
        outward_rotation=None if turned is None else angle(round(turned, _DECIMALS), "deg"),
    )


def _unclear(arm: UncertainArm, reference: UncertainArm) -> list[Assumption]:
    quantities: tuple[Quantity, ...] = ("shoulder_net", "shoulder", "elbow")
    turned = (by for quantity in quantities for by in direction(arm, reference, quantity).turned_by)
    return list(dict.fromkeys(turned))
