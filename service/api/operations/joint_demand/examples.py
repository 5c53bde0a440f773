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
