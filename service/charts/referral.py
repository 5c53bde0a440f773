"""Why nothing is planned, as a sheet of words: what to do first, then what happens to the training, then why."""

from __future__ import annotations

from collections.abc import Sequence

from service.adjustment.text.stop import because_of, stop_rule, what_to_do
from service.adjustment.triage import Referral, Stop
from service.charts.elements.layout import Sheet
from service.charts.elements.notice import Passage, notice


def stop_notice(stop: Stop, cautions: Sequence[str]) -> list[Sheet]:
    """The sheets of a referral, or of what has to be confirmed first.

    Args:
        stop: why nothing is planned
        cautions: the texts at the end

    Returns:
        The sheets, with the same words as their text alternative.
    """
    if isinstance(stop, Referral):
        title, labels = "Stop and refer", [f"{sign.urgency.replace('_', ' ').capitalize()}: " for sign in stop.signs]
    else:
        title, labels = "Confirm with a professional first", [""] * len(stop.conditions)
    because = [f"{label}{one.text}" for label, one in zip(labels, because_of(stop), strict=True)]
    return notice(
        title,
        [
            Passage("What to do now", [" ".join(one.text for one in what_to_do(stop))]),
            Passage("The training", [stop_rule(stop).text]),
            Passage("Because of", because),
            Passage("To know", cautions),
        ],
    )
