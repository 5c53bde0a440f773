"""Load–repetition relations: what must hold for each of them, and for the default of each lift."""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.training.load_repetition import (
    DEFAULT_RELATION,
    RELATIONS,
    Relation,
    applies_to,
    covers,
    maximum,
    person_curve,
    relation_for,
    reps_at_share,
    share_of_max,
    shares_at,
)

CURVES: Final = [relation for relation in RELATIONS.values() if relation.is_curve]
curves = st.sampled_from(CURVES)
fractions = st.floats(0, 1)


def reps_inside(relation: Relation, place: float) -> float:
    low, high = relation.reps
    return low + place * (high - low)


@settings(max_examples=300)
@given(curves, fractions, fractions)
def test_more_repetitions_mean_less_load(relation: Relation, one: float, other: float) -> None:
    fewer, more = sorted((reps_inside(relation, one), reps_inside(relation, other)))
    if more - fewer > 1e-6:
        assert share_of_max(relation, more) < share_of_max(relation, fewer)


@pytest.mark.parametrize("relation", CURVES, ids=lambda relation: str(relation.id))
def test_repetitions_at_the_share_that_allows_them_are_the_same_repetitions(relation: Relation) -> None:
    low, high = relation.reps
    for halves in range(41):  # repetitions come in halves, as those in reserve do
        reps = min(high, low + halves / 2)
        assert reps_at_share(relation, share_of_max(relation, reps)) == pytest.approx(reps, abs=1e-6)


@given(curves, st.floats(1, 400))
def test_one_repetition_is_the_maximum(relation: Relation, load: float) -> None:
    assert share_of_max(relation, 1) == 1
    assert maximum(relation, load, 1) == load


@given(curves, fractions, st.floats(1, 400))
def test_share_and_maximum_are_two_views_of_one_relation(relation: Relation, place: float, load: float) -> None:
    reps = reps_inside(relation, place)
    assert maximum(relation, load, reps) * share_of_max(relation, reps) == pytest.approx(load, rel=1e-12)


@pytest.mark.parametrize("relation", CURVES, ids=lambda relation: str(relation.id))
def test_outside_its_range_a_relation_is_refused_with_the_range(relation: Relation) -> None:
    low, high = relation.reps
    for reps in {high + 0.01, high + 20, 0.5} | ({low - 0.01} if low > 1 else set()):
        with pytest.raises(Refusal) as caught:
            share_of_max(relation, reps)
        assert caught.value.faults[0].pointer == "/reps"
        assert caught.value.faults[0].allowed == f"{low:g} to {high:g} repetitions to failure"


@pytest.mark.parametrize("relation", CURVES, ids=lambda relation: str(relation.id))
def test_share_outside_what_the_range_covers_is_refused(relation: Relation) -> None:
    for share in (1.01, share_of_max(relation, relation.reps[1]) - 0.01, 0.01):
        with pytest.raises(Refusal) as caught:
            reps_at_share(relation, share)
        assert caught.value.faults[0].pointer == "/load"


def test_relation_listed_for_completeness_is_never_computed() -> None:
    (listed,) = [relation for relation in RELATIONS.values() if relation.form == "not_computed"]
    for reps in (1, 5):
        with pytest.raises(Refusal, match="not computed"):
            maximum(listed, 100, reps)


@pytest.mark.parametrize("relation", ["reynolds_2006_bench_5rm", "kravitz_2003_squat"])
def test_relation_that_gives_a_maximum_only_gives_no_other_repetitions(relation: str) -> None:
    with pytest.raises(Refusal, match="maximum only"):
        reps_at_share(RELATIONS[relation], 0.85)


def test_relation_covers_what_its_range_holds_and_one_repetition() -> None:
    assert all(covers(RELATIONS["mayhew_1992"], reps) for reps in (1, 3, 15))
    assert not any(covers(RELATIONS["mayhew_1992"], reps) for reps in (2, 15.5))
    assert not covers(RELATIONS["marzagao_2026"], 1)


def test_relation_for_one_percentage_is_refused_at_another() -> None:
    # kravitz_2003 (abstract): sets at 70 % of the maximum; 10 repetitions with 125 kg come out near 173 kg
    squat = RELATIONS["kravitz_2003_squat"]
    assert maximum(squat, 125, 10) == pytest.approx(159.9 + 0.103 * 10 * 125 - 11.552 * 10)
    with pytest.raises(Refusal, match="70 %"):
        maximum(squat, 170, 3)


def test_lift_with_a_table_of_its_own_gets_it_and_every_other_the_general_one() -> None:
    own = {exercise: relation_for(exercise).id for exercise in EXERCISES if relation_for(exercise).exercises}
    assert own == {name: f"{DEFAULT_RELATION}_{name}" for name in ("bench_press", "leg_press")}
    assert relation_for(None).id == relation_for("front_squat").id == DEFAULT_RELATION


def test_relation_made_on_one_lift_is_shown_for_that_lift_only() -> None:
    bench = RELATIONS["reynolds_2006_bench_curve"]
    assert applies_to(bench, "bench_press")
    assert not applies_to(bench, "front_squat")
    assert not applies_to(bench, None)
    assert applies_to(RELATIONS["epley"], None)


@given(st.sampled_from([None, "bench_press", "leg_press"]), st.floats(0.7, 0.9999))
def test_person_above_the_mean_does_more_repetitions_at_every_share(exercise: str | None, share: float) -> None:
    below, mean, above = (person_curve(exercise, place).reps_at(share) for place in (-1, 0, 1))
    assert below < mean < above


@pytest.mark.parametrize("relation", RELATIONS.values(), ids=lambda relation: str(relation.id))
def test_relation_names_a_source_that_exists(relation: Relation) -> None:
    assert relation.source in SOURCES


@pytest.mark.parametrize("exercise", [None, "bench_press", "back_squat_high_bar"])
@pytest.mark.parametrize("reps", [1.0, 2.0, 8.0, 11.5])
def test_shares_kept_for_a_number_of_repetitions_are_those_of_the_relations(exercise: str | None, reps: float) -> None:
    """One repetition to failure is the maximum by definition, whatever an equation would return there."""
    found = shares_at(exercise, reps)
    assert found
    assert found == {name: share_of_max(RELATIONS[name], reps) for name in found}
    assert reps > 1 or set(found.values()) == {1.0}
