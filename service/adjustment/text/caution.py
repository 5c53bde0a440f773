"""The cautions of options in messages, each of which holds for every option that names it."""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Case
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Side

_OF_SIDES: Final = frozenset({"sound_side_trains_on", "sound_side_finds_its_load"})
_VALUES: Final[dict[str, dict[str, float]]] = {
    "no_published_ratio": {"reserve": CHOICES.adjustments.untested_reserve},
    "unloading": {"below": CHOICES.adjustments.unloading_below},
    "easy_set": {"reserve": CHOICES.effort.hard_set_reserve},
    "other_region_rises": {"above": CHOICES.adjustments.elsewhere_rise - 1},
}


_OTHER: Final[dict[Side, Side]] = {"left": "right", "right": "left"}


def caution(code: str, case: Case) -> Message:
    """The message of a code that an option names."""
    if code in _OF_SIDES and case.sore_side is not None:
        return message(code, side=case.sore_side, other=_OTHER[case.sore_side])
    return message(code, **_VALUES.get(code, {}))
