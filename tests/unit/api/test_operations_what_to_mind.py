"""Cautions about how a lift is done: feet wide apart, a load before the chest, a bounce beside a pause."""

from __future__ import annotations

from typing import Any

import pytest

from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import HELD_BEFORE_CHEST, POSTURES
from tests.support.asking import ask, kg

LIFTER = {"body_mass": kg(80), "stature": {"value": 1.78, "unit": "m"}, "sex": "male"}


def codes(operation: str, *setups: dict[str, Any]) -> set[str]:
    named = [{"label": str(number), **setup} for number, setup in enumerate(setups)]
    return {caution.code for caution in ask(operation, {"lifter": LIFTER, "setups": named}).cautions}


def metres(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "m"}


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "front_squat", "goblet_squat"])
@pytest.mark.parametrize(
    ("technique", "wide"),
    [
        ({"stance": "wide"}, True),
        ({"stance_width": metres(0.70)}, True),
        ({"stance": "shoulder"}, False),
        ({"stance": "narrow"}, False),
        ({"stance_width": metres(0.48)}, False),
    ],
)
def test_wide_feet_come_with_what_was_measured_of_the_knee(
    exercise: str,
    technique: dict[str, Any],
    wide: bool,  # noqa: FBT001
) -> None:
    setup = {"exercise": exercise, "load": kg(40)}
    found = codes("joint-demand", setup, setup | {"technique": technique})
    assert ("wide_stance_knee" in found) == wide


def test_the_conflicting_finding_is_named() -> None:
    setup = {"exercise": "back_squat_high_bar", "load": kg(40), "technique": {"stance": "wide"}, "label": "wide"}
    answer = ask("joint-demand", {"lifter": LIFTER, "setups": [setup]})
    [text] = [caution.text for caution in answer.cautions if caution.code == "wide_stance_knee"]
    assert "escamilla_2001b" in text
    assert "escamilla_2001b" in answer.basis.sources


@pytest.mark.parametrize(("load", "unusual"), [(30, False), (80, True), (180, True)])
def test_a_load_before_the_chest_that_arms_seldom_hold_says_so(load: float, unusual: bool) -> None:  # noqa: FBT001
    assert ("load_before_chest" in codes("joint-demand", {"exercise": "goblet_squat", "load": kg(load)})) == unusual
    assert "load_before_chest" not in codes("joint-demand", {"exercise": "front_squat", "load": kg(load)})


def test_what_is_held_before_the_chest() -> None:
    assert {
        "goblet_squat",
        "goblet_squat/kettlebell",
        "split_squat/one_dumbbell",
        "lunge/kettlebell",
    } <= HELD_BEFORE_CHEST
    assert not {"front_squat", "back_squat_high_bar", "split_squat", "split_squat/dumbbells"} & HELD_BEFORE_CHEST
    assert POSTURES.defaults.before_chest.known == "practice"


@pytest.mark.parametrize("operation", ["joint-demand", "spinal-load"])
@pytest.mark.parametrize(
    ("stated", "taken"),
    [
        ({"tempo": "2-1-1-0"}, True),
        ({"hold": {"value": 3, "unit": "s"}}, True),
        ({"tempo": "2-0-1-0"}, False),
        ({}, False),
    ],
)
def test_a_pause_takes_the_bounce_away_and_says_so(operation: str, stated: dict[str, Any], taken: bool) -> None:  # noqa: FBT001
    usual = {"exercise": "back_squat_high_bar", "load": kg(60)}
    setup = {**usual, "technique": {"bounce": True}, **stated}
    assert ("pause_takes_bounce_away" in codes(operation, usual, setup)) == taken
    assert "pause_takes_bounce_away" not in codes(operation, usual, setup | {"technique": {}})


def consultation(**prescription: object) -> dict[str, Any]:
    lift = {"exercise": "back_squat_high_bar", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(60), **prescription}
    pain = CHOICES.adjustments.amber_up_to
    return {
        "lifter": LIFTER,
        "aim": "strength",
        "complaint": {"region": "knee", "pain_in_session": pain},
        "prescription": lift,
    }


@pytest.mark.parametrize(
    ("prescription", "code"),
    [
        ({"technique": {"stance": "wide"}}, "wide_stance_knee"),
        ({"technique": {"bounce": True}, "tempo": "2-1-1-0"}, "pause_takes_bounce_away"),
        ({"exercise": "goblet_squat"}, "load_before_chest"),
    ],
)
def test_the_same_is_said_of_the_lift_of_a_consultation(prescription: dict[str, Any], code: str) -> None:
    answer = ask("adjustments", consultation(**prescription))
    assert code in {caution.code for caution in answer.cautions}
    assert code not in {caution.code for caution in ask("adjustments", consultation()).cautions}


def test_a_sumo_pull_has_its_published_width() -> None:
    setups = [{"label": "sumo", "exercise": "deadlift_sumo", "load": kg(100)}]
    tall = LIFTER | {"stature": metres(1.75)}
    [answer] = ask("joint-demand", {"lifter": tall, "setups": setups}).setups
    assert answer.legs_turned_out.stance_width.value == pytest.approx(0.70)
