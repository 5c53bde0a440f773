"""The example of week-demand: three days of the demo scenario's lifter."""

from __future__ import annotations

from typing import Final

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.operation import Example
from service.api.models.week import DEMO_WEEK

EXAMPLES: Final = (
    Example(
        "three-days",
        "Front squats twice, a row, a deadlift and a Romanian deadlift over three days",
        {"lifter": DEMO_LIFTER, "week": DEMO_WEEK, "aim": "muscle_size"},
    ),
)
