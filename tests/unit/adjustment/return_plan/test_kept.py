"""What protects and is kept for good is taken away by no step, and is no step that is left."""

from __future__ import annotations

from typing import Any, Final

import msgspec

from tests.support.asking import ask, kg

LIFTER: Final[dict[str, Any]] = {"body_mass": kg(69), "stature": {"value": 168, "unit": "cm"}}
ORIGINAL: Final[dict[str, Any]] = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 5},
    "load": kg(70),
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
HEELS: Final = {"heel_lift": {"value": 0.03, "unit": "m"}}
PROTECTED: Final[dict[str, Any]] = {
    **ORIGINAL,
    "load": kg(55),
    "technique": HEELS,
    "tempo": "3-0-1-0",
    "cues": ["straps_for_the_front_rack"],
}
GOOD: Final = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [5, 5, 5, 5]}


def plan(**more: object) -> Any:  # noqa: ANN401 - an answer
    asked = {"lifter": LIFTER, "original": ORIGINAL, "adjusted": PROTECTED, "region": "knee", **more}
    return msgspec.to_builtins(ask("return-plan", asked))


def test_what_is_kept_stays_to_the_end_and_counts_for_no_step() -> None:
    without, kept = plan(), plan(keep=["technique", "cues", "tempo"])
    assert {"technique", "cues", "tempo"} <= {name for step in without["steps"] for name in step["changed"]}
    assert not {"technique", "cues", "tempo"} & {name for step in kept["steps"] for name in step["changed"]}
    assert len(kept["steps"]) < len(without["steps"])
    last = kept["steps"][-1]["prescription"]
    assert (last["technique"]["heel_lift"], last["cues"], last["tempo"]) == (
        HEELS["heel_lift"],
        ["straps_for_the_front_rack"],
        "3-0-1-0",
    )
    assert last["load"] == ORIGINAL["load"]
    assert "kept_for_good" in {one["code"] for one in kept["cautions"]}


def test_a_review_keeps_it_and_is_back_at_the_original_with_it() -> None:
    asked: dict[str, Any] = {
        "lifter": LIFTER,
        "original": ORIGINAL,
        "region": "knee",
        "usual_pain": 1,
        "keep": ["technique", "cues", "tempo"],
        "sessions": [GOOD, GOOD],
    }
    now, changed, decision = PROTECTED, set(), "progress"
    for _ in range(20):
        answer = msgspec.to_builtins(ask("session-review", {**asked, "prescription": now}))
        decision, now = answer["decision"], answer["next"]
        changed |= set(answer["changed"])
        if decision == "back_to_original":
            break
    assert decision == "back_to_original"
    assert changed == {"load"}
    assert (now["technique"]["heel_lift"], now["tempo"], now["load"]) == (
        HEELS["heel_lift"],
        "3-0-1-0",
        ORIGINAL["load"],
    )


def test_cues_of_the_original_are_never_taken_away() -> None:
    own = {**ORIGINAL, "cues": ["straps_for_the_front_rack"]}
    for keep in ([], ["cues"]):
        steps = plan(original=own, keep=keep)["steps"]
        assert all(step["prescription"]["cues"] == ["straps_for_the_front_rack"] for step in steps)


def test_depth_and_technique_of_another_lift_are_left_with_it() -> None:
    box = {**PROTECTED, "exercise": "box_squat", "cues": None, "depth": {"box_height": {"value": 0.45, "unit": "m"}}}
    answer = plan(adjusted=box, keep=["technique", "range_of_motion", "tempo"])
    last = answer["steps"][-1]["prescription"]
    assert last.get("technique") is last.get("depth") is None
    assert last["tempo"] == "3-0-1-0"
    assert {"kept_for_good", "left_with_the_lift"} <= {one["code"] for one in answer["cautions"]}
