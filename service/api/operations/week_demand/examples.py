"""The example of week-demand: three days of the demo scenario's lifter."""

from __future__ import annotations

from typing import Any, Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example


def _lift(day: int, exercise: str, sets: int, low: int, high: int, load: float, reserve: float) -> dict[str, Any]:
    return {
        "day": day,
        "prescription": {
            "exercise": exercise,
            "sets": sets,
            "reps": {"low": low, "high": high},
            "load": {"value": load, "unit": "kg"},
            "reps_in_reserve": reserve,
        },
    }


DEMO_WEEK: Final = [
    _lift(1, "front_squat", 4, 5, 6, 62.5, 2),
    _lift(1, "barbell_row", 3, 8, 10, 42.5, 2),
    _lift(3, "deadlift_conventional", 3, 5, 5, 95, 2),
    _lift(5, "front_squat", 3, 6, 8, 57.5, 3),
    _lift(5, "romanian_deadlift", 3, 8, 8, 70, 2),
]
"""The week of the demo scenario."""

EXAMPLES: Final = (
    Example(
        "three-days",
        "Front squats twice, a row, a deadlift and a Romanian deadlift over three days",
        {"lifter": DEMO_LIFTER, "week": DEMO_WEEK, "aim": "muscle_size"},
    ),
)
