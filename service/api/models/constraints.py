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
    """What may be changed and what there is to lift with.

    Attributes:
        levers: The only kinds of change that are wanted. Left out: all.
        exercises: The only exercises that may take the place of a present lift. Left out: all of the catalogue.
        exclude: Exercises that no option may use, the present ones among them.
        spare: Regions that may be asked for no more than now.
        gym: What there is to lift with; where it has nothing for a present lift, only other lifts are offered. Null or
            left out: the usual bar and everything else in usual steps.
    """

    levers: Annotated[list[Lever], Meta(min_length=1, max_length=11)] | UnsetType = UNSET
    exercises: Annotated[list[ExerciseId], Meta(max_length=60)] | UnsetType = UNSET
    exclude: Annotated[list[ExerciseId], Meta(max_length=60)] = []
    spare: Annotated[list[Region], Meta(max_length=13)] = []
    gym: Gym | None = None


class Constraints(WhatMayChange, kw_only=True, frozen=True):
    """What may be changed of one lift, and what there is. Left out: everything.

    Attributes:
        bar: Deprecated: use `gym`. The bar with its plates.
        increment: Deprecated: use `gym`. The step of what goes on no bar.
        lightest_load: No option is lighter, and the target is not set below its demand. Left out: no such limit.
        days_per_week_max: Most days a week on which the lift may be trained. Left out: 7.
    """

    bar: EarlierBar | UnsetType = UNSET
    increment: EarlierStep | UnsetType = UNSET
    lightest_load: Mass | UnsetType = UNSET
    days_per_week_max: Annotated[float, whole(1, 7)] | UnsetType = UNSET


def loads_of(limits: Constraints, unit: MassUnit) -> GymLoads:
    """What can be loaded. Raises Refusal with pointers under /constraints for an impossible gym."""
    return gym_of(limits.gym, unit, "/constraints", bar=limits.bar, increment=limits.increment)


def allowed_of(limits: WhatMayChange, possible: Collection[str]) -> frozenset[str]:
    """Ids of the exercises that may and can be done; possible: those for which there is something to lift."""
    return (frozenset(or_default(limits.exercises, EXERCISES)) - set(limits.exclude)).intersection(possible)
