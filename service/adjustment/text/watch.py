"""What to watch while training with a sore region, and at what to stop: the same limits as in a review."""

from __future__ import annotations

from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Region

_LIMITS = CHOICES.adjustments


def what_to_watch() -> list[Message]:
    """What is written down where the region is trained."""
    return [
        message("watch_session", green=_LIMITS.green_up_to, amber=_LIMITS.amber_up_to),
        message("watch_morning", change=_LIMITS.real_change),
    ]


def what_to_watch_without_load() -> list[Message]:
    """What is written down where the region is not trained."""
    return [message("watch_without_load")]


def when_to_stop(region: Region) -> list[Message]:
    """At what the lift, the plan or all that loads the region is stopped."""
    return [
        message("stop_lift", amber=_LIMITS.amber_up_to),
        message("stop_before_next_session", change=_LIMITS.real_change),
        message(
            "stop_region",
            region=region,
            red=_LIMITS.red_up_to,
            at_rest=_LIMITS.at_rest_up_to,
            amber=_LIMITS.amber_up_to,
        ),
        message("stop_at_sign"),
    ]
