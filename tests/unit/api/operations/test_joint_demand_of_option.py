"""What adjustments says an option asks is what joint-demand says of the same two prescriptions."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest

from tests.support.asking import ask, kg

LIFTER: Final[dict[str, Any]] = {"body_mass": kg(76), "stature": {"value": 172, "unit": "cm"}, "sex": "female"}
JOINTS: Final = {
    "low_back": "lumbosacral",
    "hip": "hip_resultant",
    "knee": "knee",
    "ankle": "ankle",
    "shoulder": "shoulder",
    "elbow": "elbow",
    "wrist": "wrist",
}
ROUNDING: Final = 1.1e-3
"""Of numbers that are shown with three digits."""


@pytest.mark.parametrize("effort", [(5, 1), (8, 2)])
@pytest.mark.parametrize(
    ("exercise", "load", "region"),
    [
        ("back_squat_high_bar", 85, "low_back"),
        ("front_squat", 60, "knee"),
        ("deadlift_conventional", 100, "low_back"),
        ("overhead_press", 35, "shoulder"),
    ],
)
def test_an_option_asks_as_much_in_both_operations(
    exercise: str, load: float, region: str, effort: tuple[int, float]
) -> None:
    reps, reserve = effort
    present = {
        "exercise": exercise,
        "sets": 4,
        "reps": {"low": reps, "high": reps},
        "load": kg(load),
        "reps_in_reserve": reserve,
    }
    asked = {
        "lifter": LIFTER,
        "prescription": present,
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "strength",
        "limit": 10,
    }
    compared, differing = 0, []
    for option in ask("adjustments", asked).options:
        changed = msgspec.to_builtins(option.prescription)
        setups = [{**present, "label": "now"}, {**changed, "label": "changed"}]
        relative = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1].relative
        for name, demand in option.demand.items():
            ratio = None if relative is None or name not in JOINTS else getattr(relative, JOINTS[name])
            if ratio is not None:
                compared += 1
                if abs(ratio.value - demand.value) > ROUNDING:
                    differing.append((option.levers, name, demand.value, ratio.value))
    assert compared >= 10
    assert not differing


def test_the_reserve_of_another_setup_is_no_maximum_of_its_own() -> None:
    heavy = {"label": "now", "exercise": "back_squat_high_bar", "load": kg(100), "reps": {"low": 5, "high": 5}}
    easy = {**heavy, "label": "then", "load": kg(80), "reps_in_reserve": 4}
    first = {**heavy, "reps_in_reserve": 1}
    said = ask("joint-demand", {"lifter": LIFTER, "setups": [first, easy]}).setups[1]
    silent = ask("joint-demand", {"lifter": LIFTER, "setups": [first, {**easy, "reps_in_reserve": None}]}).setups[1]
    assert said.relative.lumbosacral == silent.relative.lumbosacral
    assert said.posture == silent.posture
