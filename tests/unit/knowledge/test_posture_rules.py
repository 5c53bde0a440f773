"""Posture rules agree with the catalogue and with what is accepted from a request."""

from __future__ import annotations

from math import degrees

import pytest

from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURES


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_rule_is_of_the_family_of_its_exercise(exercise: str) -> None:
    assert EXERCISE_RULES[exercise].family == EXERCISES[exercise].family


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_angles_are_degrees_in_the_file_and_radians_in_the_rule(exercise: str) -> None:
    stored, rule = POSTURES.exercises[exercise], EXERCISE_RULES[exercise]
    for angle in ("shin_angle", "abduction", "trunk_lean"):
        assert degrees(getattr(rule, angle)) == pytest.approx(getattr(stored, angle))
    assert (rule.thigh_angle is None) == (stored.thigh_angle is None)
    assert (rule.grip_height, rule.along, rule.anterior) == (stored.grip_height, stored.along, stored.anterior)


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_rule_is_within_what_a_request_may_ask_for(exercise: str) -> None:
    stored, limits = POSTURES.exercises[exercise], POSTURES.limits
    assert limits.shin_angle.low <= stored.shin_angle <= limits.shin_angle.high
    if stored.thigh_angle is not None:
        assert limits.thigh_angle.low <= stored.thigh_angle <= limits.thigh_angle.high


def test_shin_leans_further_the_deeper_the_squat() -> None:
    shape = POSTURES.shin_shape
    assert list(shape.thigh_angle) == sorted(shape.thigh_angle, reverse=True)
    assert list(shape.shin_angle) == sorted(shape.shin_angle)
