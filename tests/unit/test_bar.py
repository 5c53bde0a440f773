"""Loading of a bar against every combination of its plates, tried one by one."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.training.bar import Loading, Plates, Rounding, loadable

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
