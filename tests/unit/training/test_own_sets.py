"""Sets that a lifter did: what they show for certain, and when they define a curve that may be believed."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.training.done_sets import DoneSet, deciding, heaviest_for, most_with
from service.training.load_repetition import covers, relation_for, share_of_max, shares_at
from service.training.own_sets import MOST_REPS, MOST_RESERVE, check_span, own_curve, published_span
from tests.support.asking import Answered, ask, faults, kg

HONEST: Final = (DoneSet(100, 5, 0), DoneSet(90, 8, 1), DoneSet(80, 11, 1))
KG: Final = 1 - 1e-5  # answers have six digits

loads = st.floats(20, 250).map(lambda load: round(load, 2))
sets_done = st.builds(DoneSet, loads, st.integers(1, 15), st.sampled_from([0, 1, 2, 2.5, 3, 4]))


def given_set(one: DoneSet) -> dict[str, Any]:
    return {"load": kg(one.load), "reps": one.reps, "reps_in_reserve": one.reserve}


# --- what is certain --------------------------------------------------------------------------------------------------


def test_heaviest_load_for_repetitions_counts_those_done_and_not_those_left() -> None:
    assert heaviest_for(HONEST, 1) == 100
    assert heaviest_for(HONEST, 5) == 100
    assert heaviest_for(HONEST, 6) == 90
    assert heaviest_for(HONEST, 9) == 80
    assert heaviest_for(HONEST, 12) == 0


def test_most_repetitions_with_a_load_are_those_done_with_it_or_more() -> None:
    assert most_with(HONEST, 100) == 5
    assert most_with(HONEST, 95) == 5
    assert most_with(HONEST, 90) == 8
    assert most_with(HONEST, 10) == 11
    assert most_with(HONEST, 100.5) == 0


def test_heaviest_set_decides_and_of_equally_heavy_ones_the_longest() -> None:
    sets = [DoneSet(60, 3, 0), DoneSet(100, 6, 1), DoneSet(100, 8, 1), DoneSet(90, 2, 0)]
    assert deciding(sets, lambda _: True) == 2


def test_set_outside_the_relation_decides_only_where_no_other_is_inside() -> None:
    sets = [DoneSet(60, 18, 3), DoneSet(55, 8, 2)]
    relation = relation_for(None)
    assert deciding(sets, lambda reps: covers(relation, reps)) == 1
    assert deciding(sets[:1], lambda reps: covers(relation, reps)) == 0


def test_maximum_of_several_sets_is_that_of_the_heaviest_and_not_of_the_longest() -> None:
    sets = [DoneSet(95, 4, 1), DoneSet(75, 8, 4), DoneSet(60, 10, 4)]
    found = ask("estimated-max", {"sets": [given_set(one) for one in sets]})
    alone = ask("estimated-max", {"sets": [given_set(sets[0])]})
    assert found.own_curve is None
    assert found.estimated_max.value == alone.estimated_max.value == pytest.approx(95 / 0.8985, rel=1e-3)


@settings(max_examples=300)
@given(st.lists(sets_done, min_size=1, max_size=5), st.sampled_from([None, "bench_press", "leg_press"]))
def test_no_maximum_is_below_a_load_that_was_lifted(sets: list[DoneSet], exercise: str | None) -> None:
    lift = {"exercise": exercise} if exercise else {}
    heaviest = max(one.load for one in sets)
    first, *others = (given_set(one) for one in sets)
    for relation in ({}, {"relation": "epley"}, {"relation": "wathan"}):
        questions: tuple[tuple[str, dict[str, Any]], ...] = (
            ("estimated-max", {"sets": [first, *others]}),
            ("load-for-reps", {"set": first, "own_sets": others, "target": {"reps": 3}}),
            ("reps-for-load", {"set": first, "own_sets": others, "target": {"load": kg(heaviest)}}),
        )
        for name, question in questions:
            try:
                found = ask(name, {**question, **lift, **relation})
            except Refusal:
                continue
            assert_certain(found, heaviest)


def assert_certain(found: Answered, heaviest: float) -> None:
    tops = [found.estimated_max.low, *(row.estimated_max.value for row in found.relations)]
    if getattr(found, "own_curve", None):
        tops.append(found.own_curve.estimated_max.low)
    assert min(tops) >= heaviest * KG
    assert found.estimated_max.low <= found.estimated_max.value <= found.estimated_max.high


@settings(max_examples=200)
@given(st.lists(sets_done, min_size=2, max_size=5), st.integers(1, 12))
def test_load_for_repetitions_is_not_below_one_lifted_for_as_many(sets: list[DoneSet], target: int) -> None:
    first, *others = (given_set(one) for one in sets)
    question = {"set": first, "own_sets": others, "target": {"reps": target}}
    certain = heaviest_for(sets, target)
    for relation in ({}, {"relation": "wathan"}):
        try:
            found = ask("load-for-reps", question | relation)
        except Refusal:
            continue
        assert found.load.value >= certain * KG
        assert all(row.load.value >= certain * KG for row in found.relations)


@settings(max_examples=200)
@given(st.lists(sets_done, min_size=2, max_size=5))
def test_load_that_was_lifted_allows_the_repetitions_that_were_done(sets: list[DoneSet]) -> None:
    first, *others = (given_set(one) for one in sets)
    load = sets[-1].load
    certain = most_with(sets, load)
    for relation in ({}, {"relation": "wathan"}):
        question = {"set": first, "own_sets": others, "target": {"load": kg(load)}} | relation
        try:
            found = ask("reps-for-load", question)
        except Refusal:
            continue
        assert found.reps.value >= certain - 1e-4
        assert all(row.reps >= certain - 1e-3 for row in found.relations)


# --- when sets define a curve -----------------------------------------------------------------------------------------


def test_warm_ups_cut_off_at_four_in_reserve_define_no_curve() -> None:
    # every published relation says 106 to 111 kg; through the warm-ups it was 160 kg, and a maximum of 273 kg
    sets = [DoneSet(100, 5, 1), DoneSet(60, 5, 4), DoneSet(80, 5, 4)]
    first, *warm_ups = (given_set(one) for one in sets)
    (fault,) = faults("load-for-reps", {"set": first, "own_sets": warm_ups, "target": {"reps": 3}})
    assert fault.pointer == "/own_sets"
    assert "at least two sets with at most 3 repetitions in reserve" in fault.detail
    assert fault.allowed
    (fault,) = faults("reps-for-load", {"set": first, "own_sets": warm_ups, "target": {"load": kg(95)}})
    assert fault.pointer == "/own_sets"
    alone = ask("load-for-reps", {"set": first, "target": {"reps": 3}})
    assert 106 < alone.load.value < 111
    assert all(106 < row.load.value < 111 for row in alone.relations)
    found = ask("estimated-max", {"sets": [first, *warm_ups]})
    assert found.own_curve is None
    assert found.estimated_max.value == alone.estimated_max.value < 120
    (why,) = [caution.text for caution in found.cautions if caution.code == "own_curve_not_used"]
    assert "at least two sets with at most 3 repetitions in reserve" in why


def test_set_further_from_failure_takes_no_part_in_the_curve() -> None:
    with_warm_ups = own_curve((*HONEST, DoneSet(60, 5, MOST_RESERVE + 0.5), DoneSet(70, MOST_REPS, 1)), None)
    assert with_warm_ups == own_curve(HONEST, None)


def test_curve_that_leaves_the_published_span_is_refused_with_its_reason() -> None:
    steep = (DoneSet(100, 5, 1), DoneSet(85, 5, 3))  # 8 to failure against 6: 15 % of the load for two repetitions
    with pytest.raises(Refusal, match="the published relations and the spread between people") as caught:
        own_curve(steep, None)
    assert caught.value.faults[0].pointer == "/sets"
    assert "1 repetition to failure at 150 % of the heaviest" in caught.value.faults[0].detail


def test_curve_is_held_to_the_span_at_the_repetitions_asked_about_as_well() -> None:
    curve = own_curve((DoneSet(100, 2, 0), DoneSet(90, 4, 0)), None)
    check_span(curve, None, 1)
    with pytest.raises(Refusal, match="12 repetitions to failure"):
        check_span(curve, None, 12)
    first, second = given_set(DoneSet(100, 2, 0)), given_set(DoneSet(90, 4, 0))
    (fault,) = faults("load-for-reps", {"set": first, "own_sets": [second], "target": {"reps": 12}})
    assert fault.pointer == "/own_sets"
    (fault,) = faults("reps-for-load", {"set": first, "own_sets": [second], "target": {"load": kg(65)}})
    assert fault.pointer == "/own_sets"


@given(st.integers(2, 12), st.integers(1, 12))
def test_published_span_holds_every_relation_and_two_thirds_of_people(failure: int, reps: int) -> None:
    low, high = published_span(None, failure, reps)
    here, there = shares_at(None, failure), shares_at(None, reps)
    assert all(low <= there[name] / here[name] <= high for name in here if name in there)
    middle = share_of_max(relation_for(None), reps) / share_of_max(relation_for(None), failure)
    assert low <= middle * (1 - 0.042)
    assert high >= middle * (1 + 0.042)


@settings(max_examples=300)
@given(st.lists(sets_done, min_size=2, max_size=6))
def test_maximum_by_an_own_curve_is_within_what_relations_and_people_say(sets: list[DoneSet]) -> None:
    try:
        curve = own_curve(sets, None)
    except Refusal:
        return
    load, failure = curve.heaviest_load, curve.heaviest_reps
    low, high = published_span(None, failure, 1)
    assert low * load <= curve.load_at(1) <= high * load
    near = [one for one in sets if one.reserve <= 3]
    assert curve.sets <= len(near)
    assert load == max(one.load for one in near if one.failure <= MOST_REPS)


def test_honest_sets_near_failure_keep_their_curve() -> None:
    first, *others = (given_set(one) for one in HONEST)
    found = ask("load-for-reps", {"set": first, "own_sets": others, "target": {"reps": 7}})
    assert found.basis.method.code == "method_own_curve"
    assert 93 < found.load.value < 97
    both = ask("estimated-max", {"sets": [first, *others]})
    assert both.own_curve.sets == 3
    assert "own_curve_not_used" not in {caution.code for caution in both.cautions}
    assert both.estimated_max.value == both.own_curve.estimated_max.value
    assert math.isclose(both.own_curve.load_drop_per_rep, 0.0315, abs_tol=0.001)
