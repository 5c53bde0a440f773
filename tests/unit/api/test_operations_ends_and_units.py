"""Which end of a span is which, which phase is which, in which unit: what a swap would leave looking plausible."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.intervals import Interval
from service.training.rest import loads_by_set
from service.units import SI
from tests.support.asking import ask, kg, lb

SET: Final = {"load": kg(90), "reps": 6, "reps_in_reserve": 1}
OWN: Final = [
    {"load": kg(100), "reps": 4, "reps_in_reserve": 0},
    {"load": kg(85), "reps": 8, "reps_in_reserve": 0},
]
DUST: Final = 1e-4  # repetitions; answers have six digits


def targets(new_load: float, reps: dict[str, int], reserve: float, **more: Any) -> Any:  # noqa: ANN401 - an answer
    current = {"sets": 3, "reps": reps, "load": kg(90), "reps_in_reserve": reserve}
    return ask("rep-targets", {"current": current, "new_load": kg(new_load), **more})


# --- repetitions for an effort ----------------------------------------------------------------------------------------


@settings(max_examples=200)
@given(st.floats(60, 100), st.integers(1, 9), st.integers(0, 3), st.sampled_from([0, 0.5, 1, 2, 3]))
def test_equal_effort_leaves_as_many_as_now_and_one_more_would_leave_fewer(
    new_load: float, low: int, width: int, reserve: float
) -> None:
    new_load = round(new_load, 1)
    found = targets(new_load, {"low": low, "high": low + width}, reserve)
    if found.equal_effort is None:
        return
    done = {"load": kg(90), "reps": low + width, "reps_in_reserve": reserve}
    can = ask("reps-for-load", {"set": done, "target": {"load": kg(new_load)}}).reps.value
    reps = found.equal_effort.reps
    assert can - reps.high >= reserve - DUST
    assert can - reps.high - 1 < reserve + DUST
    assert 1 <= reps.low <= reps.high
    shift = can - (low + width + reserve)
    assert reps.low in (1, reps.high) or abs(reps.low - (low + shift)) <= 0.5 + DUST


@settings(max_examples=200)
@given(st.floats(60, 100), st.integers(2, 10), st.sampled_from([0, 0.5, 1, 2, 3]))
def test_effort_after_a_change_is_what_can_be_done_less_what_is_done(
    new_load: float, reps: int, reserve: float
) -> None:
    new_load = round(new_load, 1)
    found = targets(new_load, {"low": reps, "high": reps}, reserve)
    if found.effort is None:
        return
    done = {"load": kg(90), "reps": reps, "reps_in_reserve": reserve}
    can = ask("reps-for-load", {"set": done, "target": {"load": kg(new_load)}}).reps
    for end in ("low", "value", "high"):
        left = getattr(can, end) - found.equal_volume.reps.high
        assert getattr(found.effort.new, end) == pytest.approx(left, abs=DUST)
    assert found.achievable == (found.effort.new.value >= 0)


@given(st.floats(70, 90), st.sampled_from([0, 0.5, 1, 2, 3]))
def test_each_repetition_left_is_one_fewer_done(load: float, left: float) -> None:
    load = round(load, 1)
    question = {"set": SET, "target": {"load": kg(load)}}
    none_left = ask("reps-for-load", question).reps
    some_left = ask("reps-for-load", {**question, "target": {"load": kg(load), "reps_in_reserve": left}}).reps
    assert some_left.value == pytest.approx(none_left.value - left, abs=DUST)
    assert some_left.high == pytest.approx(none_left.high - left, abs=DUST)


@given(st.integers(1, 10), st.sampled_from([0, 1, 2]))
def test_load_for_repetitions_with_some_left_is_that_for_as_many_more(reps: int, left: int) -> None:
    with_left = ask("load-for-reps", {"set": SET, "target": {"reps": reps, "reps_in_reserve": left}})
    to_the_end = ask("load-for-reps", {"set": SET, "target": {"reps": reps + left}})
    assert with_left.load == to_the_end.load
    assert with_left.percent_of_max == to_the_end.percent_of_max


# --- ends of spans ----------------------------------------------------------------------------------------------------


@settings(max_examples=100)
@given(st.integers(1, 12), st.sampled_from([[], OWN]))
def test_percent_of_the_maximum_is_the_load_over_the_maximum_end_by_end(target: int, own: list[dict[str, Any]]) -> None:
    found = ask("load-for-reps", {"set": SET, "target": {"reps": target}, "own_sets": own})
    percent = found.percent_of_max
    assert percent.low <= percent.value <= percent.high <= 100
    top = found.estimated_max.value
    assert percent.value == pytest.approx(100 * found.load.value / top, rel=1e-4)
    if target == 1:
        assert (percent.low, percent.high) == (100, 100)  # by definition
    else:
        assert percent.low < percent.value <= percent.high
    if own and target > 1:  # the curve tells little of the maximum: its share spreads as without one
        without = ask("load-for-reps", {"set": SET, "target": {"reps": target}}).percent_of_max
        assert percent.low / percent.value == pytest.approx(without.low / without.value, rel=1e-4)


@settings(max_examples=100)
@given(st.floats(70, 92), st.sampled_from([[], OWN]))
def test_load_is_the_least_percent_of_the_highest_maximum(load: float, own: list[dict[str, Any]]) -> None:
    load = round(load, 1)
    question = {"set": SET, "target": {"load": kg(load)}, "own_sets": own}
    try:
        found = ask("reps-for-load", question)
    except Refusal:
        return
    percent, top = found.percent_of_max, found.estimated_max
    assert percent.low == pytest.approx(100 * load / top.high, rel=1e-4)
    assert percent.value == pytest.approx(100 * load / top.value, rel=1e-4)
    assert percent.high == pytest.approx(100 * load / top.low, rel=1e-4)
    assert percent.low < percent.value < percent.high


def test_ratio_of_volumes_has_the_lower_one_first() -> None:
    # 15 and 18 repetitions at 90 kg against 20 at 70 kg: 1400 of 1350 to 1620 kg (by hand)
    crossed = targets(70, {"low": 5, "high": 5}, 1).equal_volume
    assert (crossed.ratio.low, crossed.ratio.high) == (0.9333, 0.9333)
    found = targets(80, {"low": 5, "high": 8}, 1).equal_volume
    assert (found.reps.low, found.reps.high) == (6, 9)
    assert (found.ratio.low, found.ratio.high) == (1.0, 1.0667)
    turned = ask("session-split", {"weekly_sets": {"low": 9, "high": 13}, "days": 2, "current_days": 5})
    assert (turned.ratio_to_current.low, turned.ratio_to_current.high) == (2.3333, 2.5)


def test_each_set_is_lightest_at_the_largest_drop() -> None:
    first, second, third = loads_by_set(100, Interval(0.1, 0.05, 0.2), 3)
    assert (first.low, first.value, first.high) == (100, 100, 100)
    assert (second.low, second.value, second.high) == pytest.approx((80, 90, 95))
    assert (third.low, third.value, third.high) == pytest.approx((64, 81, 90.25))
    minute = {"value": 60, "unit": "s"}
    found = ask("rest", {"sets": 2, "reps": 10, "rest": minute, "exercise": "bench_press", "load": kg(100)})
    shown = found.load_drop.loads[1].load
    assert (shown.low, shown.high) == pytest.approx((85, 90))  # willardson_2012: 10 % too little, 15 % too much


# --- phases and units -------------------------------------------------------------------------------------------------


def test_phases_of_a_tempo_are_lowering_bottom_lifting_top() -> None:
    found = ask("tempo", {"tempo": "5-1-2-3", "reps": {"low": 4, "high": 6}, "sets": 3})
    phases = found.phases
    assert [getattr(phases, name).value for name in ("lowering", "bottom", "lifting", "top")] == [5, 1, 2, 3]
    fast = ask("tempo", {"tempo": "3-0-X-1", "reps": {"low": 4, "high": 6}}).phases
    assert (fast.lifting.low, fast.lifting.high) == (0.5, 1.5)
    assert (fast.lowering.low, fast.lowering.high) == (3, 3)


@pytest.mark.parametrize(("old", "new"), [(kg(90), lb(150)), (lb(200), kg(80)), (lb(200), lb(150))])
def test_each_volume_is_in_the_unit_of_its_own_load(old: dict[str, Any], new: dict[str, Any]) -> None:
    current = {"sets": 3, "reps": {"low": 5, "high": 6}, "load": old}
    found = ask("rep-targets", {"current": current, "new_load": new}).equal_volume
    for reps, load, volume in (
        ({"low": 5, "high": 6}, old, found.volume_load.current),
        ({"low": found.reps.low, "high": found.reps.high}, new, found.volume_load.new),
    ):
        assert volume.low.unit == volume.high.unit == load["unit"]
        assert volume.low.value == pytest.approx(3 * reps["low"] * load["value"], rel=1e-5)
        assert volume.high.value == pytest.approx(3 * reps["high"] * load["value"], rel=1e-5)
    ratios = sorted(
        getattr(found.volume_load.new, end).value
        * SI[new["unit"]]
        / (getattr(found.volume_load.current, end).value * SI[old["unit"]])
        for end in ("low", "high")
    )
    assert [found.ratio.low, found.ratio.high] == pytest.approx(ratios, abs=1e-4)
