"""The same squat in another stance, where its relief is sure whether the shin stays as it is or goes as people let it.

In a wide stance people squat with a more upright shin, and then the low back is asked for about as much as before;
with the shin kept it would be asked for less. A stance is offered only where the region is asked for less either way.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case
from service.adjustment.levers.sure_relief import relief_is_sure
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.mechanics.demand import Demand
from service.mechanics.setups import USUAL_TECHNIQUE, StanceWidth, Technique, resolve_setup
from service.mechanics.stance import shin_of_practice

_STANCES: Final[tuple[StanceWidth, ...]] = ("wide", "shoulder", "narrow")


def sure_stances(case: Case) -> tuple[list[Technique], list[Technique]]:
    """The present squat's techniques in other stances that are sure to ask the sore region for less.

    Args:
        case: the consultation

    Returns:
        those, and the ones that are not sure to; none of a lift that is no squat
    """
    known = case.present.sure_stances.get(case.region)
    if known is None:
        demand = case.present.solved(case.now)
        others = list(_other_stances(case.now.technique or USUAL_TECHNIQUE, demand)) if demand.family == "squat" else []
        sure = [one for one in others if _relieves_either_way(case, demand, one)]
        known = case.present.sure_stances[case.region] = sure, [one for one in others if one not in sure]
    return known


def _other_stances(technique: Technique, demand: Demand) -> Iterator[Technique]:
    """Each other width in words, and the feet turned further out and in."""
    for stance in _STANCES:
        if stance != technique.stance or technique.stance_width is not None:
            yield replace(technique, stance=stance, stance_width=None, toe_out=None, knee_over_toe=True)
    for change in CHOICES.adjustments.toe_out_changes:
        toe_out = demand.setup.stance.toe_out + radians(change)
        if toe_out >= 0.0:
            yield replace(technique, toe_out=toe_out)


def _relieves_either_way(case: Case, demand: Demand, technique: Technique) -> bool:
    """Whether another stance asks the sore region for less with the shin kept and with the shin as people have it.

    One that turns thigh and foot far apart is none to offer, whatever it relieves.
    """
    technique = replace(technique, maximum=demand.technique.maximum)
    try:
        with_other_shin = _with_other_shin(case, demand, technique)
    except Refusal:
        return False
    return relief_is_sure(case, demand, [technique, with_other_shin], without="knee_twisted")


def _with_other_shin(case: Case, demand: Demand, technique: Technique) -> Technique:
    """The technique with the present shin, or, where that is a stated one, with the shin that people would have."""
    shin = demand.posture.shin_angle
    if demand.technique.shin_angle is None:
        return replace(technique, shin_angle=shin)
    body = demand.body
    width = resolve_setup(body, demand.exercise, demand.load, depth=case.now.depth, technique=technique).stance.width
    more_upright = shin_of_practice(body, width) - shin_of_practice(body, demand.setup.stance.width)
    return replace(technique, shin_angle=shin - more_upright)
