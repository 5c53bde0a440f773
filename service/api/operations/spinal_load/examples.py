"""The examples of spinal-load, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example

EXAMPLES: Final = (
    Example(
        "front-squat-or-split-squat",
        "Front squat and split squat, leans as seen by the coach",
        {
            "lifter": DEMO_LIFTER,
            "setups": [
                {
                    "label": "front squat",
                    "exercise": "front_squat",
                    "load": {"value": 62.5, "unit": "kg"},
                    "trunk_lean": {"value": 31, "unit": "deg"},
                },
                {
                    "label": "split squat",
                    "exercise": "split_squat",
                    "load": {"value": 30, "unit": "kg"},
                    "trunk_lean": {"value": 12, "unit": "deg"},
                },
            ],
        },
    ),
    Example(
        "computed-leans",
        "Front squat, safety-bar squat and belt squat, leans computed for the lifter",
        {
            "lifter": DEMO_LIFTER,
            "setups": [
                {"label": "front squat", "exercise": "front_squat", "load": {"value": 62.5, "unit": "kg"}},
                {"label": "safety bar", "exercise": "safety_bar_squat", "load": {"value": 62.5, "unit": "kg"}},
                {"label": "belt squat", "exercise": "belt_squat", "load": {"value": 62.5, "unit": "kg"}},
            ],
        },
    ),
)
