"""A complaint as it is told, through the operation: further regions, sides, weeks, a sudden onset, refusals."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from msgspec import to_builtins

from service.adjustment.complaint import is_one_sided
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from tests.support.asking import Answered, ask, ask_drawn, in_full
from tests.support.consultations import consultations
from tests.support.every_lift import LIFTER, prescription

SQUAT: Final = "back_squat_high_bar"


def asked(
    region: str = "knee",
    exercise: str = SQUAT,
    pain: float = 4,
    limit: int = 5,
    load: float = 60,
    **told: Any,  # noqa: ANN401 - any field
) -> Answered:
    return ask(
        "adjustments",
        {
            "lifter": LIFTER,
            "prescription": prescription(exercise, load),
            "complaint": {"region": region, "pain_in_session": pain, **told},
            "aim": "muscle_size",
            "limit": limit,
        },
    )


def codes(messages: list[Answered]) -> set[str]:
    return {one.code for one in messages}


# --- further regions --------------------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(consultations)
def test_no_option_asks_more_of_a_further_sore_region_and_each_says_what_it_does_to_it(request: dict[str, Any]) -> None:
    answer = ask_drawn("adjustments", in_full(request))
    for option in answer.options:
        loads = {
            *EXERCISES[request["prescription"]["exercise"]].regions,
            *EXERCISES[option.prescription.exercise].regions,
        }
        for region in set(request["complaint"].get("also", [])) & loads:
            way = option.direction[region]
            ratio = option.demand.get(region)
            assert ratio.value <= 1 + 1e-6 if ratio is not None else way not in ("higher", "unknown")


def test_a_further_region_rules_out_what_raises_it() -> None:
    alone, both = asked("knee", limit=20), asked("knee", limit=20, also=["low_back"])
    raising = [one for one in alone.options if "low_back" in one.demand and one.demand["low_back"].value > 1 + 1e-6]
    assert raising
    assert not [one for one in both.options if "low_back" in one.demand and one.demand["low_back"].value > 1 + 1e-6]
    assert "told_elsewhere_too" in codes(both.why)
    assert "told_elsewhere_too" not in codes(alone.why)


@pytest.mark.parametrize(("also", "pointer"), [(["knee"], "/complaint/also/0"), (["hip", "hip"], "/complaint/also/1")])
def test_a_region_that_is_named_twice_is_refused(also: list[str], pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        asked("knee", also=also)
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


# --- sides ------------------------------------------------------------------------------------------------------------


def test_one_side_brings_a_one_sided_lift_that_is_done_on_it() -> None:
    told, usual = asked("knee", load=100, side="left"), asked("knee", load=100)
    one_sided = [one for one in told.options if is_one_sided(one.prescription.exercise)]
    assert one_sided
    assert {one.prescription.side for one in one_sided} == {"left"}
    assert all("sound_side_finds_its_load" in one.cautions for one in one_sided)
    assert {one.prescription.side for one in usual.options} == {None}
    assert {one.prescription.side for one in told.options if one not in one_sided} == {None}


def test_the_sound_side_of_a_one_sided_lift_trains_on_as_now() -> None:
    answer = asked("hip", "lunge", side="right")
    same = [one for one in answer.options if one.prescription.exercise == "lunge"]
    assert same
    assert all(one.prescription.side == "right" for one in same)
    assert all("sound_side_trains_on" in one.cautions for one in same)


def test_the_spine_has_no_sound_side() -> None:
    answer = asked("upper_back", "lunge", side="right")
    assert {one.prescription.side for one in answer.options} == {None}
    assert "sound_side_trains_on" not in {code for one in answer.options for code in one.cautions}


def test_an_option_for_one_side_goes_on_to_the_review_and_the_way_back() -> None:
    option = next(one for one in asked("hip", "lunge", side="right").options if one.prescription.side == "right")
    given = to_builtins(option.prescription)
    review = ask(
        "session-review",
        {"prescription": given, "region": "hip", "usual_pain": 1, "sessions": [{"pain_in_session": 1}]},
    )
    assert review.next.side == "right"
    plan = ask(
        "return-plan",
        {"lifter": LIFTER, "adjusted": given, "original": prescription("lunge"), "region": "hip", "step": 0.3},
    )
    assert plan.decision == "plan"


# --- weeks and onset --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("pain", [1, 4])
@pytest.mark.parametrize(("weeks", "said"), [(5.5, False), (6, True), (30, True)])
def test_six_weeks_ask_for_a_professional_whatever_the_pain(pain: float, weeks: float, *, said: bool) -> None:
    assert ("professional_after_weeks" in codes(asked(pain=pain, weeks=weeks).why)) == said


@pytest.mark.parametrize("pain", [1, 4])
def test_what_came_on_suddenly_has_its_signs_asked_before_anything_else(pain: float) -> None:
    sudden, gradual = asked(pain=pain, onset="sudden"), asked(pain=pain, onset="gradual")
    assert sudden.why[0].code == "fresh_injury_signs_first"
    assert {"ottawa_weight", "locked_knee", "rapid_effusion"} <= set(sudden.signs_to_ask)
    assert sudden.why[0].values["count"] == len(sudden.signs_to_ask)
    assert gradual.signs_to_ask == []
    assert "fresh_injury_signs_first" not in codes(gradual.why)


def test_a_sign_outranks_how_the_complaint_is_told() -> None:
    answer = asked(onset="sudden", weeks=12, provoked_by=["load"], side="left", signs=["locked_knee"])
    assert (answer.decision, answer.options, answer.signs_to_ask) == ("refer", [], [])


# --- every region -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("region", sorted(REGIONS))
def test_everything_told_at_once_is_answered_of_every_region(region: str) -> None:
    exercise = next(lift.id for lift in EXERCISES.values() if region in lift.regions)
    further = [one for one in ("neck", "groin", "wrist") if one != region][:2]
    told: dict[str, Any] = {
        "also": further, "side": "right", "provoked_by": ["load", "volume", "range", "speed"],
        "painful_range": "whole", "weeks": 9, "onset": "sudden",
    }  # fmt: skip
    answer = asked(region, exercise, **told)
    assert answer.decision == "adjust"
    assert answer.options


# --- hurts with the amount --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("exercise", "region", "load"), [("pull_up", "elbow", 0), (SQUAT, "knee", 60), ("bench_press", "shoulder", 60)]
)
def test_where_it_hurts_with_the_amount_no_repetition_is_added_beyond_the_target(
    exercise: str, region: str, load: float
) -> None:
    answer = asked(region, exercise, load=load, limit=10, provoked_by=["volume"])
    now = prescription(exercise, load)
    usual = now["sets"] * (now["reps"]["low"] + now["reps"]["high"])
    added = 0
    for option in answer.options:
        new = option.prescription
        known = option.demand.get(region)
        if known is None or new.reps.high <= now["reps"]["high"]:
            continue
        added += 1
        session = known.value * new.sets * (new.reps.low + new.reps.high) / usual
        assert session <= answer.target.ratio + 1e-3, (option.levers, session)
    assert added or exercise != "pull_up"
