"""The examples of adjustments, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example
from service.api.models.prescription import DEMO_SQUAT

EXAMPLES: Final = (
    Example(
        "sore-low-back",
        "Front squats that hurt the low back",
        {
            "lifter": DEMO_LIFTER,
            "prescription": DEMO_SQUAT,
            "complaint": {"region": "low_back", "pain_in_session": 4, "pain_next_morning": 2, "usual_pain": 1},
            "aim": "strength",
            "constraints": {"gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}}, "days_per_week_max": 3},
        },
    ),
    Example(
        "stop-today",
        "The same with pain above 5: the same lift with load off, from the next session",
        {
            "lifter": DEMO_LIFTER,
            "prescription": DEMO_SQUAT,
            "complaint": {"region": "low_back", "pain_in_session": 6, "pain_next_morning": 2, "usual_pain": 1},
            "aim": "strength",
            "constraints": {"gym": {"bar": {"bar": {"value": 15, "unit": "kg"}}}},
        },
    ),
    Example(
        "pause-and-review",
        "The same with pain above 5 again after it was adjusted",
        {
            "lifter": DEMO_LIFTER,
            "prescription": DEMO_SQUAT | {"load": {"value": 45, "unit": "kg"}},
            "complaint": {"region": "low_back", "pain_in_session": 6, "after_adjustment": True},
            "aim": "strength",
            "constraints": {"exclude": ["nordic_curl"], "spare": ["knee"]},
        },
    ),
    Example(
        "as-it-is-told",
        "The same with a sore left knee as it is told: at the bottom of the movement, for seven weeks, and the low back as well",
        {
            "lifter": DEMO_LIFTER,
            "prescription": DEMO_SQUAT,
            "complaint": {
                "region": "front_of_knee",
                "also": ["low_back"],
                "side": "left",
                "pain_in_session": 4,
                "provoked_by": ["range"],
                "painful_range": "bottom",
                "weeks": 7,
                "onset": "gradual",
            },
            "aim": "strength",
        },
    ),
    Example(
        "red-flag",
        "The same with a red flag",
        {
            "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}},
            "prescription": {
                "exercise": "front_squat",
                "sets": 4,
                "reps": {"low": 5, "high": 6},
                "load": {"value": 62.5, "unit": "kg"},
            },
            "complaint": {"region": "low_back", "pain_in_session": 1, "signs": ["bladder_change"]},
            "aim": "strength",
        },
    ),
)
