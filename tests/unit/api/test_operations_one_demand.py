"""What joint-demand and adjustments make of the same lifts is the same, or unknown alike."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.adjustment.consultation import Case
from service.adjustment.demand import effect_on
from service.api.models.prescription import prescription_of
from service.knowledge.arm_lifts import ARM_LIFTS
from service.knowledge.catalogue import EXERCISES
from service.knowledge.cues import CUES
from tests.support.asking import ask, decoded, kg
from tests.support.consultations import case_of

LIFTER: Final = {"body_mass": kg(71), "stature": {"value": 174, "unit": "cm"}, "sex": "female"}
FREE: Final = sorted(lift for lift, entry in ARM_LIFTS.items() if entry.hands == "free" and lift in EXERCISES)
"""Lifts with a dumbbell or a cable in each hand, or in one."""
OF_FOREARM: Final = ("elbow", "wrist")


def lifted(exercise: str, load: float, **how: Any) -> dict[str, Any]:  # noqa: ANN401 - parts of a prescription
    return {"exercise": exercise, "load": kg(load), "sets": 3, "reps": {"low": 8, "high": 10}, **how}


def setups(*lifts: dict[str, Any]) -> list[Any]:
    labelled = [{"label": f"{number}", **one} for number, one in enumerate(lifts)]
    return list(ask("joint-demand", {"lifter": LIFTER, "setups": labelled}).setups)


def case(now: dict[str, Any], region: str) -> Case:
    complaint = {"region": region, "pain_in_session": 4}
    return case_of({"lifter": LIFTER, "prescription": now, "complaint": complaint, "aim": "muscle_size"})


def effect(now: dict[str, Any], new: dict[str, Any], region: str) -> tuple[float | None, str]:
    week = decoded("week-demand", {"lifter": LIFTER, "week": [{"day": 1, "prescription": new}]}).week
    one = effect_on(case(now, region).present, prescription_of(week[0].prescription, "/prescription"), region)
    return one.ratio, one.direction


def test_there_are_lifts_with_free_hands() -> None:
    assert {"seated_row", "bench_press_dumbbell", "dumbbell_row"} <= set(FREE)


@pytest.mark.parametrize("exercise", FREE)
def test_what_a_free_hand_leaves_at_elbow_and_wrist_is_no_number(exercise: str) -> None:
    [one] = setups(lifted(exercise, 24))
    assert one.moments.shoulder.value > 0
    assert one.moments.elbow is one.moments.wrist is one.arm.elbow is None


@pytest.mark.parametrize("region", OF_FOREARM)
@pytest.mark.parametrize("exercise", FREE)
def test_the_load_stands_for_it_in_the_same_lift(exercise: str, region: str) -> None:
    now, new = lifted(exercise, 24), lifted(exercise, 18)
    _, one = setups(now, new)
    ratio, direction = effect(now, new, region)
    assert getattr(one.relative, region).value == ratio == pytest.approx(0.75)
    assert getattr(one.difference, region) == direction == "lower"


@pytest.mark.parametrize("region", OF_FOREARM)
def test_nothing_is_known_of_it_in_the_same_lift_otherwise_done(region: str) -> None:
    now = lifted("bench_press_dumbbell", 24)
    new = now | {"depth": {"above_bottom": {"value": 12, "unit": "cm"}}}
    _, one = setups(now, new)
    assert getattr(one.relative, region) is getattr(one.difference, region) is None
    assert effect(now, new, region) == (None, "unknown")


@pytest.mark.parametrize("region", OF_FOREARM)
def test_only_the_way_is_known_where_one_hand_is_free(region: str) -> None:
    now, new = lifted("bench_press", 60), lifted("bench_press_dumbbell", 40)
    for before, after, way in ((now, new, "lower"), (new, now, "higher")):
        _, one = setups(before, after)
        assert getattr(one.relative, region) is None
        assert (None, getattr(one.difference, region)) == effect(before, after, region) == (None, way)


@pytest.mark.parametrize("reps", [None, {"low": 1, "high": 1}, {"low": 3, "high": 5}])
def test_a_hold_is_held_in_one_posture_whatever_its_repetitions(reps: dict[str, int] | None) -> None:
    held = lifted("back_squat_high_bar", 130, hold={"value": 10, "unit": "s"}, reps_in_reserve=1) | {"reps": reps}
    if reps is None:
        del held["reps"]
    [one] = setups(held)
    moments = case(held, "low_back").present.moments
    assert one.moments.lumbosacral.value == pytest.approx(moments["low_back"], rel=1e-5)
    assert one.moments.knee.value == pytest.approx(moments["knee"], rel=1e-5)


@pytest.mark.parametrize("exercise", CUES["stop_above_the_chest"].exercises)
def test_stopping_above_the_chest_is_said_of_no_joint_that_is_asked_for_as_much_there(exercise: str) -> None:
    higher = {"depth": {"above_bottom": {"value": 10, "unit": "cm"}}}
    _, one = setups(lifted(exercise, 60), lifted(exercise, 60, **higher))
    assert one.difference.elbow in ("no_clear_difference", None)
    assert not CUES["stop_above_the_chest"].lowers("elbow")
