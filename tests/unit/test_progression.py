"""Schemes that adjust the load, the return after weeks off, and doses."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.knowledge.catalogue import SOURCES
from service.training.return_to_training import (
    DOSES,
    SCHEMES,
    Scheme,
    after_weeks_off,
    judged,
    load_step,
    maintenance_sets,
    next_session,
    next_set,
    return_sets,
    transition,
)

schemes = st.sampled_from(sorted(SCHEMES)).map(SCHEMES.__getitem__)


@pytest.mark.parametrize("name", SCHEMES)
def test_rows_of_a_scheme_follow_each_other_without_gap_and_ask_for_more_with_more_repetitions(name: str) -> None:
    scheme = SCHEMES[name]
    for bands in filter(None, (scheme.next_set, scheme.next_session)):
        for one, other in pairwise(bands):
            assert other.reps[0] == one.reps[1] + 1
            assert one.pounds <= other.pounds
        assert all(band.reps[0] <= band.reps[1] and band.pounds[0] <= band.pounds[1] for band in bands)
    assert set(scheme.sources) <= SOURCES.keys()


@given(schemes, st.integers(50, 500), st.integers(4, 100))
def test_kilograms_change_by_half_the_pounds(scheme: Scheme, load: int, reps: int) -> None:
    for rule in (next_set, next_session):
        pounds, kilograms = rule(scheme, load, reps, "lb"), rule(scheme, load, reps, "kg")
        assert 2 * (kilograms.low - load) == pounds.low - load
        assert 2 * (kilograms.high - load) == pounds.high - load


@pytest.mark.parametrize(("name", "reps"), [("dapre", 101), ("apre_3", 0), ("apre_10", 3)])
def test_repetitions_without_a_row_are_refused(name: str, reps: int) -> None:
    with pytest.raises(Refusal) as caught:
        next_set(SCHEMES[name], 100, reps, "lb")
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.allowed is None) == ("/reps", False)


@given(st.floats(0.1, 500))
def test_load_step_stays_inside_two_to_ten_percent(load: float) -> None:
    step = load_step(load)
    assert load < step.low < step.high <= load * 1.1 * (1 + 1e-12)


def test_return_rises_to_the_normal_volume() -> None:
    weeks = [transition(week) for week in range(1, 6)]
    shares = [week.volume_share for week in weeks]
    assert shares == sorted(shares)
    assert shares[-1] == 1
    assert after_weeks_off(2) == after_weeks_off(30) == tuple(weeks)


@pytest.mark.parametrize("weeks_off", [0, 1, 1.9])
def test_less_than_two_weeks_off_need_no_transition(weeks_off: float) -> None:
    assert after_weeks_off(weeks_off) == ()


@pytest.mark.parametrize("week", [0, 6])
def test_weeks_outside_the_rule_are_refused(week: int) -> None:
    with pytest.raises(Refusal) as caught:
        transition(week)
    assert caught.value.faults[0].allowed == "1 to 5"


@given(st.integers(1, 60))
def test_whole_sets_come_back_without_ever_exceeding_their_share(sets: int) -> None:
    weeks = return_sets(sets)
    assert weeks[-1] == sets
    assert list(weeks) == sorted(weeks)
    for week, count in enumerate(weeks, 1):
        assert count == 1 or count <= sets * transition(week).volume_share + 1e-9


@pytest.mark.parametrize(("volume", "judgement"), [(10.9, "low"), (11, "within"), (30, "within"), (30.1, "high")])
def test_span_of_relative_volume_includes_its_ends(volume: float, judgement: str) -> None:
    # caterisano_2019 (secondary): 11 to 30
    assert judged(volume) == judgement


@given(st.integers(1, 60))
def test_maintenance_never_asks_for_more_than_there_was(sets: int) -> None:
    kept = maintenance_sets(sets)
    assert 1 <= kept.low <= kept.high <= sets


@pytest.mark.parametrize("name", DOSES)
def test_doses_name_sources_that_exist(name: str) -> None:
    dose = DOSES[name]
    assert dose.sources
    assert set(dose.sources) <= SOURCES.keys()
    assert dose.total_reps > 0
