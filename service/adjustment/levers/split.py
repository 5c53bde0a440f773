"""The present split stance held otherwise: the trunk leaning less or more, the feet nearer or further apart."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, RuledOut, Trial
from service.adjustment.levers.sure_relief import relief_is_sure
from service.knowledge.catalogue import REGIONS
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURES
from service.mechanics.demand import Demand
from service.mechanics.setups import USUAL_TECHNIQUE, Technique
from service.mechanics.split_inputs import leg_length
from service.mechanics.split_stance import SplitStance

_OF_LEG: Final = ("knee", "hip")
"""Regions for which a coach has the feet nearer or further apart; a back is relieved by its lean."""
_LEAST_LEAN: Final = radians(POSTURES.limits.trunk_lean.low)
_MOST_LEAN: Final = radians(POSTURES.limits.trunk_lean.high)


def held_otherwise(case: Case, demand: Demand) -> Iterator[Trial | RuledOut]:
    """The present split stance with each configured change whose relief is sure; the others are ruled out.

    Args:
        case: the consultation
        demand: of the present lift
    """
    split = demand.setup.split
    if split is None or split.inputs.steps_up:  # another lean of a step-up is made by pushing off with the trail foot
        return
    if case.aim == "tendon":  # it wants the load, and not to be spared by another stance
        return
    base, of_leg = case.now.technique or USUAL_TECHNIQUE, REGIONS[case.region].whole in _OF_LEG
    for technique in (*_other_leans(base, split), *(_other_spacings(case, base, split) if of_leg else ())):
        if relief_is_sure(case, demand, [technique]):
            held = replace(case.now, technique=technique)
            yield Trial(("technique",), held, likeness="technique")
        else:
            yield RuledOut(("technique",), "split_relief_not_sure")


def _other_leans(base: Technique, split: SplitStance) -> Iterator[Technique]:
    for change in CHOICES.adjustments.split_lean_changes:
        lean = min(max(split.trunk_lean + radians(change), _LEAST_LEAN), _MOST_LEAN)
        yield replace(base, trunk_lean=lean)


def _other_spacings(case: Case, base: Technique, split: SplitStance) -> Iterator[Technique]:
    """Each configured change, as far as most lifters stand by the length of their legs, if it is no mere scatter."""
    usual, leg = EXERCISE_RULES[case.now.exercise].foot_spacing, leg_length(case.present.body)
    if usual is None:
        return
    low, high = (leg * (usual.mean + sign * usual.between) for sign in (-1.0, 1.0))
    for change in CHOICES.adjustments.split_spacing_changes:
        moved = min(max(split.foot_spacing + change, low), high) - split.foot_spacing
        if moved * change > 0 and abs(moved) > leg * usual.within:
            yield replace(base, foot_spacing=split.foot_spacing + moved)
