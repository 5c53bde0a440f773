"""Circumstances in which no plan is given until a licensed professional has confirmed that training may go on."""

from __future__ import annotations

from typing import Final, Literal

from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourceId

ConditionId = Literal["post_operative", "pregnancy", "osteoporosis", "under_age"]


class Condition(Record, frozen=True):
    """One circumstance in which a professional has to confirm first.

    Attributes:
        id: stable name
        text: what it is
        what_to_do: what to do before training
        once_confirmed: what holds once it is confirmed
        sources: ids of the sources
        known: how far they are known
    """

    id: ConditionId
    text: str
    what_to_do: str
    once_confirmed: str
    sources: tuple[SourceId, ...]
    known: Known


CONDITIONS: Final = read_tables("confirmations.toml", Condition)
