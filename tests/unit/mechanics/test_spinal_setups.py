"""Load paths of exercises through the spine."""

from __future__ import annotations

from math import radians

import pytest

from service.knowledge.catalogue import EXERCISES, Exercise
from service.mechanics.body import build_body
from service.mechanics.spinal_setups import CARRIES, load_path, upper_body_height

BODY = build_body(71.0, 1.74)


@pytest.mark.parametrize(
    "exercise", [one for one in EXERCISES.values() if one.carry in CARRIES], ids=lambda one: one.id
)
def test_only_a_belt_leaves_the_spine_out(exercise: Exercise) -> None:
    path = load_path(exercise, BODY, 40.0, radians(20))
    assert path.load == (0.0 if exercise.carry == "pelvis" else 40.0)
    assert path.along > 0


def test_arms_that_hang_lower_the_centre_of_the_upper_body() -> None:
    at_bar, hanging = (upper_body_height(BODY, EXERCISES[name]) for name in ("front_squat", "barbell_row"))
    assert 0 < hanging < at_bar
