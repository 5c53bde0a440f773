"""The examples of return-plan, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example
from service.api.models.prescription import DEMO_SQUAT
from service.api.models.week import DEMO_WEEK

EXAMPLES: Final = (
    Example(
        "from-the-safety-bar",
        "From a lighter safety-bar squat back to the front squat",
        {
            "lifter": DEMO_LIFTER,
            "original": DEMO_SQUAT,
            "adjusted": {**DEMO_SQUAT, "exercise": "safety_bar_squat", "load": {"value": 45, "unit": "kg"}},
            "region": "low_back",
            "gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}},
        },
    ),
    Example(
        "from-the-belt-squat",
        "From a belt squat, which hardly loads the back, to the front squat, after a test",
        {
            "lifter": DEMO_LIFTER,
            "original": DEMO_SQUAT,
            "adjusted": {**DEMO_SQUAT, "exercise": "belt_squat", "load": {"value": 50, "unit": "kg"}},
            "region": "low_back",
            "gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}},
        },
    ),
    Example(
        "after-weeks-off",
        "From a lighter front squat, after three weeks off",
        {
            "lifter": DEMO_LIFTER,
            "original": DEMO_SQUAT,
            "adjusted": {**DEMO_SQUAT, "load": {"value": 50, "unit": "kg"}},
            "region": "low_back",
            "weeks_off": 3,
            "gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}},
        },
    ),
    Example(
        "in-its-week",
        "From fewer and lighter deadlifts back to those of the week, with the other lifts that load the back",
        {
            "lifter": DEMO_LIFTER,
            "original": DEMO_WEEK[2]["prescription"] | {"days_per_week": 1},
            "adjusted": DEMO_WEEK[2]["prescription"]
            | {"sets": 2, "load": {"value": 60, "unit": "kg"}, "days_per_week": 1},
            "region": "low_back",
            "week": DEMO_WEEK,
            "gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}},
        },
    ),
)
