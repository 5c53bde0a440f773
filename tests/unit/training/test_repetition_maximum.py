"""Estimates with their spread: round trips, order, and how wide an interval must at least be."""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.intervals import Interval
from service.training import repetition_maximum as estimates
from service.training.individual_profile import fit
from service.training.load_repetition import RELATIONS, Relation, relation_for
from service.training.repetition_maximum import (
    chosen_relation,
    estimate_reps,
    own_load,
    own_maximum,
    own_reps,
    people_at,
    spread_of_share,
)
from tests.support.asking import ask, kg

CURVES: Final = [relation for relation in RELATIONS.values() if relation.is_curve and not relation.exercises]
relations = st.sampled_from(CURVES)
defaults = st.sampled_from([None, "bench_press", "leg_press", "front_squat"])
loads = st.floats(5, 400)
fractions = st.floats(0, 1)


def reps_inside(relation: Relation, place: float) -> float:
    low, high = relation.reps
    return low + place * (high - low)


def estimate_load(relation: Relation, exercise: str | None, load: float, reps: float, target: float) -> Interval:
    people, wanted = people_at(exercise, reps), people_at(exercise, target)
    return estimates.estimate_load(relation, load, reps, target, people, wanted, lifted=0)


def in_order(interval: Interval) -> bool:
    return interval.low <= interval.value <= interval.high


@settings(max_examples=200)
@given(relations, loads, fractions, fractions)
def test_load_for_repetitions_allows_those_repetitions(
    relation: Relation, load: float, place: float, target: float
) -> None:
    reps, wanted = reps_inside(relation, place), reps_inside(relation, target)
    found = estimate_load(relation, None, load, reps, wanted)
    assert in_order(found)
    assume(found.value <= load / relation_share(relation, reps))
    back = estimate_reps(relation, None, load, reps, found.value, lifted=0)
    assert in_order(back)
    assert back.value == pytest.approx(wanted, abs=1e-6)


def relation_share(relation: Relation, reps: float) -> float:
    return 1 / estimate_load(relation, None, 1.0, reps, 1).value


@settings(max_examples=200)
@given(defaults, loads, st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
def test_more_repetitions_wanted_mean_less_load_by_the_default(
    exercise: str | None, load: float, place: float, one: float, other: float
) -> None:
    relation = relation_for(exercise)
    reps = reps_inside(relation, place)
    fewer, more = sorted((reps_inside(relation, one), reps_inside(relation, other)))
    assume(more - fewer > 1e-6)
    light = estimate_load(relation, exercise, load, reps, more)
    heavy = estimate_load(relation, exercise, load, reps, fewer)
    assert light.value < heavy.value


@given(defaults, loads, fractions)
def test_set_done_tells_its_own_load_without_spread(exercise: str | None, load: float, place: float) -> None:
    relation = relation_for(exercise)
    reps = reps_inside(relation, place)
    found = estimate_load(relation, exercise, load, reps, reps)
    assert (found.low, found.value, found.high) == pytest.approx((load, load, load))


@given(relations, loads, fractions)
def test_maximum_is_never_narrower_than_its_test_repeats(relation: Relation, load: float, place: float) -> None:
    # grgic_2020 (abstract): 4.2 %
    reps = reps_inside(relation, place)
    found = estimates.estimate_maximum(relation, load, reps, people_at(None, reps), lifted=load)
    assert found.low <= max(load, found.value * (1 - 0.042)) + 1e-9  # what was lifted is certain
    assert found.low >= load
    assert found.high >= found.value * (1 + 0.042) - 1e-9


@given(defaults, loads, st.floats(1.01, 14))
def test_heavier_target_allows_fewer_repetitions(exercise: str | None, load: float, reps: float) -> None:
    relation = relation_for(exercise)
    light = estimate_reps(relation, exercise, load, reps, load, lifted=0)
    assert light.value == pytest.approx(reps, abs=1e-6)
    heavier = load + 0.5 * (load / relation_share_of(exercise, reps) - load)
    assert estimate_reps(relation, exercise, load, reps, heavier, lifted=0).value < reps


def relation_share_of(exercise: str | None, reps: float) -> float:
    return people_at(exercise, reps).mean


def test_maximum_of_a_person_spreads_as_the_meta_regression_does() -> None:
    # nuzzo_2024 (secondary): 9.75 ± 2.51 repetitions at 80 %; at 12.26 repetitions a person one SD above is at 80 %
    people = people_at(None, 9.75 + 2.51)
    assert people.above == pytest.approx(0.80, abs=1e-9)
    assert people.below < people.mean < people.above


CURVE: Final = fit([(100, 4), (90, 8), (80, 12)])


@given(st.floats(1, 18))
def test_own_load_and_own_repetitions_are_inverse(reps: float) -> None:
    load = own_load(CURVE, reps, lifted=0)
    assert in_order(load)
    assert load.low < load.value < load.high
    assert own_reps(CURVE, load.value, lifted=0).value == pytest.approx(reps, abs=1e-9)


def test_own_maximum_is_the_load_of_one_repetition_and_no_narrower_than_its_test() -> None:
    found = own_maximum(CURVE, lifted=0)
    assert found.value == pytest.approx(CURVE.load_at(1))
    assert found.low <= found.value * 0.958
    assert found.high >= found.value * 1.042


def test_load_above_the_own_maximum_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        own_reps(CURVE, own_maximum(CURVE, lifted=0).value * 1.01, lifted=0)
    assert caught.value.faults[0].pointer == "/load"


def test_relation_asked_for_outranks_the_default() -> None:
    assert chosen_relation("bench_press", RELATIONS["epley"]).id == "epley"
    assert chosen_relation("bench_press", None).id == "meta_regression_2024_bench_press"


@given(defaults, st.floats(0.3, 1), st.floats(1, 19))
def test_share_with_its_spread_is_never_above_the_whole(exercise: str | None, share: float, reps: float) -> None:
    people = people_at(exercise, reps)
    found = spread_of_share(share, people)
    assert in_order(found)
    assert found.high <= 1
    assert found.low == pytest.approx(share * people.below / people.mean)


@pytest.mark.parametrize("turned", [False, True])
def test_of_several_sets_the_one_nearest_the_maximum_tells_it(turned: bool) -> None:  # noqa: FBT001
    # the fewer repetitions to failure, the nearer the maximum and the less any relation has to assume
    near, far = ({"load": kg(load), "reps": reps, "reps_in_reserve": 1} for load, reps in ((100, 2), (60, 10)))
    several = [far, near] if turned else [near, far]
    found, alone = (
        ask("estimated-max", {"sets": sets, "relation": "epley"}).estimated_max for sets in (several, [near])
    )
    assert found == alone
    assert found.value == pytest.approx(100 * (1 + 3 / 30), rel=1e-3)
    rows = {row.relation: row.estimated_max.value for row in ask("estimated-max", {"sets": several}).relations}
    assert rows["epley"] == pytest.approx(110, rel=1e-3)
