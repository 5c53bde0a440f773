"""The examples of rest, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.operation import Example

EXAMPLES: Final = (
    Example(
        "front-squats",
        "4 front squat sets of 6 with 2 in reserve, 90 s of rest against 3 min",
        {
            "sets": 4,
            "reps": 6,
            "reps_in_reserve": 2,
            "rest": {"value": 90, "unit": "s"},
            "compared_with": {"value": 3, "unit": "min"},
            "exercise": "front_squat",
            "load": {"value": 62.5, "unit": "kg"},
            "bar": {"bar": {"value": 15, "unit": "kg"}},
        },
    ),
    Example(
        "sets-to-failure",
        "3 back squat sets of 10 to failure, 1 min of rest",
        {
            "sets": 3,
            "reps": 10,
            "rest": {"value": 1, "unit": "min"},
            "exercise": "back_squat_high_bar",
            "load": {"value": 45, "unit": "kg"},
            "bar": {"bar": {"value": 15, "unit": "kg"}},
        },
    ),
)
