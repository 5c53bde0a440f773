"""Load paths of exercises through the spine, and setups against a reference."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians

import pytest

from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import build_body
from service.mechanics.spinal_setups import CARRIES, SpineComparison, against_reference, load_path, upper_body
from service.mechanics.spine import SpineSetup, extremes
from service.vocabulary import Difference

BODY = build_body(71.0, 1.74)


@dataclass(frozen=True)
class Verdict:
    moment: Interval | None
    compression: Interval | None
    difference: Difference


@pytest.mark.parametrize(
    "verdict",
    [
        Verdict(Interval(0.8, 0.7, 0.9), Interval(0.9, 0.8, 0.99), "lower"),
        Verdict(Interval(0.8, 0.7, 0.9), Interval(0.9, 0.8, 1.0), "no_clear_difference"),
        Verdict(Interval(1.2, 1.1, 1.3), Interval(1.1, 1.01, 1.2), "higher"),
        Verdict(Interval(1.2, 1.1, 1.3), None, "higher"),
        Verdict(Interval(1.2, 1.1, 1.3), Interval(0.9, 0.8, 0.99), "no_clear_difference"),
        Verdict(None, None, "no_clear_difference"),
    ],
)
def test_both_ratios_have_to_agree(verdict: Verdict) -> None:
    assert SpineComparison(None, verdict.moment, verdict.compression).difference == verdict.difference


@pytest.mark.parametrize(
    "exercise", [one for one in EXERCISES.values() if one.carry in CARRIES], ids=lambda one: one.id
)
def test_only_a_belt_leaves_the_spine_out(exercise: object) -> None:
    path = load_path(exercise, BODY, 40.0, radians(20), 0.0)  # type: ignore[arg-type]
    assert path.load == (0.0 if exercise.carry == "pelvis" else 40.0)  # type: ignore[attr-defined]
    assert path.along > 0


def test_arms_that_hang_lower_the_centre_of_the_upper_body() -> None:
    at_bar, hanging = upper_body(BODY, hanging=False), upper_body(BODY, hanging=True)
    assert hanging.height < at_bar.height
    assert at_bar.mass.low <= at_bar.mass.value <= at_bar.mass.high < BODY.mass


def test_of_the_reference_itself_every_ratio_is_one() -> None:
    setup = SpineSetup(50.0, 0.5, 0.0, radians(30))
    reached = extremes(setup, upper_body(BODY, hanging=False))
    comparison = against_reference(setup, reached, setup, reached)
    assert comparison == SpineComparison(1.0, Interval(1, 1, 1), Interval(1, 1, 1))


def test_a_reference_without_a_load_through_the_spine_gives_no_ratio_of_loads() -> None:
    upper = upper_body(BODY, hanging=False)
    belt, bar = SpineSetup(0.0, 0.5, 0.0, radians(30)), SpineSetup(50.0, 0.5, 0.0, radians(30))
    comparison = against_reference(bar, extremes(bar, upper), belt, extremes(belt, upper))
    assert comparison.load is None
    assert comparison.moment is not None
    assert comparison.moment.value > 1
    assert comparison.difference == "higher"
