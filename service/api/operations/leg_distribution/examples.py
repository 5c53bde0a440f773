"""The examples of leg-distribution, of the demo scenario."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example

EXAMPLES: Final = (
    Example(
        "split-squat",
        "Split squats that put 62.5 kg of front squats on the lead leg",
        {
            "stance": "split_squat",
            "load": {"value": 30, "unit": "kg"},
            "body_mass": {"value": 64, "unit": "kg"},
            "match": {"stance": "bilateral", "load": {"value": 62.5, "unit": "kg"}},
        },
    ),
    Example(
        "posture",
        "From the posture at the bottom",
        {
            "stance": "split_squat",
            "load": {"value": 30, "unit": "kg"},
            "foot_spacing": {"value": 70, "unit": "cm"},
            "posture": {
                "lifter": DEMO_LIFTER,
                "trunk_lean": {"value": 12, "unit": "deg"},
            },
        },
    ),
    Example(
        "places",
        "From foot spacing and centre of mass",
        {
            "stance": "kickstand",
            "load": {"value": 30, "unit": "kg"},
            "foot_spacing": {"value": 42, "unit": "cm"},
            "centre_of_mass_behind_lead_foot": {"value": 9, "unit": "cm"},
        },
    ),
)
