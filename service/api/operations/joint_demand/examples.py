"""The examples of joint-demand, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example

_LOAD = {"value": 62.5, "unit": "kg"}
EXAMPLES: Final = (
    Example(
        "heel-lift",
        "Front squats flat and with a heel lift, by a lifter with stiff ankles",
        {
            "lifter": {**DEMO_LIFTER, "ankle_dorsiflexion": {"value": 27, "unit": "deg"}},
            "setups": [
                {"label": "flat", "exercise": "front_squat", "load": _LOAD},
                {
                    "label": "heel lift",
                    "exercise": "front_squat",
                    "load": _LOAD,
                    "technique": {"heel_lift": {"value": 1.8, "unit": "cm"}},
                },
            ],
        },
    ),
    Example(
        "presses",
        "A bench press as it is done, in a narrower grip turned above the chest, and with dumbbells",
        {
            "lifter": {**DEMO_LIFTER, "shoulder_breadth": {"value": 37, "unit": "cm"}},
            "setups": [
                {"label": "bench press", "exercise": "bench_press", "load": {"value": 45, "unit": "kg"}},
                {
                    "label": "narrower and shorter",
                    "exercise": "bench_press",
                    "load": {"value": 45, "unit": "kg"},
                    "depth": {"above_bottom": {"value": 6, "unit": "cm"}},
                    "technique": {
                        "grip_width": {"value": 46, "unit": "cm"},
                        "wrist_bend": {"value": 15, "unit": "deg"},
                    },
                },
                {"label": "dumbbells", "exercise": "bench_press_dumbbell", "load": {"value": 38, "unit": "kg"}},
            ],
        },
    ),
    Example(
        "pull-ups",
        "Pull-ups with a band and the pulldown",
        {
            "lifter": DEMO_LIFTER,
            "setups": [
                {
                    "label": "pull-up",
                    "exercise": "pull_up",
                    "load": {"value": 0, "unit": "kg"},
                    "assistance": {"value": 12, "unit": "kg"},
                },
                {"label": "pulldown", "exercise": "lat_pulldown", "load": {"value": 35, "unit": "kg"}},
            ],
        },
    ),
)
