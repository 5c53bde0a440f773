"""The examples of session-review, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example
from service.api.models.prescription import DEMO_SQUAT
from service.api.models.week import DEMO_WEEK

LIGHT_BAR: Final = {"bar": {"bar": {"value": 15, "unit": "kg"}}}
EXAMPLES: Final = (
    Example(
        "sore-low-back",
        "Front squats with a low back at 4 of 10, back to normal next morning",
        {
            "prescription": DEMO_SQUAT,
            "region": "low_back",
            "usual_pain": 2,
            "sessions": [
                {"pain_in_session": 4, "pain_next_morning": 2, "reps_done": [6, 6, 5, 5]},
                {"pain_in_session": 4, "pain_next_morning": 2.5, "reps_done": [6, 6, 6, 5]},
            ],
            "weekly_pain": [3, 2.5],
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "two-good-sessions",
        "Two green sessions with all repetitions done",
        {
            "prescription": DEMO_SQUAT | {"load": {"value": 55, "unit": "kg"}},
            "region": "low_back",
            "usual_pain": 1.5,
            "sessions": [
                {"pain_in_session": 2, "pain_next_morning": 1.5, "reps_done": [6, 6, 6, 6]},
                {"pain_in_session": 1.5, "pain_next_morning": 1, "reps_done": [6, 6, 6, 6]},
            ],
            "weekly_pain": [3.5, 2.5, 2],
            "weeks_since_start": 3,
            "pain_at_start": 4,
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "worse-next-morning",
        "A morning well above the usual pain, with a previous prescription to go back to",
        {
            "prescription": DEMO_SQUAT,
            "region": "low_back",
            "usual_pain": 1,
            "sessions": [{"pain_in_session": 3, "pain_next_morning": 4.5, "new_stiffness": True}],
            "previous": DEMO_SQUAT | {"load": {"value": 57.5, "unit": "kg"}},
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "above-5-twice",
        "Above 5 of 10 again, after a step back",
        {
            "prescription": DEMO_SQUAT | {"load": {"value": 45, "unit": "kg"}},
            "region": "low_back",
            "usual_pain": 1,
            "sessions": [
                {"pain_in_session": 6, "pain_next_morning": 2, "earlier_prescription": True},
                {"pain_in_session": 5.5, "pain_next_morning": 3, "reps_done": [6, 6, 5, 4]},
            ],
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "next-step-of-the-way-back",
        "Two good sessions at the start of the way back to the full squat",
        {
            "prescription": {
                "exercise": "front_squat",
                "sets": 4,
                "reps": {"low": 5, "high": 6},
                "load": {"value": 15, "unit": "kg"},
                "reps_in_reserve": 3,
                "tempo": "3-0-1-0",
                "days_per_week": 2,
                "depth": {"thigh_below_horizontal": {"value": -15, "unit": "deg"}},
            },
            "original": {
                "exercise": "back_squat_high_bar",
                "sets": 4,
                "reps": {"low": 5, "high": 6},
                "load": {"value": 72.5, "unit": "kg"},
                "reps_in_reserve": 2,
                "days_per_week": 2,
            },
            "lifter": {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}},
            "aim": "strength",
            "region": "low_back",
            "usual_pain": 1,
            "sessions": [
                {"pain_in_session": 2, "pain_next_morning": 1, "reps_done": [6, 6, 6, 5], "reps_in_reserve": 3},
                {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [6, 6, 6, 6], "reps_in_reserve": 3},
            ],
            "weekly_pain": [3, 2, 1.5],
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "one-change-in-the-week",
        "Two good sessions of a deadlift on the way back, beside the other lifts of the week",
        {
            "prescription": DEMO_WEEK[2]["prescription"]
            | {"sets": 2, "load": {"value": 60, "unit": "kg"}, "days_per_week": 1},
            "original": DEMO_WEEK[2]["prescription"] | {"days_per_week": 1},
            "lifter": DEMO_LIFTER,
            "week": DEMO_WEEK[3:],
            "region": "low_back",
            "usual_pain": 1,
            "sessions": [
                {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [5, 5], "reps_in_reserve": 3},
                {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [5, 5], "reps_in_reserve": 3},
            ],
            "gym": LIGHT_BAR,
        },
    ),
    Example(
        "holds-for-a-tendon",
        "Holds of a squat with stable pain of a tendon",
        {
            "prescription": {
                "exercise": "front_squat",
                "sets": 4,
                "reps": {"low": 1, "high": 1},
                "load": {"value": 40, "unit": "kg"},
                "hold": {"value": 40, "unit": "s"},
                "depth": {"knee_flexion": {"value": 60, "unit": "deg"}},
                "days_per_week": 3,
            },
            "aim": "tendon",
            "region": "knee",
            "usual_pain": 2,
            "sessions": [
                {"pain_in_session": 3, "pain_next_morning": 2, "reps_done": [1, 1, 1, 1]},
                {"pain_in_session": 3, "pain_next_morning": 2, "reps_done": [1, 1, 1, 1]},
            ],
        },
    ),
)
