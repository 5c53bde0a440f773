"""Loading of a bar against every combination of its plates, tried one by one."""

from __future__ import annotations

import itertools
import sys
import tracemalloc
from bisect import bisect_right
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.training.plate_loading import (
    CACHED_INVENTORIES,
    HEAVIEST,
    Loading,
    Plates,
    Rounding,
    heaviest_total,
    loadable,
    sums,
)
from tests.support.asking import ask, kg, lb

PLATE = st.sampled_from([250, 500, 1000, 1250, 2500, 5000, 7500, 10000, 11340])
sets = st.builds(
    lambda bar, kinds: Plates(bar, tuple(sorted(kinds.items()))),
    st.integers(0, 25_000),
    st.dictionaries(PLATE, st.integers(1, 3), min_size=1, max_size=4),
)
targets = st.floats(0, 120_000) | st.integers(0, 480).map(lambda step: step * 250.0)


def every_total(plates: Plates) -> list[int]:
    counts = itertools.product(*(range(pairs + 1) for _, pairs in plates.kinds))
    sides = {sum(n * plate for n, (plate, _) in zip(count, plates.kinds, strict=True)) for count in counts}
    return sorted(plates.bar + 2 * side for side in sides)


def tried_one_by_one(plates: Plates, target: float, rounding: Rounding) -> int | None:
    totals = every_total(plates)
    if rounding == "down":
        return max((total for total in totals if total <= target), default=None)
    if rounding == "up":
        return min((total for total in totals if total >= target), default=None)
    return min(totals, key=lambda total: (abs(total - target), total))


@settings(max_examples=500)
@given(sets, targets, st.sampled_from(["nearest", "down", "up"]))
def test_loading_is_the_one_found_by_trying_every_combination(
    plates: Plates, target: float, rounding: Rounding
) -> None:
    found = loadable(plates, target, rounding)
    expected = tried_one_by_one(plates, target, rounding)
    total = None if found is None else found.total
    # a target within two millionths of a total counts as that total
    assert total == expected or (total is not None and abs(total - target) <= 2e-6)


@settings(max_examples=200)
@given(sets, targets)
def test_plates_of_a_side_make_up_the_load_and_are_there(plates: Plates, target: float) -> None:
    found = loadable(plates, target)
    assert found is not None
    assert plates.bar + 2 * sum(plate * count for plate, count in found.side) == found.total
    there = dict(plates.kinds)
    assert all(1 <= count <= there[plate] for plate, count in found.side)
    assert [plate for plate, _ in found.side] == sorted((plate for plate, _ in found.side), reverse=True)


@pytest.mark.parametrize(("target", "expected"), [(22_500, 20_000), (22_500.1, 25_000), (27_500, 25_000)])
def test_of_two_equally_near_the_lighter_is_taken(target: float, expected: int) -> None:
    found = loadable(Plates(20_000, ((2500, 4),)), target)
    assert found is not None
    assert found.total == expected


def test_nothing_below_the_bar_and_nothing_above_all_plates() -> None:
    plates = Plates(20_000, ((10_000, 1), (2500, 2)))
    assert loadable(plates, 19_999, "down") is None
    assert loadable(plates, 50_001, "up") is None
    assert loadable(plates, 19_000) == Loading(20_000, ())
    assert loadable(plates, 90_000, "down") == Loading(50_000, ((10_000, 1), (2500, 2)))


def test_heavy_plates_go_on_first() -> None:
    plates = Plates(20_000, ((2500, 4), (5000, 4), (10_000, 2)))
    assert loadable(plates, 60_000) == Loading(60_000, ((10_000, 2),))


def test_target_converted_from_pounds_and_back_finds_its_own_plates() -> None:
    plates = Plates(45_000, ((2500, 2), (5000, 1), (45_000, 2)))
    for total in every_total(plates):
        target = total / 1000 * 0.45359237 / 0.45359237 * 1000
        for found in (loadable(plates, target, "down"), loadable(plates, target, "up"), loadable(plates, target)):
            assert found is not None
            assert found.total == total


KG_GYM = (25_000, 20_000, 15_000, 10_000, 5_000, 2_500, 2_000, 1_500, 1_250, 1_000, 500, 250, 125)
LB_GYM = (100_000, 55_000, 45_000, 35_000, 25_000, 10_000, 5_000, 2_500, 1_250, 1_000, 750, 500, 250)
POUNDS_IN_KG = tuple(round(plate * 0.45359237) for plate in LB_GYM)  # as a bar in kg takes plates marked in lb
GYMS = st.sampled_from([KG_GYM, LB_GYM, KG_GYM + POUNDS_IN_KG])


@st.composite
def gyms(draw: st.DrawFn) -> Plates:
    """A bar with plates as gyms have them: with fractional ones, in pounds, and both in one gym."""
    kinds = draw(st.lists(st.sampled_from(draw(GYMS)), min_size=1, max_size=8, unique=True))
    bar = draw(st.sampled_from([0, 7_500, 10_000, 15_000, 20_000, 20_412, 25_400, 45_000]))
    return Plates(bar, tuple(sorted((kind, draw(st.integers(1, 10))) for kind in kinds)))


