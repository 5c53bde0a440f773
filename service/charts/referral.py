"""Why nothing is planned, as a sheet of words: what to do first, then what happens to the training, then why."""

from __future__ import annotations

from collections.abc import Sequence

from service.adjustment.triage import UNTIL_CONFIRMED, Referral, Stop
from service.charts.elements.notice import Passage, notice


def stop_notice(stop: Stop, cautions: Sequence[str]) -> str:
    """The sheet of a referral, or of what has to be confirmed first.

    Args:
        stop: why nothing is planned
        cautions: the texts at the end

    Returns:
        SVG text, with the same words as its text alternative.
    """
    if isinstance(stop, Referral):
        labels = [sign.urgency.replace("_", " ").capitalize() for sign in stop.signs]
        because = [f"{label}: {sign.text}" for label, sign in zip(labels, stop.signs, strict=True)]
        return _sheet("Stop and refer", stop.urgency.what_to_do, stop.urgency.stop_rule, because, cautions)
    because = [one.text for one in stop.conditions]
    return _sheet("Confirm with a professional first", stop.what_to_do, UNTIL_CONFIRMED, because, cautions)


def _sheet(title: str, first: str, training: str, because: Sequence[str], cautions: Sequence[str]) -> str:
    return notice(
        title,
        [
            Passage("What to do now", [first]),
            Passage("The training", [training]),
            Passage("Because of", because),
            Passage("To know", cautions),
        ],
    )
