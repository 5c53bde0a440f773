"""Posture rules agree with the catalogue and with what is accepted from a request."""

from __future__ import annotations

from math import degrees

import pytest

from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURE_RULES, POSTURES, posture_of


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_rule_is_of_the_family_of_its_exercise(exercise: str) -> None:
    by_load_in_the_hands = {"pull": "hinge"}  # of the catalogue's hinges those whose load hangs from the arms
    family = EXERCISE_RULES[exercise].family
    assert by_load_in_the_hands.get(family, family) == EXERCISES[exercise].family
    assert (family == "pull") == (EXERCISES[exercise].family == "hinge" and EXERCISES[exercise].carry == "hands")


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_angles_are_degrees_in_the_file_and_radians_in_the_rule(exercise: str) -> None:
    stored, rule = POSTURES.exercises[exercise], EXERCISE_RULES[exercise]
    assert degrees(rule.abduction) == pytest.approx(stored.abduction)
    for angle in ("shin_angle", "trunk_lean"):
        there, here = getattr(stored, angle), getattr(rule, angle)
        assert (there is None) == (here is None)
        for part in ("mean", "between", "within", "low", "high", "slope") if there else ():
            assert degrees(getattr(here, part)) == pytest.approx(getattr(there, part))
    assert (rule.thigh_angle is None) == (stored.thigh_angle is None)
    assert (rule.grip_height, rule.along, rule.anterior) == (stored.grip_height, stored.along, stored.anterior)


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_rule_is_within_what_a_request_may_ask_for(exercise: str) -> None:
    stored, limits = POSTURES.exercises[exercise], POSTURES.limits
    assert limits.shin_angle.low <= stored.shin_angle.mean <= limits.shin_angle.high
    if stored.thigh_angle is not None:
        assert limits.thigh_angle.low <= stored.thigh_angle <= limits.thigh_angle.high


def test_shin_leans_further_the_deeper_the_squat() -> None:
    shape = POSTURES.shin_shape
    assert list(shape.thigh_angle) == sorted(shape.thigh_angle, reverse=True)
    assert list(shape.fraction) == sorted(shape.fraction)
    at = dict(zip(shape.thigh_angle, zip(shape.fraction, shape.between, strict=True), strict=True))
    assert at[90.0] == (0.0, 0.0)
    assert at[0.0] == (1.0, 0.0)


@pytest.mark.parametrize("exercise", EXERCISE_RULES)
def test_every_implement_of_a_modelled_exercise_says_where_its_load_acts(exercise: str) -> None:
    implements = EXERCISES[exercise].implements
    assert all(posture_of(exercise, implement) in POSTURE_RULES for implement in implements)
    assert set(POSTURES.implements.get(exercise, {})) == set(implements[1:])


def test_the_usual_implement_is_held_as_the_exercise_is_done() -> None:
    assert posture_of("split_squat", None) == posture_of("split_squat", "barbell") == "split_squat"
    assert posture_of("bench_press", "barbell") is None
    assert POSTURE_RULES["split_squat"].carry == "trunk"


def test_dumbbells_hang_below_the_shoulders_and_one_is_held_before_the_chest() -> None:
    pair, one = (POSTURE_RULES[f"split_squat/{name}"] for name in ("dumbbells", "one_dumbbell"))
    assert (pair.carry, pair.along, pair.anterior) == ("hands_at_shoulder", 0, 0)
    goblet = EXERCISE_RULES["goblet_squat"]
    assert (one.carry, one.along, one.anterior) == (goblet.carry, goblet.along, goblet.anterior)
    assert one.lead_share == EXERCISE_RULES["split_squat"].lead_share
