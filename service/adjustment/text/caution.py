"""The cautions of options in messages, each of which holds for every option that names it."""

from __future__ import annotations

from typing import Final

from service.knowledge.design_choices import CHOICES
from service.messages import Message, message

_VALUES: Final[dict[str, dict[str, float]]] = {
    "no_published_ratio": {"reserve": CHOICES.adjustments.untested_reserve},
    "unloading": {"below": CHOICES.adjustments.unloading_below},
    "easy_set": {"reserve": CHOICES.effort.hard_set_reserve},
    "other_region_rises": {"above": CHOICES.adjustments.elsewhere_rise - 1},
}


def caution(code: str) -> Message:
    """The message of a code that an option names."""
    return message(code, **_VALUES.get(code, {}))
