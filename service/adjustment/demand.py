"""What a prescription asks of each region against the present one.

Where the mechanics covers the lift, the peak moment of a repetition is computed, of the legs and the low back by the
planar model and of shoulder, elbow and wrist in presses and pulls by the model of one arm. Elsewhere only what was
published is said, most often a direction without a number. For a finer region the one that it is part of stands; where
the two cannot be told apart its number serves the search, and only the direction is said.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.adjustment.arm import REGIONS_OF_ARM
from service.adjustment.arm_effect import of_arm
from service.adjustment.pace import ADDUCTORS, JOINTS
from service.adjustment.prescription import Prescription
from service.adjustment.present import Execution, Present
from service.adjustment.region_effect import (
    HARDLY_LOADED,
    Effect,
    another_lift,
    by_practice,
    computed,
    effect_of_cues,
    has_finding,
    held_otherwise,
    of_part,
    same_lift,
)
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS

_SHOWN: Final = {
    exercise.id: tuple(region for region in exercise.regions if not REGIONS[region].finer)
    for exercise in EXERCISES.values()
}
"""What an exercise loads, without the finer regions, which are said only where a question names them."""


def effects(present: Present, new: Prescription) -> dict[str, Effect]:
    """What a prescription asks of every region that either lift loads; raises Refusal as peak_moments does.

    Of the finer ones those that the question names.
    """
    setup, old = present.setup_of(new), present.prescription.exercise
    if setup.in_all is not None:
        return setup.in_all
    loaded = {*EXERCISES[old].regions, *EXERCISES[new.exercise].regions} if present.named else ()
    named = (region for region in present.named if region in loaded)
    beside = (*named, *sorted(present.by_load))
    regions = dict.fromkeys((*_SHOWN[old], *_SHOWN[new.exercise], *(setup.moments.keys() & JOINTS.keys()), *beside))
    setup.in_all = {region: _effect(present, new, region, setup) for region in regions}
    return setup.in_all


def region_ratio(present: Present, new: Prescription, region: str) -> float | None:
    """Demand of one region against the present [1], None where no number is known; raises as peak_moments does.

    For a part that cannot be told apart it is that of the whole: to search by, never to be said of the part.
    """
    return effect_on(present, new, region).searched


def effect_on(present: Present, new: Prescription, region: str) -> Effect:
    """What a prescription asks of one region; raises Refusal as peak_moments does."""
    return _effect(present, new, region, present.setup_of(new))


def _effect(present: Present, new: Prescription, region: str, setup: Execution) -> Effect:
    """Demand of one region, as it was found before or now."""
    effect = setup.effects.get(region)
    if effect is None:
        effect = setup.effects[region] = _of_region(present, new, region, setup)
    return effect


def _of_region(present: Present, new: Prescription, region: str, setup: Execution) -> Effect:
    old, moved = present.prescription, setup.moved
    cued = effect_of_cues(old, new, region, moved)
    if cued is not None:
        return cued
    if region in present.by_load:
        return by_practice(old, new, region, moved, shorter=_is_shorter(present, new))
    entry = REGIONS[region]
    if not entry.finer:
        return _of_whole(present, new, region, region, setup)
    if region not in EXERCISES[new.exercise].regions:
        return HARDLY_LOADED
    effect = _of_whole(present, new, region, stands_for(present, new, region), setup)
    if has_finding(old, new, region):  # which way is known of the part itself
        return msgspec.structs.replace(another_lift(old, new, region, moved), stand_in=effect.ratio)
    return effect if entry.measure == "number" else of_part(effect, old, new, region)


def _is_shorter(present: Present, new: Prescription) -> bool:
    """Whether the present lift goes through less of its range of motion, and is done as now else."""
    old = present.prescription
    if (new.exercise, new.technique) != (old.exercise, old.technique) or new.depth in (None, old.depth):
        return False
    if new.posture is None:
        return False
    try:
        return present.solved(new).setup.thigh_angle > present.solved(old).setup.thigh_angle
    except Refusal:
        return False


def stands_for(present: Present, new: Prescription, region: str) -> str:
    """The region whose moment stands for one: its whole, or within one lift that turns the legs out the part itself.

    Args:
        present: the present prescription with its demand
        new: the prescription that is compared with it
        region: region whose demand it is
    """
    within = region == ADDUCTORS and new.exercise == present.prescription.exercise
    return region if within and region in present.moments else REGIONS[region].whole


def _of_whole(present: Present, new: Prescription, region: str, whole: str, setup: Execution) -> Effect:
    """Demand of the whole that stands for a region, else what is known of the region by loads and findings."""
    old, moments, moved = present.prescription, setup.moments, setup.moved
    if whole in REGIONS_OF_ARM and present.arms is not None:
        pace = setup.paces.get(whole)
        by_arm = of_arm(present.arms, old, new, whole, 1.0 if pace is None else pace.value)
        if by_arm is not None:
            return by_arm
    elif whole in moments and whole in present.moments:
        if whole not in present.comparable:
            return Effect(None, "unknown", "computed")
        ratio = moments[whole] / present.moments[whole]
        if whole in setup.paces:
            ratio *= setup.paces[whole].value
        # where the muscles of the other side take over, a ratio says nothing
        return computed(ratio) if ratio >= 0.0 else Effect(None, "unknown", "computed")
    if new.exercise == old.exercise:
        if new.held != old.held:
            return held_otherwise(old, new, region, moved)
        return same_lift(new, region, moved, setup.paces.get(region))
    return another_lift(old, new, region, moved)
