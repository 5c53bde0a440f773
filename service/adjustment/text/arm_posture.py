"""What an option changes in the postures of a sore shoulder, in words that never make a moment of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.arm import PostureChange
from service.intervals import Interval
from service.messages import Message, message
from service.units import angle

_ONE_MOMENT: Final = 0.01
"""A change and a span of no more than a percentage point are not said [1]."""
_CODES: Final = {
    "behind": ("upper_arm_less_behind", "upper_arm_further_behind"),
    "raised": ("upper_arm_raised_less", "upper_arm_raised_more"),
    "turned": ("upper_arm_turned_less", "upper_arm_turned_more"),
}


def moment_as_it_is(region: str, ratio: Interval) -> Message:
    """That posture alone is eased.

    Args:
        region: that is sore
        ratio: of its moment against now [1]
    """
    if ratio.high - ratio.low <= _ONE_MOMENT and ratio.value >= 1.0 - _ONE_MOMENT:
        return message("posture_eases_at_one_moment", region=region)
    return message("posture_eases_not_moment", region=region, least=ratio.low, most=ratio.high)


def postures(change: PostureChange) -> Iterator[Message]:
    """Each posture that is eased by as much as counts, and each that gets worse by as much.

    Args:
        change: what surely changes
    """
    for name, part in change.counted.items():
        less, more = _CODES[name]
        shown = angle(abs(part), "deg")
        yield message(less, less=shown) if part > 0 else message(more, more=shown)
