"""What is left in the red tier of pain: the present lift with load off, where the relief is sure."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings

from tests.support.asking import Answered, ask, ask_drawn, kg
from tests.support.consultations import consultations

REGIONS: Final = {
    "front_squat": ("low_back", 60),
    "back_squat_low_bar": ("hip", 110),
    "deadlift_conventional": ("low_back", 140),
    "bench_press": ("shoulder", 80),
    "overhead_press": ("shoulder", 45),
    "pull_up": ("elbow", 10),
    "barbell_row": ("low_back", 70),
    "leg_press": ("knee", 160),
}
SURE_BELOW: Final = 0.90  # our own choice


def asked(exercise: str, pain: float, **more: object) -> dict[str, Any]:
    region, load = REGIONS[exercise]
    return {
        "lifter": {"body_mass": kg(78), "stature": {"value": 1.79, "unit": "m"}},
        "prescription": {
            "exercise": exercise,
            "sets": 4,
            "reps": {"low": 5, "high": 6},
            "load": kg(load),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": region, "pain_in_session": pain},
        "aim": "strength",
        "limit": 20,
        **more,
    }


def fell(answer: Answered) -> set[str]:
    return {one.reason.code.removeprefix("ruled_out_") for one in answer.ruled_out}


def hold_strict(request: dict[str, Any], answer: Answered) -> None:
    """Nothing but the present lift with load off, and an end of its relief that is known and sure."""
    region, now = request["complaint"]["region"], request["prescription"]
    for option in answer.options:
        new = option.prescription
        assert new.exercise == now["exercise"]
        taken_off = 0.0 if new.assistance is None else new.assistance.value
        helped = now.get("assistance", {"value": 0.0})["value"]
        assert new.load.value - taken_off < now["load"]["value"] - helped
        assert option.meets_by == "peak"
        assert option.demand[region].value <= answer.target.ratio + 1e-4
        assert option.demand[region].high < SURE_BELOW


@pytest.mark.parametrize("exercise", REGIONS)
@pytest.mark.parametrize("pain", [5.1, 6, 7])
def test_above_5_only_the_present_lift_with_load_off_is_left(exercise: str, pain: float) -> None:
    request = asked(exercise, pain)
    answer = ask("adjustments", request)
    assert (answer.decision, answer.tier) == ("adjust", "red")
    hold_strict(request, answer)
    assert bool(answer.options) != bool(answer.meanwhile)
    assert {"unfamiliar_at_this_pain", "full_load_at_this_pain"} <= fell(answer)
    assert "unfamiliar_at_this_pain" not in fell(ask("adjustments", asked(exercise, 5)))


@pytest.mark.parametrize("exercise", ["front_squat", "back_squat_low_bar", "deadlift_conventional", "bench_press"])
def test_less_load_is_an_option_where_its_relief_is_known_within_limits(exercise: str) -> None:
    assert [option for option in ask("adjustments", asked(exercise, 6)).options if "load" in option.levers]


@pytest.mark.parametrize("exercise", ["barbell_row", "leg_press"])
def test_relief_without_an_interval_is_not_sure(exercise: str) -> None:
    answer = ask("adjustments", asked(exercise, 6))
    assert answer.options == []
    assert "relief_of_unknown_size" in fell(answer)
    assert "stop_today" in {one.code for one in answer.why}


def test_technique_alone_at_the_full_load_falls() -> None:
    request = asked("front_squat", 6, constraints={"levers": ["technique", "range_of_motion"]})
    answer = ask("adjustments", request)
    assert answer.options == []
    assert "full_load_at_this_pain" in fell(answer)
    assert ask("adjustments", asked("front_squat", 5, constraints=request["constraints"])).options


def test_the_weight_of_the_arms_is_no_relief_of_a_light_press() -> None:
    """A kilogram less of four leaves most of what the elbows hold: the arms' own weight (statics)."""
    light = asked("overhead_press", 6, constraints={"levers": ["load"]})
    light["prescription"] |= {"exercise": "triceps_extension", "load": kg(4)}
    light["complaint"]["region"] = "elbow"
    light["constraints"]["gym"] = {
        "implements": [{"implement": "cable", "step": kg(1)}, {"implement": "machine", "step": kg(1)}]
    }
    answer = ask("adjustments", light)
    assert answer.options == []
    assert "relief_not_sure" in fell(answer)


@settings(max_examples=150, deadline=None)
@given(consultations)
def test_whatever_is_asked_above_5_is_answered_strictly(request: dict[str, Any]) -> None:
    complaint = {"region": request["complaint"]["region"], "pain_in_session": 6}
    request = {**request, "complaint": complaint}
    answer = ask_drawn("adjustments", request)
    assert answer.tier == "red"
    hold_strict(request, answer)
