"""Circumstances in which no plan is given until a licensed professional has confirmed that training may go on.

The list and its wording are in knowledge/data/confirmations.toml with sources and how far each is known.
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec
from msgspec.structs import replace

from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import Known, Record, SourceId

ConditionId = Literal["pain_at_rest", "post_operative", "pregnancy", "osteoporosis", "under_age"]


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


class Circumstances(msgspec.Struct, frozen=True):
    """What is stated of the lifter; None where it is not.

    Attributes:
        age: age [years]
        pregnant: whether pregnant
        osteoporosis: whether osteoporosis is known
        post_operative: whether the region was operated on
        pain_at_rest: pain at rest, from 0 to 10 [points]
        confirmed: whether a professional has confirmed that training may go on
    """

    age: float | None = None
    pregnant: bool = False
    osteoporosis: bool = False
    post_operative: bool = False
    pain_at_rest: float | None = None
    confirmed: bool = False


def _with_limits(condition: Condition) -> Condition:
    """The circumstance with the limits that are chosen in its words."""
    limit = f"{CHOICES.adjustments.at_rest_up_to:g}"
    text, once_confirmed = condition.text.format(at_rest=limit), condition.once_confirmed.format(at_rest=limit)
    return replace(condition, text=text, once_confirmed=once_confirmed)


CONDITIONS: Final = {name: _with_limits(one) for name, one in read_tables("confirmations.toml", Condition).items()}


def to_confirm(circumstances: Circumstances) -> tuple[Condition, ...]:
    """The circumstances that need a professional's confirmation before any option is given, confirmed or not."""
    rest, age = circumstances.pain_at_rest, circumstances.age
    present: dict[ConditionId, bool] = {
        "pain_at_rest": rest is not None and rest > CHOICES.adjustments.at_rest_up_to,
        "post_operative": circumstances.post_operative,
        "pregnancy": circumstances.pregnant,
        "osteoporosis": circumstances.osteoporosis,
        "under_age": age is not None and age < CHOICES.adjustments.supervised_below_age,
    }
    return tuple(CONDITIONS[name] for name, holds in present.items() if holds)
