"""Load paths of exercises through the spine."""

from __future__ import annotations

from math import radians

import pytest

from service.knowledge.catalogue import EXERCISES, Exercise
from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.spinal_setups import CARRIES, load_path, upper_body_height
from service.mechanics.uncertainty.spine import of_lean

BODY = build_body(71.0, 1.74)


@pytest.mark.parametrize(
    "exercise", [one for one in EXERCISES.values() if one.carry in CARRIES], ids=lambda one: one.id
)
def test_only_a_belt_leaves_the_spine_out(exercise: Exercise) -> None:
    path = load_path(exercise, BODY, 40.0, radians(20))
    assert path.load == (0.0 if exercise.carry == "pelvis" else 40.0)
    assert path.along > 0


def test_arms_that_hang_act_at_the_shoulder() -> None:
    at_bar, hanging = (upper_body_height(BODY, EXERCISES[name]) for name in ("front_squat", "barbell_row"))
    along_the_trunk = (BODY.above_centre_hanging - BODY.lumbosacral_level) * BODY.trunk
    assert along_the_trunk < at_bar < hanging
    raised = BODY.arms_mass * BODY.arms_centre  # from along the trunk to the shoulder
    assert BODY.above_mass * (hanging - along_the_trunk) == pytest.approx(raised)


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "good_morning", "belt_squat", "split_squat"])
def test_a_lean_that_is_stated_gives_the_moment_of_the_solved_posture(exercise: str) -> None:
    demand = setup_demand(BODY, exercise, 60.0)
    stated = of_lean(BODY, EXERCISES[exercise], 60.0, demand.trunk_lean, "stated")
    assert stated.central.moment == pytest.approx(demand.moments.lumbosacral, rel=1e-9)
