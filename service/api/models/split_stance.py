"""A split stance in equilibrium, as several operations show it."""

from __future__ import annotations

from service.api.models.base import ResponseModel
from service.api.models.common import OF_ONE, Estimate, estimate
from service.intervals import Interval
from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.demand import Demand
from service.mechanics.supports import Quantity
from service.units import Angle, Length, angle, length


class SplitStanceAnswer(ResponseModel, kw_only=True, frozen=True):
    """A split stance at the bottom, in equilibrium between its feet: any three of trunk_lean, shin_angle, foot_spacing and lead_share fix the fourth.

    Attributes:
        trunk_lean: Trunk from the vertical.
        shin_angle: Lead shin from the vertical.
        foot_spacing: Between the pressure centres of the feet from front to back; null in a step-up, whose trail foot
            is below the hip.
        lead_share: Share of the weight of body and load on the lead leg, in one repetition.
        trail_share: Share of that weight on the trail leg.
        published_share: Usual share of the lead leg, as published.
        free: The quantities that follow from those stated; of several possible values the most probable is taken.
        misfit: By how many standard deviations the most unusual of these is off its usual value.
    """

    trunk_lean: Angle
    shin_angle: Angle
    foot_spacing: Length | None
    lead_share: Estimate
    trail_share: float
    published_share: float
    free: list[Quantity]
    misfit: float


def split_stance_answer(demand: Demand, lead_share: Interval | None) -> SplitStanceAnswer | None:
    """The stance of a demand, None on both feet.

    Args:
        demand: the setup solved
        lead_share: in one repetition [1]; None on both feet
    """
    stance, published = demand.setup.split, POSTURE_RULES[demand.exercise].lead_share
    if stance is None or published is None or lead_share is None:
        return None
    return SplitStanceAnswer(
        trunk_lean=angle(stance.trunk_lean, "deg"),
        shin_angle=angle(stance.shin_angle, "deg"),
        foot_spacing=None if stance.inputs.steps_up else length(stance.foot_spacing, "m"),
        lead_share=estimate(lead_share, OF_ONE),
        trail_share=round(1.0 - stance.lead_share, 6),
        published_share=published.mean,
        free=list(stance.free),
        misfit=round(stance.misfit, 3),
    )
