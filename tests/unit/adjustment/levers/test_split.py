"""Split stances held otherwise: what is offered for a sore region, and that it is less by the same mechanics."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import to_builtins

from tests.support.asking import ask

LIFTER = {"body_mass": {"value": 72, "unit": "kg"}, "stature": {"value": 174, "unit": "cm"}, "sex": "female"}


def technique_options(exercise: str, region: str, **technique: Any) -> list[dict[str, Any]]:  # noqa: ANN401
    """The prescriptions that change nothing but lean or foot spacing."""
    answer = ask(
        "adjustments",
        {
            "lifter": LIFTER,
            "aim": "strength",
            "limit": 12,
            "complaint": {"region": region, "pain_in_session": 4},
            "prescription": {
                "exercise": exercise,
                "sets": 3,
                "reps": {"low": 8, "high": 10},
                "load": {"value": 34, "unit": "kg"},
                "reps_in_reserve": 2,
                "technique": technique,
            },
        },
    )
    found = [to_builtins(option.prescription) for option in answer.options if option.levers == ["technique"]]
    return [one for one in found if {"trunk_lean", "foot_spacing"} & one["technique"].keys()]


def moment_of(setup: dict[str, Any], joint: str, technique: dict[str, Any]) -> tuple[float, float]:
    """Of the present lift and of another prescription of it [N·m], which is taken as it came."""
    usual = {"label": "now", "exercise": setup["exercise"], "load": setup["load"], "technique": technique}
    answer = ask("joint-demand", {"lifter": LIFTER, "setups": [usual, {"label": "new", **setup}]})
    now, new = (getattr(one.moments, joint).value for one in answer.setups)
    return now, new


@pytest.mark.parametrize(
    ("region", "joint", "changed", "technique"),
    [
        ("low_back", "lumbosacral", "trunk_lean", {}),
        ("knee", "knee", "foot_spacing", {"foot_spacing": {"value": 60, "unit": "cm"}}),
    ],
)
@pytest.mark.parametrize("exercise", ["split_squat", "lunge"])
def test_a_surer_stance_is_offered_and_asks_less(
    exercise: str, region: str, joint: str, changed: str, technique: dict[str, Any]
) -> None:
    options = technique_options(exercise, region, **technique)
    assert any(changed in one["technique"] for one in options)
    for one in options:
        now, new = moment_of(one, joint, technique)
        assert new < 0.9 * now


@pytest.mark.parametrize("exercise", ["split_squat", "lunge", "rear_foot_elevated_split_squat"])
def test_feet_that_stand_as_usual_are_set_no_further_apart_than_most_lifters_stand(exercise: str) -> None:
    """Mean and one standard deviation between lifters, 0.85 and 0.12 of the leg (our own), which here is 0.922 m."""
    offered = technique_options(exercise, "knee") + technique_options(exercise, "hip")
    spacings = [one["technique"]["foot_spacing"]["value"] for one in offered if "foot_spacing" in one["technique"]]
    assert all(spacing <= 0.97 * 0.9222 + 1e-3 for spacing in spacings)


def test_a_back_is_relieved_by_its_lean_alone_and_a_step_up_by_neither() -> None:
    assert all("foot_spacing" not in one["technique"] for one in technique_options("split_squat", "low_back"))
    assert technique_options("step_up", "low_back") == []
