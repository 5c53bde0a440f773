"""Tempo as seconds, and the measured bracket of its cost."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.intervals import Interval
from service.knowledge.catalogue import SOURCES
from service.training.tempo import AS_FAST_AS_POSSIBLE, MEASURED, phase_seconds, reps_kept, seconds_per_rep

figures = st.integers(0, 59).map(str) | st.just("X")
tempos = st.lists(figures, min_size=4, max_size=4)


@given(tempos)
def test_each_figure_is_one_phase_in_the_order_written(parts: list[str]) -> None:
    phases = phase_seconds("-".join(parts))
    assert len(phases) == 4
    for part, phase in zip(parts, phases, strict=True):
        exact = Interval(float(part), float(part), float(part)) if part != "X" else AS_FAST_AS_POSSIBLE
        assert phase == exact


@given(tempos)
def test_repetition_lasts_as_long_as_its_phases(parts: list[str]) -> None:
    one = seconds_per_rep(phase_seconds("-".join(parts)))
    stated = sum(int(part) for part in parts if part != "X")
    fast = parts.count("X")
    assert one.value == pytest.approx(stated + fast * AS_FAST_AS_POSSIBLE.value)
    assert one.high - one.low == pytest.approx(fast * (AS_FAST_AS_POSSIBLE.high - AS_FAST_AS_POSSIBLE.low))


@given(st.floats(0, 10))
def test_fraction_kept_is_a_fraction_and_names_what_it_rests_on(seconds: float) -> None:
    kept = reps_kept(seconds)
    assert kept is not None
    fraction, used = kept
    assert 0 < fraction.low <= fraction.value <= fraction.high <= 1
    assert used
    assert all(result in MEASURED and result.source in SOURCES for result in used)


@pytest.mark.parametrize("seconds", [10.01, 20, 60])
def test_nothing_is_converted_above_ten_seconds_a_repetition(seconds: float) -> None:
    assert reps_kept(seconds) is None


@pytest.mark.parametrize(
    ("seconds", "low", "high"),
    [
        (1.5, 0.84, 1.0),  # nothing faster was measured: keefer_2021 (abstract) at 2 s
        (3, 0.70, 0.70),  # keefer_2021 (abstract): the pace itself
        (3.5, 0.64, 0.70),  # keefer_2021 (abstract): between 3 and 4 s
        (5, 0.41, 0.64),  # keefer_2021 at 4 s, lachance_hortobagyi_1994 (abstracts) at 6 s
        (8, 0.17, 0.51),  # lachance_hortobagyi_1994 at 6 s, hatfield_2006 (abstracts) at 20 s
    ],
)
def test_cost_is_bracketed_by_the_results_on_either_side(seconds: float, low: float, high: float) -> None:
    kept = reps_kept(seconds)
    assert kept is not None
    assert (kept[0].low, kept[0].high) == (low, high)


def test_results_without_a_duration_are_not_used() -> None:
    assert "rbme_2007" not in {result.source for result in MEASURED}
    assert [result.seconds for result in MEASURED] == sorted(result.seconds for result in MEASURED)
    assert all(re.fullmatch(r"[a-z_]+", result.exercise) for result in MEASURED)
