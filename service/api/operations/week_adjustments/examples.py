"""The examples of week-adjustments: three days of the demo scenario's lifter."""

from __future__ import annotations

from typing import Any, Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example
from service.api.models.week import DEMO_WEEK

_SORE: Final[dict[str, Any]] = {
    "lifter": DEMO_LIFTER,
    "week": DEMO_WEEK,
    "complaint": {"region": "low_back", "pain_in_session": 4, "pain_next_morning": 2, "usual_pain": 1},
    "hurts": [0, 3],
    "aim": "muscle_size",
}

EXAMPLES: Final = (
    Example("sore-low-back", "Three days of squats, hinges and a row that hurt the low back", _SORE),
    Example(
        "a-lift-must-stay",
        "The same, where the deadlift must stay and the shoulder is to be spared",
        _SORE | {"constraints": {"staying": [2], "spare": ["shoulder"]}},
    ),
    Example(
        "stop-today",
        "The same with pain above 5: only less of what is known, and what that leaves below its floor",
        _SORE | {"complaint": {"region": "low_back", "pain_in_session": 6}},
    ),
    Example(
        "not-computed",
        "The same with a sore neck, of which nothing is computed",
        _SORE | {"complaint": {"region": "neck", "pain_in_session": 4}},
    ),
)
