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
        pain_at_rest: pain at rest, from 0 to 10 [points]
        confirmed: whether a professional has confirmed that training may go on
    """

    age: float | None = None
    pregnant: bool = False
    osteoporosis: bool = False
    post_operative: bool = False
    pain_at_rest: float | None = None
    confirmed: bool = False


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
