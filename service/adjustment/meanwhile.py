"""What can be trained while a region is loaded no more: exercises of the catalogue that load none of it, by muscle."""

from __future__ import annotations

from collections.abc import Collection

from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES


def meanwhile(left_out: Collection[str], usable: Collection[str]) -> dict[str, tuple[str, ...]]:
    """Exercises that load none of some regions, as far as is known, by the muscles that they train most.

    Args:
        left_out: regions that are not to be loaded
        usable: ids of the exercises that may and can be done

    Returns:
        ids of exercises by muscle, both in the order of the catalogue; nothing for a muscle that none is left for
    """
    regions = [REGIONS[region] for region in left_out]
    not_now = {exercise for region in regions for exercise in region.not_while_paused}
    free = [
        one
        for one in EXERCISES.values()
        if one.id in usable and one.id not in not_now and not set(left_out).intersection(one.regions)
    ]
    by_muscle = {muscle: tuple(one.id for one in free if muscle in _most_trained(one.id)) for muscle in MUSCLES}
    return {muscle: exercises for muscle, exercises in by_muscle.items() if exercises}


def _most_trained(exercise: str) -> frozenset[str]:
    """The muscles for which a set counts most."""
    shares = {muscle: one.share for muscle, one in MUSCLE_SHARES.get(exercise, {}).items()}
    most = max(shares.values(), default=0.0)
    return frozenset(muscle for muscle, share in shares.items() if share == most > 0)
