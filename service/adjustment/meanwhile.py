"""What can be trained while a region is loaded no more: exercises of the catalogue that load none of it, by muscle.

What loads a region stands in the catalogue. A lift that leaves a region out there may still ask it for something by the
model: in a belt squat no load goes through the spine, and yet the trunk leans. What is computed to ask for a noticeable
part of what the lift that asks most of the region does is none to do either.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import cache
from typing import Final

from service.adjustment.prescription import Prescription
from service.adjustment.present import peak_moments
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES
from service.mechanics.body import build_body
from service.training.volume import Reps

_LIFTER: Final = CHOICES.spine.assumed_lifter


def meanwhile(left_out: Collection[str], usable: Collection[str]) -> dict[str, tuple[str, ...]]:
    """Exercises that load none of some regions, as far as is known, by the muscles that they train most.

    Args:
        left_out: regions that are not to be loaded
        usable: ids of the exercises that may and can be done

    Returns:
        ids of exercises by muscle, both in the order of the catalogue; nothing for a muscle that none is left for
    """
    regions = [REGIONS[region] for region in left_out]
    not_now = {
        exercise for region in regions for exercise in (*region.not_while_paused, *asking_noticeably(region.whole))
    }
    free = [
        one
        for one in EXERCISES.values()
        if one.id in usable and one.id not in not_now and not set(left_out).intersection(one.regions)
    ]
    by_muscle = {muscle: tuple(one.id for one in free if muscle in _most_trained(one.id)) for muscle in MUSCLES}
    return {muscle: exercises for muscle, exercises in by_muscle.items() if exercises}


@cache
def asking_noticeably(region: str) -> frozenset[str]:
    """Exercises that are computed to ask a region for the configured part of what is asked of it at the most.

    All with the same load, the body mass of the assumed lifter. An extensor moment alone counts, as in every demand.

    Args:
        region: id of a region that is no part of another

    Returns:
        ids of exercises, none where nothing is computed for the region
    """
    body = build_body(_LIFTER.mass, _LIFTER.stature)
    asked = {
        exercise: peak_moments(body, Prescription(exercise, 1, Reps(1, 1), _LIFTER.mass)).get(region, 0.0)
        for exercise in EXERCISES
    }
    least = CHOICES.adjustments.noticeable_demand * max(asked.values())
    return frozenset(exercise for exercise, moment in asked.items() if moment >= least > 0)


def _most_trained(exercise: str) -> frozenset[str]:
    """The muscles for which a set counts most."""
    shares = {muscle: one.share for muscle, one in MUSCLE_SHARES.get(exercise, {}).items()}
    most = max(shares.values(), default=0.0)
    return frozenset(muscle for muscle, share in shares.items() if share == most > 0)