def every_side(plates: Plates) -> list[int]:
    """What one side can weigh, plate by plate, as a set of numbers."""
    found = {0}
    for plate, pairs in plates.kinds:
        found = {side + count * plate for side in found for count in range(pairs + 1)}
        found = {side for side in found if plates.bar + 2 * side <= HEAVIEST}
    return sorted(found)


def next_to(totals: list[int], target: float) -> dict[Rounding, int | None]:
    """The totals that each rounding of a target gives."""
    place = bisect_right(totals, target)
    below = totals[place - 1] if place else None
    above = below if below == target else totals[place] if place < len(totals) else None
    near = [total for total in (below, above) if total is not None]
    return {"down": below, "up": above, "nearest": min(near, key=lambda total: abs(total - target))}


@settings(max_examples=50, deadline=None)
@given(gyms(), st.integers(0, 2**32))
def test_every_gym_finds_the_load_next_to_any_target(plates: Plates, seed: int) -> None:
    totals = [plates.bar + 2 * side for side in every_side(plates)]
    assert heaviest_total(plates) == totals[-1]
    random = Random(seed)  # noqa: S311 - repeatable on purpose
    for _ in range(10):
        target = random.choice([random.uniform(0, 1.1 * totals[-1]), float(random.choice(totals))])
        for rounding, expected in next_to(totals, target).items():
            found = loadable(plates, target, rounding)
            assert (found.total if found else None) == expected
            if found:
                assert plates.bar + 2 * sum(plate * count for plate, count in found.side) == found.total
                assert all(count <= dict(plates.kinds)[plate] for plate, count in found.side)


def test_nothing_above_the_heaviest_mass_is_put_on_a_bar() -> None:
    plates = Plates(20_000, ((100_000, 10), (99_000, 10)))
    found = loadable(plates, 9e6)
    assert found is not None
    assert found.total == 20_000 + 2 * 1_198_000
    assert heaviest_total(plates) == found.total <= HEAVIEST
    assert loadable(plates, found.total + 1, "up") is None


def inventories(count: int) -> list[Plates]:
    """Inventories of twelve kinds that have no common step, all different: the most work that there is."""
    random = Random(10)  # noqa: S311 - repeatable on purpose
    return [
        Plates(0, tuple((plate, 10) for plate in sorted(random.sample(range(80_000, 100_001), 12))))
        for _ in range(count)
    ]


def test_work_for_any_inventory_is_bounded() -> None:
    """The sums of a side are one integer; making it and choosing plates takes a few of its size."""
    (plates,) = inventories(1)
    size = HEAVIEST / 2 / 8
    tracemalloc.start()
    loadable(plates, 1_777_777.0)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert sys.getsizeof(sums(plates).bits) < 1.1 * size
    assert most < 24 * size


def test_what_is_kept_of_many_inventories_is_bounded_in_bytes() -> None:
    size = HEAVIEST / 2 / 8
    tracemalloc.start()
    for plates in inventories(3 * CACHED_INVENTORIES):
        loadable(plates, 1_777_777.0)
    left, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert left < 1.1 * CACHED_INVENTORIES * size < 12e6


def test_plates_in_another_unit_than_the_bar_are_converted() -> None:
    # by definition 1 lb is 0.45359237 kg
    pounds_on_kilograms = {"bar": kg(20), "plates": [{"plate": lb(45), "pairs": 1}, {"plate": lb(10), "pairs": 1}]}
    found = ask("bar-loading", {"target": kg(60), "bar": pounds_on_kilograms})
    assert (found.load.value, found.load.unit) == (pytest.approx(20 + 2 * 45 * 0.45359237, abs=2e-3), "kg")
    assert [(one.plate.unit, one.plate.value, one.count) for one in found.per_side] == [
        ("kg", pytest.approx(20.412, abs=1e-3), 1)
    ]
    kilograms_on_pounds = {"bar": lb(45), "collars": kg(2.5), "plates": [{"plate": kg(20), "pairs": 1}]}
    found = ask("bar-loading", {"target": lb(140), "bar": kilograms_on_pounds})
    assert (found.load.value, found.load.unit) == (pytest.approx(45 + (2.5 + 2 * 20) / 0.45359237, abs=3e-3), "lb")
    found = ask("load-for-reps", {**LOAD_FOR_FIVE, "bar": pounds_on_kilograms})
    assert found.loadable.value == pytest.approx(20 + 2 * (45 + 10) * 0.45359237, abs=3e-3)


LOAD_FOR_FIVE = {
    "set": {"load": kg(70), "reps": 5, "reps_in_reserve": 0},
    "target": {"reps": 5, "reps_in_reserve": 0},
}
