"""What can be trained while a region is loaded no more."""

from __future__ import annotations

import pytest

from service.adjustment.meanwhile import meanwhile
from service.knowledge.catalogue import EXERCISES
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES
from service.vocabulary import REGIONS


@pytest.mark.parametrize("region", REGIONS)
def test_nothing_that_loads_the_region_is_offered_and_something_else_is(region: str) -> None:
    found = meanwhile({region}, EXERCISES)
    assert found
    assert set(found) <= set(MUSCLES)
    for muscle, exercises in found.items():
        for exercise in exercises:
            assert region not in EXERCISES[exercise].regions
            shares = MUSCLE_SHARES[exercise]
            assert shares[muscle].share == max(one.share for one in shares.values())


def test_every_exercise_has_a_muscle_to_be_listed_under() -> None:
    assert {one for exercises in meanwhile((), EXERCISES).values() for one in exercises} == set(EXERCISES)


def test_only_what_may_be_used_is_offered() -> None:
    assert meanwhile({"knee"}, ["bench_press", "front_squat"]) == {"chest": ("bench_press",)}
    assert meanwhile({"knee", "shoulder"}, ["bench_press", "front_squat"]) == {}
