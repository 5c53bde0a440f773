"""Intervals of split stances: how lifters differ in lean, shin, spacing and share under the equilibrium."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from service.mechanics.body import build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.setups import Technique
from service.mechanics.split_stance import in_equilibrium
from service.mechanics.statics import statics_of
from service.mechanics.uncertainty.comparison import difference
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.mechanics.uncertainty.split_differences import moved_stances, split_differences

LIFTER = build_body(80.0, 1.78, "male")
CHOSEN = ("trunk_lean", "shin_angle", "foot_spacing", "lead_share")


def drawn(demand: Demand, draw: np.random.Generator) -> tuple[float, float, float]:
    """Moments at knee, hip and spine of a lifter who differs from the usual one in all four quantities at once."""
    split = demand.setup.split
    assert split is not None
    usual = [one.moved(float(draw.normal())) for one in split.inputs.usual]
    other = in_equilibrium(replace(split.inputs, usual=tuple(usual)))
    setup = replace(demand.setup, shin_angle=other.shin_angle, trunk_lean=other.trunk_lean, split=other)
    found = statics_of(demand.body, setup).at(setup.thigh_angle)
    return found.knee, found.hip, found.lumbosacral


@pytest.mark.parametrize("exercise", ["split_squat", "rear_foot_elevated_split_squat", "lunge"])
def test_moved_one_by_one_they_spread_the_moments_as_all_at_once(exercise: str) -> None:
    demand = setup_demand(LIFTER, exercise, 40.0)
    draw = np.random.default_rng(7)
    spread = np.std([drawn(demand, draw) for _ in range(1500)], axis=0)
    sides = split_differences(demand, moved_stances(demand, None))
    parts = np.array([(np.array(sides[name][1]) - np.array(sides[name][0])) / 2 for name in CHOSEN])
    by_one = np.sqrt(np.sum(parts**2, axis=0))
    assert by_one[[1, 2, 5]] == pytest.approx(spread, rel=0.12)


def test_what_is_stated_is_uncertain_by_its_repetitions_alone() -> None:
    usual = uncertain_demand(LIFTER, "split_squat", 40.0)
    stated = uncertain_demand(
        LIFTER, "split_squat", 40.0, None, Technique(trunk_lean=usual.demand.trunk_lean, foot_spacing=0.87)
    )
    spans = [one.intervals["lumbosacral"].high - one.intervals["lumbosacral"].low for one in (usual, stated)]
    assert stated.values.lumbosacral == pytest.approx(usual.values.lumbosacral, rel=0.01)
    assert 0.2 * spans[0] < spans[1] < 0.8 * spans[0]


def test_less_load_in_the_same_stance_is_less_for_every_joint() -> None:
    """What the exercise has for itself is the same in both, and cancels."""
    heavy, light = (uncertain_demand(LIFTER, "lunge", load) for load in (60.0, 40.0))
    assert {difference(light, heavy, joint) for joint in ("ankle", "hip", "lumbosacral")} == {"lower"}
