"""Our own choices on a complaint as it is told."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.records import Record


class ComplaintChoices(Record, frozen=True):
    """How far a complaint as it is told goes.

    Attributes:
        preference_worth: training effect that a preferred option may keep less and still come first [1]
        weeks: time without improvement after which a professional should look at it [weeks]
    """

    preference_worth: Annotated[float, Meta(ge=0, le=1)]
    weeks: Annotated[float, Meta(gt=0, le=520)]
