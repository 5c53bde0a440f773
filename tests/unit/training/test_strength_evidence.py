"""What sets say of strength: bounds by what was lifted, and load and repetitions as each other's inverse."""

from __future__ import annotations

import pytest

from service.training.done_sets import DoneSet
from service.training.load_repetition import RELATIONS, Relation, covers
from service.training.repetition_maximum import chosen_relation
from service.training.strength_evidence import StrengthEvidence

HEAVY, LIGHT = DoneSet(80.0, 3, 1), DoneSet(70.0, 8, 1)
ONE = StrengthEvidence((LIGHT,), None, chosen_relation(None, None), None)


def test_no_value_and_no_maximum_is_below_what_was_lifted() -> None:
    both = StrengthEvidence((LIGHT, DoneSet(99.0, 2, 0)), None, ONE.relation, None)
    assert both.maximum().low >= 99.0
    assert both.load_for(2).value >= 99.0
    assert both.load_for(2).low < 99.0  # on another day less may be possible
    assert both.load_for(3).value < 99.0
    assert both.reps_at(69.0).value >= 8
    assert min(both.maxima_by_relation().values()) >= 99.0
    assert min(row.value for row in both.loads_by_relation(2)) >= 99.0


def test_load_and_repetitions_are_each_others_inverse() -> None:
    load = ONE.load_for(12.0)
    assert ONE.reps_at(load.value).value == pytest.approx(12.0, abs=0.01)
    assert ONE.load_for(LIGHT.failure).value == pytest.approx(LIGHT.load)


def test_the_load_for_one_repetition_is_the_maximum() -> None:
    assert ONE.load_for(1) == ONE.maximum()


def test_the_share_of_a_load_is_that_of_the_maximum() -> None:
    load, top = ONE.load_for(5.0), ONE.maximum()
    assert ONE.share_for(5.0, load).value == pytest.approx(load.value / top.value)


@pytest.mark.parametrize("relation", [one for one in RELATIONS.values() if one.is_curve], ids=lambda one: str(one.id))
def test_no_share_is_above_the_whole(relation: Relation) -> None:
    evidence = StrengthEvidence((DoneSet(80.0, 5, 0),), None, relation, None)
    for reps in (2.0, 3.0, 5.0):
        if covers(relation, reps):
            share = evidence.share_for(reps, evidence.load_for(reps))
            assert share.low < share.value <= share.high <= 1


def test_the_relation_bounds_the_repetitions() -> None:
    assert ONE.reps_range == ONE.relation.reps


def test_side_by_side_each_relation_reads_the_same_set() -> None:
    loads = {row.relation: row for row in ONE.loads_by_relation(5)}
    reps = {row.relation: row for row in ONE.reps_by_relation(LIGHT.load)}
    assert len(loads) > 3
    assert loads.keys() <= RELATIONS.keys()
    for name, row in reps.items():
        assert row.value == pytest.approx(LIGHT.failure, abs=0.01)
        assert row.maximum == loads[name].maximum


def test_the_heaviest_set_counts_whatever_comes_first() -> None:
    assert StrengthEvidence((LIGHT, HEAVY), None, ONE.relation, None).heaviest == HEAVY.load
