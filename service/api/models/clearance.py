"""What has to be confirmed by a professional before any plan is given, as requests say it."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, UnsetType

from service.adjustment import clearance
from service.adjustment.clearance import Condition
from service.api.models.base import RequestModel, or_default, stated
from service.api.models.common import Caution, whole


class Circumstances(RequestModel, kw_only=True, frozen=True):
    """What needs a licensed professional's confirmation before any plan is given: pregnancy, an operation on the region, an age below 18.

    confirmed_by_professional: it was confirmed that training may go on.
    """

    age: Annotated[float, whole(5, 120, "Years, 5 to 120.")] | UnsetType = UNSET
    pregnant: bool = False
    post_operative: bool = False
    confirmed_by_professional: bool = False


def conditions_of(
    circumstances: Circumstances | UnsetType, pain_at_rest: float | None = None
) -> tuple[tuple[Condition, ...], bool]:
    """The circumstances that need a professional's confirmation, and whether there is one; pain at rest from 0 to 10."""
    reported = or_default(circumstances, Circumstances())
    conditions = clearance.to_confirm(
        clearance.Circumstances(stated(reported.age), reported.pregnant, reported.post_operative, pain_at_rest)
    )
    return conditions, reported.confirmed_by_professional


def once_confirmed(conditions: tuple[Condition, ...]) -> list[Caution]:
    """What holds for circumstances that were confirmed."""
    return [Caution(code=f"confirmed_{one.id}", text=one.once_confirmed) for one in conditions]
