"""A referral as a sheet of words: what to do first, then what happens to the training, then why."""

from __future__ import annotations

from collections.abc import Sequence

from service.adjustment.triage import CONFIRM_FIRST, Referral
from service.charts.elements.notice import Passage, notice


def referral_notice(referral: Referral, cautions: Sequence[str]) -> str:
    """The sheet of a referral.

    Args:
        referral: for red flags, or for circumstances that have to be confirmed first
        cautions: the texts at the end

    Returns:
        SVG text, with the same words as its text alternative.
    """
    urgency = referral.urgency
    confirm = urgency.id == CONFIRM_FIRST
    labels = ["" if confirm else f"{sign.urgency.replace('_', ' ').capitalize()}: " for sign in referral.signs]
    return notice(
        "Confirm with a professional first" if confirm else "Stop and refer",
        [
            Passage("What to do now", [urgency.what_to_do]),
            Passage("The training", [urgency.stop_rule]),
            Passage("Because of", [f"{label}{sign.text}" for label, sign in zip(labels, referral.signs, strict=True)]),
            Passage("To know", cautions),
        ],
    )
