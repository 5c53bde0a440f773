"""The answer of week-demand: every region's lifts and days, every muscle's sets, every day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from msgspec import UNSET

from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.muscles import hard_sets, is_under
from service.adjustment.week.regions import RegionOfWeek
from service.api.models.common import Basis, Estimate, cautions, estimate
from service.api.operations.week_demand.models import (
    DayOfWeek,
    DayShares,
    LiftOfRegion,
    MuscleOfWeek,
    SharesOfWeek,
    UnknownLift,
    WeekByRegion,
    WeekDemand,
    WeekDemandAnswer,
    WeekOfRegion,
)
from service.api.operations.week_demand.working import worked_week
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import significant
from service.vocabulary import WEIGHTINGS, Region

ON_AVERAGE: Final = "68 %, on average over repetitions: lengths, masses and habits, which lifts of one lifter share"
BY_COUNTING: Final = "low: direct sets alone; high: every set that trains the muscle counted whole"
LEAST_SHARE: Final = 1e-6
"""The least share of a week that is shown [1]."""
SOURCES: Final = [
    "coenen_2012",
    "coenen_2014",
    "pelland_2024",
    "baz_valle_2021",
    "bickel_2011",
    "spiering_2021",
    "andersen_2017",
    "statics",
    "de_leva_1996",
    "jcgm_100",
    "design_choice",
]


def week_demand(request: WeekDemand) -> WeekDemandAnswer:
    """The week by region, by muscle and by day. Raises Refusal with pointers under /week for what cannot be had."""
    worked = worked_week(request)
    week, by_region = worked.week, worked.regions
    return WeekDemandAnswer(
        regions=WeekByRegion(**{region: _region(week, one) for region, one in by_region.items()}),
        muscles={
            muscle: MuscleOfWeek(
                sets=estimate(sets, BY_COUNTING),
                steadied=significant(worked.steadied[muscle]),
                floor=significant(worked.floors[muscle]),
                under_floor=is_under(sets.value, worked.floors[muscle]),
            )
            for muscle, sets in worked.muscles.items()
        },
        days=_days(week),
        basis=Basis(
            method=message("method_week"),
            sources=SOURCES,
            assumptions=[
                message("assumed_weightings"),
                message("assumed_week_at_rest"),
                message("assumed_fractional_sets", reserve=CHOICES.effort.hard_set_reserve),
            ],
            evidence="computed",
            interval=ON_AVERAGE,
        ),
        cautions=cautions_of_week(by_region),
    )


def _region(week: list[PlannedLift], one: RegionOfWeek) -> WeekOfRegion:
    largest = {max(one.days, key=lambda day: one.days[day][weighting]) for weighting in WEIGHTINGS} if one.days else ()
    return WeekOfRegion(
        largest_moment=estimate(max((lift.moment for lift in one.lifts), key=_value), UNSET, "N·m")
        if one.lifts
        else None,
        lifts=[
            LiftOfRegion(
                entry=lift.entry,
                day=week[lift.entry].day,
                repetitions=week[lift.entry].prescription.reps_a_session,
                moment=estimate(lift.moment, UNSET, "N·m"),
                share=SharesOfWeek(**{weighting: _share(share) for weighting, share in lift.shares.items()}),
            )
            for lift in one.lifts
        ],
        days=[
            DayShares(day=day, **{weighting: significant(_noticed(share)) for weighting, share in shares.items()})
            for day, shares in one.days.items()
        ],
        leading=one.leading,
        largest_day=sorted(largest),
        heavy_days=one.heavy,
        shortest_gap=one.gap,
        not_computed=[
            UnknownLift(
                entry=entry,
                day=week[entry].day,
                sets=week[entry].prescription.sets,
                repetitions=week[entry].prescription.reps_a_session,
            )
            for entry in one.unknown
        ],
    )


def _share(share: Interval) -> Estimate:
    return estimate(Interval(*map(_noticed, (share.value, share.low, share.high))), UNSET)


def _noticed(share: float) -> float:
    """A share, nothing where it is too small to be shown: by the tenth power light lifts are such."""
    return share if share >= LEAST_SHARE else 0.0


def _value(one: Interval) -> float:
    return one.value


def _days(week: list[PlannedLift]) -> list[DayOfWeek]:
    entries: dict[int, list[int]] = {}
    for entry, one in enumerate(week):
        entries.setdefault(one.day, []).append(entry)
    return [
        DayOfWeek(
            day=day,
            entries=places,
            sets=sum(week[place].prescription.sets for place in places),
            hard_sets=significant(sum(hard_sets(week[place].prescription) for place in places)),
        )
        for day, places in sorted(entries.items())
    ]


def cautions_of_week(by_region: Mapping[Region, RegionOfWeek]) -> list[Message]:
    """What to know of a week, whichever way it is shown."""
    return cautions("week_is_no_limit", *_spacing(by_region), *_not_computed(by_region))


def _spacing(by_region: Mapping[Region, RegionOfWeek]) -> Iterator[Message]:
    """What stands close together: heavy days of a region, or, where those do not, days in a row that share its week."""
    in_a_row: dict[tuple[int, ...], list[Region]] = {}
    for region, one in by_region.items():
        if one.too_close:
            yield message("heavy_days_close", region=region, days=one.heavy, gap=one.gap, least=one.least_gap)
        elif one.in_a_row:
            in_a_row.setdefault(tuple(one.in_a_row), []).append(region)
    for days, regions in in_a_row.items():
        least = min(by_region[region].days[day]["linear"] for region in regions for day in days)
        yield message("days_in_a_row", regions=regions, days=list(days), least=least)


def _not_computed(by_region: Mapping[Region, RegionOfWeek]) -> list[Message]:
    regions = [region for region, one in by_region.items() if one.unknown]
    return [message("lifts_not_computed", regions=regions)] if regions else []
