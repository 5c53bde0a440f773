"""What a week asks of one region: its lifts and days under the three weightings, and how its heavy days are spaced."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from msgspec import Struct

from service.adjustment.week.exposure import (
    Contribution,
    shares_of_days,
    shortest_gap,
)
from service.adjustment.week.lifts import Asked, PlannedLift, contributions
from service.adjustment.week.uncertain import uncertain_shares
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.mechanics.uncertainty.intervals import average_of
from service.vocabulary import WEIGHTINGS, Region, Weighting

_WEEK: Final = CHOICES.week
_DAYS: Final = 7
_TWO: Final = 2
_ROUNDING: Final = 1e-9
"""Of two shares [1]: what is less than this between them comes from rounding."""

ByWeighting = Mapping[Weighting, Interval]


class LiftShare(Struct, frozen=True):
    """What one lift of a week asks of a region.

    Attributes:
        entry: its place in the week, from 0 [count]
        moment: peak of a repetition, on average [N·m]
        shares: part of the region's week that it is, by weighting [1]
    """

    entry: int
    moment: Interval
    shares: ByWeighting


class RegionOfWeek(Struct, frozen=True):
    """What a week asks of a region.

    Attributes:
        lifts: those whose moment is known and asks something
        unknown: places in the week of lifts that load the region by a moment that is not known [count]
        days: part of the week by weighting, on each day that loads it [1]
        leading: place of the lift that has the largest share under every weighting, None where they disagree [count]
        heavy: days that carry more than the part that makes a heavy one, under some weighting [days]
        gap: fewest days from one of them to the next, None where there are fewer than two [days]
        least_gap: below how many days that is pointed out [days]
        in_a_row: the most days that follow each other with no less than an equal share of the sum each, in their order,
            the week coming round; fewer than two are none [days]
    """

    lifts: list[LiftShare]
    unknown: list[int]
    days: dict[int, dict[Weighting, float]]
    leading: int | None
    heavy: list[int]
    gap: int | None
    least_gap: int
    in_a_row: list[int]

    @property
    def too_close(self) -> bool:
        """Whether two heavy days are closer than what is pointed out."""
        return self.gap is not None and self.gap < self.least_gap


def region_of_week(week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: Region) -> RegionOfWeek:
    """What a week asks of a region.

    Args:
        week: its lifts
        asked: what a repetition of each asks of every region, where that is computed
        region: region whose week it is
    """
    by_entry = contributions(week, asked, region)
    known = [(entry, one) for entry, one in enumerate(by_entry) if one is not None and one.moment > 0.0]
    parts = [one for _, one in known]
    shares = uncertain_shares(parts)
    lifts = [
        LiftShare(
            entry,
            average_of(one.moment, one.spread.changes).at_least(0.0),
            {weighting: shares[weighting][index] for weighting in WEIGHTINGS},
        )
        for index, (entry, one) in enumerate(known)
    ]
    days = _days(parts)
    loaded = [entry for entry, one in enumerate(week) if region in EXERCISES[one.prescription.exercise].regions]
    return RegionOfWeek(
        lifts,
        [entry for entry in loaded if by_entry[entry] is None],
        days,
        _leading(lifts),
        heavy := _heavy(days),
        shortest_gap(heavy),
        least_gap_of(region),
        _in_a_row(days),
    )


def heavy_days(parts: Sequence[Contribution]) -> list[int]:
    """Days that carry more of a region's week than makes a heavy one, under some weighting [days]."""
    return _heavy(_days(parts))


def least_gap_of(region: Region) -> int:
    """Days from one heavy day of a region to the next below which that is pointed out [days]."""
    return _WEEK.least_gap.tendon if REGIONS[region].whole in _WEEK.tendon_regions else _WEEK.least_gap.usual


def _heavy(days: Mapping[int, Mapping[Weighting, float]]) -> list[int]:
    return [day for day, of_day in days.items() if max(of_day.values()) > _WEEK.heavy_day]


def _in_a_row(days: Mapping[int, Mapping[Weighting, float]]) -> list[int]:
    """The longest run of days with an equal share of the sum or more, of equally long ones the first.

    Days in a row were found to add up by what was lifted on them (andersen_2017), hence the plain sum; the equal share
    is our own choice, for it needs no further number.
    """
    loaded = {day for day, of_day in days.items() if of_day["linear"] >= 1.0 / len(days) - _ROUNDING}
    runs = []
    for first in sorted(loaded):
        run = [first]
        while len(run) < len(loaded) and (after := run[-1] % _DAYS + 1) in loaded:
            run.append(after)
        runs.append(run)
    longest = max(runs, key=len, default=[])
    return longest if len(longest) >= _TWO else []


def _days(parts: Sequence[Contribution]) -> dict[int, dict[Weighting, float]]:
    by_weighting = {weighting: shares_of_days(parts, weighting) for weighting in WEIGHTINGS}
    return {
        day: {weighting: by_weighting[weighting][day] for weighting in WEIGHTINGS} for day in by_weighting["linear"]
    }


def _leading(lifts: Sequence[LiftShare]) -> int | None:
    """The lift that leads under every weighting, if one does."""
    first = {max(lifts, key=lambda one: one.shares[weighting].value).entry for weighting in WEIGHTINGS} if lifts else ()
    return next(iter(first)) if len(first) == 1 else None
