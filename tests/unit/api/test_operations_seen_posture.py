"""A posture that was seen goes with a prescription through every operation, and what it is taken for is said."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from service.api.models.shown_setup import shown_technique
from service.errors import Refusal
from service.mechanics.seen import Departure, Seen
from service.mechanics.technique import Technique
from service.units import angle
from tests.support.asking import ask, in_full

LIFTER = {"body_mass": {"value": 74, "unit": "kg"}, "stature": {"value": 177, "unit": "cm"}, "sex": "male"}


def deg(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "deg"}


SEEN = {"trunk_lean": deg(52), "shin_angle": deg(27), "thigh_angle": deg(-3), "seen_by": "phone_video"}


def demand_of(technique: dict[str, Any] | None, exercise: str = "back_squat_high_bar") -> dict[str, Any]:
    setup = {"label": "now", "exercise": exercise, "load": {"value": 95, "unit": "kg"}, "technique": technique}
    return dict(msgspec.to_builtins(ask("joint-demand", {"lifter": LIFTER, "setups": [setup]})))


def consultation(technique: dict[str, Any] | None) -> dict[str, Any]:
    return in_full({
        "lifter": LIFTER,
        "complaint": {"region": "low_back", "pain_in_session": 4},
        "aim": "strength",
        "prescription": {
            "exercise": "back_squat_high_bar",
            "sets": 4,
            "reps": {"low": 5, "high": 6},
            "load": {"value": 95, "unit": "kg"},
            "reps_in_reserve": 2,
            "days_per_week": 2,
            "technique": technique,
        },
    })  # fmt: skip


def test_a_steep_trunk_on_a_video_asks_more_of_the_low_back_and_says_how_it_was_taken() -> None:
    usual, seen = demand_of(None), demand_of(SEEN)
    there, here = (one["setups"][0]["moments"]["lumbosacral"]["value"] for one in (usual, seen))
    assert here > 1.1 * there
    assert (
        usual["setups"][0]["posture"]["trunk_lean"]["value"] < seen["setups"][0]["posture"]["trunk_lean"]["value"] < 52
    )
    assert "assumed_as_seen" in {one["code"] for one in seen["basis"]["assumptions"]}


@pytest.mark.parametrize(
    ("technique", "pointer"),
    [
        ({"trunk_lean": deg(45)}, "/setups/0/technique/trunk_lean"),
        ({"thigh_angle": deg(5)}, "/setups/0/technique/seen_by"),
        ({"seen_by": "eye"}, "/setups/0/technique/seen_by"),
        ({"trunk_lean": deg(90), "seen_by": "eye"}, "/setups/0/technique/trunk_lean"),
        ({"trunk_lean": deg(-1), "seen_by": "inclinometer"}, "/setups/0/technique/trunk_lean"),
        ({"thigh_angle": deg(80), "seen_by": "eye"}, "/setups/0/technique/thigh_angle"),
    ],
)
def test_what_cannot_have_been_seen_is_refused_where_it_stands(technique: dict[str, Any], pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        demand_of(technique)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]
    assert all(fault.allowed for fault in refused.value.faults)


def test_every_prescription_of_an_answer_keeps_what_was_seen_and_is_taken_as_it_came() -> None:
    answer = msgspec.to_builtins(ask("adjustments", consultation(SEEN)))
    kept = [
        option["prescription"]
        for option in answer["options"]
        if option["prescription"].get("technique", {}).get("seen_by") == "phone_video"
    ]
    assert kept
    for prescription in kept:
        technique = prescription["technique"]
        assert technique["trunk_lean"]["value"] == pytest.approx(52)
        assert technique["thigh_angle"]["value"] == pytest.approx(-3)
        again = consultation(None) | {"prescription": prescription}
        assert ask("adjustments", again)


def test_a_lean_of_the_technique_is_refused_where_it_stands_by_spinal_load() -> None:
    setup = {
        "exercise": "back_squat_high_bar",
        "load": {"value": 95, "unit": "kg"},
        "technique": {"trunk_lean": deg(45)},
    }
    with pytest.raises(Refusal) as refusal:
        ask("spinal-load", {"lifter": LIFTER, "setups": [{"label": "a"} | setup, {"label": "b"} | setup]})
    assert [fault.pointer for fault in refusal.value.faults] == ["/setups/0/technique/trunk_lean"]


def codes(answer: dict[str, Any]) -> set[str]:
    return {one["code"] for one in answer["cautions"]}


def test_what_balance_overrules_is_said_wherever_the_posture_counts() -> None:
    odd = {"shin_angle": deg(40), "trunk_lean": deg(60), "seen_by": "phone_video"}
    assert "seen_unlike_balance" not in codes(demand_of(SEEN))
    assert "seen_unlike_balance" in codes(demand_of(odd))
    assert "seen_unlike_balance" in codes(dict(msgspec.to_builtins(ask("adjustments", consultation(odd)))))
    setup = {"exercise": "back_squat_high_bar", "load": {"value": 95, "unit": "kg"}, "technique": odd}
    spine = ask("spinal-load", {"lifter": LIFTER, "setups": [{"label": "a"} | setup, {"label": "b"} | setup]})
    assert "seen_unlike_balance" in codes(dict(msgspec.to_builtins(spine)))


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "romanian_deadlift", "split_squat", "good_morning"])
def test_seen_by_counts_in_every_lift(exercise: str) -> None:
    lean = demand_of(None, exercise)["setups"][0]["posture"]["trunk_lean"]["value"] + 6.0
    eye, device = (
        demand_of({"trunk_lean": deg(lean), "seen_by": by}, exercise)["setups"][0] for by in ("eye", "inclinometer")
    )
    assert (
        abs(eye["posture"]["trunk_lean"]["value"] - lean) > abs(device["posture"]["trunk_lean"]["value"] - lean) > 0.05
    )


def test_a_lift_without_a_posture_says_why_there_are_no_moments() -> None:
    answer = demand_of(None, "leg_press")
    assert answer["setups"][0]["moments"] is None
    assert "no_posture_modelled" in codes(answer)
    assert "no_posture_modelled" not in codes(demand_of(None))


def test_a_heel_lift_asks_for_the_range_of_the_ankle_where_it_is_assumed() -> None:
    raised = {"heel_lift": {"value": 2, "unit": "cm"}}
    assert "heel_lift_ankle_not_stated" in codes(demand_of(raised))
    setup = {
        "label": "now",
        "exercise": "back_squat_high_bar",
        "load": {"value": 95, "unit": "kg"},
        "technique": raised,
    }
    stated = {"lifter": LIFTER | {"ankle_dorsiflexion": deg(25)}, "setups": [setup]}
    assert "heel_lift_ankle_not_stated" not in codes(dict(msgspec.to_builtins(ask("joint-demand", stated))))


def test_shins_that_are_asked_for_otherwise_stand_in_the_place_of_those_that_were_seen() -> None:
    seen = Seen(None, 0.9, None, "eye")
    departing = Departure("back_squat_high_bar", misfit=0.5)
    as_seen, otherwise = (
        shown_technique(Technique(shin_angle=shin, seen=seen, departure=departing), None) for shin in (None, 0.4)
    )
    assert as_seen is not None
    assert otherwise is not None
    assert as_seen.seen_by == "eye"
    assert (otherwise.seen_by, otherwise.trunk_lean) == (msgspec.UNSET, msgspec.UNSET)
    assert otherwise.shin_angle == angle(0.4, "deg")
