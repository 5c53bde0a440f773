"""Circumstances in which no plan is given until a licensed professional has confirmed that training may go on.

The list and its wording are in knowledge/data/confirmations.toml with sources and how far each is known.
"""

from __future__ import annotations

import msgspec

from service.knowledge.confirmations import CONDITIONS, Condition, ConditionId
from service.knowledge.design_choices import CHOICES


class Circumstances(msgspec.Struct, frozen=True):
    """What is stated of the lifter; None where it is not.

    Attributes:
        age: age [years]
        pregnant: whether pregnant
        osteoporosis: whether osteoporosis is known
        post_operative: whether the region was operated on
        confirmed: whether a professional has confirmed that training may go on
    """

    age: float | None = None
    pregnant: bool = False
    osteoporosis: bool = False
    post_operative: bool = False
    confirmed: bool = False


def to_confirm(circumstances: Circumstances) -> tuple[Condition, ...]:
    """The circumstances that need a professional's confirmation before any option is given, confirmed or not."""
    age = circumstances.age
    present: dict[ConditionId, bool] = {
        "post_operative": circumstances.post_operative,
        "pregnancy": circumstances.pregnant,
        "osteoporosis": circumstances.osteoporosis,
        "under_age": age is not None and age < CHOICES.adjustments.supervised_below_age,
    }
    return tuple(CONDITIONS[name] for name, holds in present.items() if holds)
