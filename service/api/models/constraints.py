"""What may be changed of a lift, and what there is to lift with, as requests describe it."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, or_default
from service.api.models.common import whole
from service.api.models.gym import EarlierBar, EarlierStep, Gym, GymLoads, gym_of
from service.api.models.ids import ExerciseId
from service.knowledge.catalogue import EXERCISES
from service.units import Mass, MassUnit
from service.vocabulary import Lever, Region


class WhatMayChange(RequestModel, kw_only=True, frozen=True):
    """What may be changed and what there is. Left out: every lever, every exercise, the usual bar."""

    levers: Annotated[list[Lever], Meta(min_length=1, max_length=11)] | UnsetType = UNSET
    exercises: Annotated[list[ExerciseId], Meta(max_length=60)] | UnsetType = UNSET
    exclude: Annotated[list[ExerciseId], Meta(max_length=60)] = []
    spare: Annotated[list[Region], Meta(max_length=13)] = []
    gym: Gym | None = None


class Constraints(WhatMayChange, kw_only=True, frozen=True):
    """What may be changed and what there is. Left out: every lever, every exercise, the usual bar.

    exercises: that may take the place of the present lift; exclude: that no option may use, the present one among them.
    spare: regions that may be asked for no more than now. gym: what there is to lift with; where it has nothing for the
    present lift, only other lifts are offered.
    lightest_load: no option is lighter, and the target is not set below its demand.
    """

    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET
    lightest_load: Mass | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7, "Most days a week, 1 to 7.")] | UnsetType = UNSET


def loads_of(limits: Constraints, unit: MassUnit) -> GymLoads:
    """What can be loaded. Raises Refusal with pointers under /constraints for an impossible gym."""
    return gym_of(limits.gym, unit, "/constraints", bar=limits.bar, increment=limits.increment)


def allowed_of(limits: WhatMayChange, possible: Collection[str]) -> frozenset[str]:
    """Ids of the exercises that may and can be done; possible: those for which there is something to lift."""
    return (frozenset(or_default(limits.exercises, EXERCISES)) - set(limits.exclude)).intersection(possible)
