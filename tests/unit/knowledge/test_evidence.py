"""What is measured of the quantities belongs to one, and what is said of them is of this service."""

from __future__ import annotations

import pytest

from service.knowledge.evidence import CHECKS, COMPARISONS, CONTEXT, COVERAGES, QUANTITIES, TOLD, agreement
from service.knowledge.evidence_records import Quantity

each_quantity = pytest.mark.parametrize("quantity", QUANTITIES.values(), ids=lambda one: one.id)


MEASURED = {name for check in CHECKS for name in check.measured} | {
    name for row in COMPARISONS for name in row.measured
}


def claimed() -> set[str]:
    return {name for one in QUANTITIES.values() for name in one.measured}


def test_everything_measured_belongs_to_a_quantity() -> None:
    assert MEASURED - claimed() == set()
    assert {row.estimate for row in COVERAGES} - {
        name for one in QUANTITIES.values() for name in one.estimates
    } == set()
    assert {row.part for row in TOLD} - {part for one in QUANTITIES.values() for part in one.told_of_lifts} == set()


def test_every_name_of_a_quantity_is_measured() -> None:
    assert claimed() - MEASURED == set()
    assert {name for one in QUANTITIES.values() for name in one.estimates} - {
        row.estimate for row in COVERAGES
    } == set()


def test_every_disagreement_has_its_cause() -> None:
    assert [row.id for row in COMPARISONS if row.agrees == bool(row.cause)] == []


def test_agreement_is_counted_by_half_and_kind() -> None:
    counted = [agreement(half, directions=kind).of for half in ("check", "fit") for kind in (True, False)]
    assert sum(counted) == len(COMPARISONS)
    agreeing = [row for row in COMPARISONS if row.half == "check" and row.finding != "magnitude" and row.agrees]
    assert agreement("check", directions=True).agree == len(agreeing) < agreement("check", directions=True).of
    ids = {row.id for row in COMPARISONS if "spine_shear" in row.measured}
    of_shear = [
        agreement(half, directions=kind, measured=("spine_shear",)).of
        for half in ("check", "fit")
        for kind in (True, False)
    ]
    assert sum(of_shear) == len(ids) > 0


@each_quantity
def test_a_quantity_says_what_it_is_and_is_not(quantity: Quantity) -> None:
    for sentence in (quantity.model, quantity.if_wrong, *quantity.assumptions, *quantity.limits):
        assert sentence[0].isupper()
        assert sentence.endswith(".")
    assert quantity.assumptions
    assert quantity.limits
    assert quantity.sources


def test_what_may_not_rest_on_it_is_said() -> None:
    assert CONTEXT.may_not_rest_on_it
    assert "asme_vv40_2018" in CONTEXT.sources
