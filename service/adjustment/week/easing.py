"""What hurts comes first: the lifts of a week that are eased whatever else is changed, each as it would be by itself.

Pain below the red tier: the lifts that are said to hurt, and the same exercise on other days where it asks as much. In
the red tier: those, and every lift that loads the sore region by the catalogue, computed or not, or by a noticeable
part of what the week asks; of which nothing is sure is left out until it is known to be painless. All of it is practice
and our own choice.
"""

from __future__ import annotations

from itertools import product
from typing import Final, TypeAlias

from msgspec import Struct

from service.adjustment.options.ranking import by_session
from service.adjustment.week.alternatives import Alternative, alternatives, leading, units
from service.adjustment.week.problem import WeekCase
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.vocabulary import MeetsBy

Unit: TypeAlias = tuple[int, ...]
"""Places of a lift that is the same on several days [count]."""
_OF_A_REPETITION: Final[tuple[MeetsBy, ...]] = ("peak", "posture")
_MILDER: Final[tuple[MeetsBy, ...]] = ("direction_only", "session_exposure")
_ROUNDING: Final = 1e-9
"""What a root may be short of its whole number by [1]."""


def searched(case: WeekCase, unit: Unit, target: float) -> list[Alternative]:
    """What one lift may be changed to; nothing where its consultation by itself is refused.

    A lift whose moment is not known stays the lift it is: what another one asks instead could not be held against it.

    Args:
        case: the week
        unit: the lift
        target: part of its present demand to which the region is to be brought [1]
    """
    try:
        found = list(alternatives(case, unit, target))
    except Refusal:
        return []
    now = case.week[unit[0]].prescription.exercise
    return [one for one in found if case.parts[unit[0]] is not None or one.prescription.exercise == now]


def hurting(case: WeekCase) -> list[Unit]:
    """The lifts that are said to hurt, and the same exercise on other days where it asks as much of the sore region."""
    every = units(case.week)
    said = [unit for unit in every if not case.hurts.isdisjoint(unit)]
    return [unit for unit in every if unit in said or any(_asks_as_much(case, unit, one) for one in said)]


def to_ease(case: WeekCase) -> list[Unit]:
    """The lifts that are eased before anything else is changed, without those that must stay.

    Below the red tier at most the configured number of lifts that a search looks at, those that load the region first.
    """
    first = [unit for unit in hurting(case) if case.staying.isdisjoint(unit)]
    if not case.only_less:
        return sorted(first, key=case.loading.isdisjoint)[: CHOICES.week.most_lifts_searched]
    worth = leading(case)
    loads = (unit for unit in units(case.week) if unit in worth or not case.loading.isdisjoint(unit))
    return [*first, *(unit for unit in loads if unit not in first and case.staying.isdisjoint(unit))]


def beyond_most(case: WeekCase) -> list[Unit]:
    """The lifts that hurt beyond those that one search eases, and may be changed."""
    eased = to_ease(case)
    return [unit for unit in hurting(case) if unit not in eased and case.staying.isdisjoint(unit)]


class Easing(Struct, frozen=True):
    """What eases the lifts that hurt.

    Attributes:
        ways: to ease all of them that something eases, what is tried first by itself first; none where nothing hurts
        milder: the same with what is by direction alone less of a repetition of the lift, and with fewer of them
        not_eased: places of the others [count]
    """

    ways: list[tuple[Alternative, ...]]
    milder: list[list[tuple[Alternative, ...]]]
    not_eased: tuple[int, ...]


def easing(case: WeekCase, most: int) -> Easing:
    """What eases the lifts that hurt, each by its own first step.

    Args:
        case: the week
        most: ways that are looked at [count]
    """
    found = {unit: searched(case, unit, case.target) for unit in to_ease(case)}
    not_eased = tuple(entry for unit, ways in found.items() if not ways for entry in unit)
    each = [ways for ways in found.values() if ways]
    first = [_of_a_repetition(ways) for ways in each]
    milder = [
        [[one for one in ways if _is_milder(one, meets_by)] or own for ways, own in zip(each, first, strict=True)]
        for meets_by in _MILDER
    ]
    return Easing(_combined(first, most), [_combined(ways, most) for ways in milder if ways != first], not_eased)


def _combined(each: list[list[Alternative]], most: int) -> list[tuple[Alternative, ...]]:
    """One change of each of some lifts in every way, at most so many, what is tried first by itself first."""
    if not each:
        return []
    deep = max(1, int(most ** (1.0 / len(each)) + _ROUNDING))
    ranked = sorted(product(*(enumerate(ways[:deep]) for ways in each)), key=lambda way: sum(rank for rank, _ in way))
    return [tuple(one for _, one in way) for way in ranked]


def _is_milder(one: Alternative, meets_by: MeetsBy) -> bool:
    """Whether a lift that stays much the same meets its target in a way that need not bring the week to its own."""
    return one.candidate.meets_by == meets_by and "exercise" not in one.candidate.levers


def _of_a_repetition(ways: list[Alternative]) -> list[Alternative]:
    """What is known to ask less of a repetition, else what is by direction, unless the amount alone provokes the pain.

    It is the repetition that hurts: the same with one less of them is a smaller change and no first one.
    """
    if not ways or by_session(ways[0].outcome.case):
        return ways
    known = [one for one in ways if one.candidate.meets_by in _OF_A_REPETITION]
    return known or [one for one in ways if one.candidate.meets_by == "direction_only"] or ways


def only_less(case: WeekCase) -> tuple[tuple[Alternative, ...], frozenset[int]] | None:
    """In the red tier: every lift that is to be eased with the first that is sure by itself, the others left out.

    Returns:
        the changes and the places of what is left out [count]; None where what hurts must stay
    """
    if any(not case.staying.isdisjoint(unit) for unit in hurting(case)):
        return None
    eased = {unit: searched(case, unit, case.target)[:1] for unit in to_ease(case)}
    out = frozenset(entry for unit, first in eased.items() if not first for entry in unit)
    return tuple(one for first in eased.values() for one in first), out


def most_repeated(case: WeekCase) -> list[list[Alternative]]:
    """Where nothing of the region is computed: what eases each lift that loads it, the most repeated first."""
    loading = [unit for unit in units(case.week) if not case.loading.isdisjoint(unit) and case.staying.isdisjoint(unit)]
    loading.sort(key=lambda unit: -sum(case.week[entry].prescription.reps_a_session for entry in unit))
    return [ways for unit in loading if (ways := searched(case, unit, case.target))]


def _asks_as_much(case: WeekCase, unit: Unit, hurts: Unit) -> bool:
    """Whether a lift is the same exercise as one that hurts and asks as much of a repetition, by load where unknown."""
    one, other = case.week[unit[0]].prescription, case.week[hurts[0]].prescription
    if one.exercise != other.exercise:
        return False
    part, of_other = case.parts[unit[0]], case.parts[hurts[0]]
    if part is None or of_other is None:
        return one.load >= other.load
    return part.moment >= of_other.moment
