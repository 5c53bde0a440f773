"""What a new week costs elsewhere, in words: other regions that it asks for more, and muscles that get fewer sets, the largest loss first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from service.adjustment.week.problem import WeekCase
from service.adjustment.week.uncertain import Measure
from service.adjustment.week.worked import MuscleChange, NewWeek, raised
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Region

_FEWER: Final = CHOICES.week.fewer_sets_said


def elsewhere(
    case: WeekCase,
    new: NewWeek,
    demand: Mapping[Region, Mapping[Measure, Interval]],
    muscles: Mapping[str, MuscleChange],
) -> Iterator[Message]:
    """The regions that are asked for more, each by the weighting under which it rises most, and the muscles that lose.

    Args:
        case: the week as it is now
        new: the new week
        demand: what it asks of each region against now [1]
        muscles: those whose sets change
    """
    for region, weighting in raised(case.region, demand).items():
        yield message("week_asks_more_of", region=region, share=demand[region][weighting].value, weighting=weighting)
    said = {*new.back.short, *new.back.beside}
    fewer = {
        muscle: one
        for muscle, one in muscles.items()
        if muscle not in said and one.before - one.after >= _FEWER * one.before
    }
    if fewer:
        sets = [
            message("muscle_gets_fewer", muscle=muscle, before=round(one.before, 1), after=round(one.after, 1))
            for muscle, one in sorted(fewer.items(), key=lambda each: each[1].after - each[1].before)
        ]
        yield message("week_fewer_sets", muscles=sets)
