"""Signs as Markdown, which reads as well in a shell as in a chat."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from service.api.catalogue.models import SignEntry
from service.api.reports.writing import plain
from service.knowledge.signs import URGENCIES
from service.messages import message, spoken

FORMS: Final = ("json", "markdown")
"""Forms of a list that people read too, as `as` names them; the first where it is left out."""


def signs_to_read(signs: Sequence[SignEntry]) -> str:
    """Signs by what to do about them, the most urgent first, each by its id with the words to ask the lifter with."""
    parts = [] if spoken().reviewed else [plain(message("language_not_reviewed").text)]
    ranked = sorted(signs, key=lambda sign: URGENCIES[sign.urgency].rank)
    for _, group in groupby(ranked, key=lambda sign: sign.urgency):
        asked = list(group)
        lines = "\n".join(f"- `{sign.id}`: {plain(sign.text)}" for sign in asked)
        parts += [f"**{plain(asked[0].what_to_do)}**", lines]
    return "\n\n".join(parts) + "\n"
