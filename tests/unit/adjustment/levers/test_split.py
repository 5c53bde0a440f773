"""Split stances held otherwise: what is offered for a sore region, and that it is less by the same mechanics."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import to_builtins

from tests.support.asking import ask

LIFTER = {"body_mass": {"value": 72, "unit": "kg"}, "stature": {"value": 174, "unit": "cm"}, "sex": "female"}


def technique_options(exercise: str, region: str) -> list[dict[str, Any]]:
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
            },
        },
    )
    found = [to_builtins(option.prescription) for option in answer.options if option.levers == ["technique"]]
    return [one for one in found if {"trunk_lean", "foot_spacing"} & one["technique"].keys()]


def moment_of(setup: dict[str, Any], joint: str) -> tuple[float, float]:
    """Of the present lift and of another prescription of it [N·m], which is taken as it came."""
    usual = {"label": "now", "exercise": setup["exercise"], "load": setup["load"]}
    answer = ask("joint-demand", {"lifter": LIFTER, "setups": [usual, {"label": "new", **setup}]})
    now, new = (getattr(one.moments, joint).value for one in answer.setups)
    return now, new


@pytest.mark.parametrize(
    ("region", "joint", "changed"),
    [("low_back", "lumbosacral", "trunk_lean"), ("knee", "knee", "foot_spacing")],
)
@pytest.mark.parametrize("exercise", ["split_squat", "lunge"])
def test_a_surer_stance_is_offered_and_asks_less(exercise: str, region: str, joint: str, changed: str) -> None:
    options = technique_options(exercise, region)
    assert any(changed in one["technique"] for one in options)
    for one in options:
        now, new = moment_of(one, joint)
        assert new < 0.9 * now


def test_a_back_is_relieved_by_its_lean_alone_and_a_step_up_by_neither() -> None:
    assert all("foot_spacing" not in one["technique"] for one in technique_options("split_squat", "low_back"))
    assert technique_options("step_up", "low_back") == []
