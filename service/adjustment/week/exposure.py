"""What the lifts of a week ask of a region together, under three weightings of which none is known to be the right one.

The moment of a repetition counts as it is, squared, or by its tenth power: linear and squared sums are what cumulated
loads at work were compared by (coenen_2014), and the tenth power is how single cycles wore specimens of spines
(coenen_2012). The heavier the weighting, the more the heaviest lift decides; which lift leads may turn with it, so all
three stand beside each other and none is the answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from service.intervals import Interval, combined
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.propagation import Variant
from service.vocabulary import WEIGHTINGS, Weighting

Measure: TypeAlias = Weighting | Literal["peak"]
MEASURES: Final[tuple[Measure, ...]] = (*WEIGHTINGS, "peak")
"""By what one week is held against another: its size under each weighting, and its largest moment."""

POWERS: Final[dict[Weighting, int]] = {"linear": 1, "squared": 2, "tenth_power": 10}
"""The power of the moment of a repetition that each weighting counts [1]."""


class Contribution(Struct, frozen=True):
    """What one lift on one day asks of a region.

    Attributes:
        day: of the week, 1 to 7 [days]
        repetitions: of the day, in the middle of their range; a hold counts as one [count]
        moment: peak of a repetition, nothing where only muscles of the other side are asked [N·m]
        changes: of the moment with the uncertain inputs
        variant: what two lifts have to have in common to share what is the exercise's own
    """

    day: int
    repetitions: float
    moment: float
    changes: Changes
    variant: Variant


def exposure(week: Iterable[Contribution], weighting: Weighting) -> float:
    """What a week asks of a region: the sum over repetitions of the weighted moment.

    Args:
        week: its contributions
        weighting: how moments count

    Returns:
        the sum [(N·m)^p]
    """
    power = POWERS[weighting]
    return sum(one.repetitions * one.moment**power for one in week)


def size(week: Iterable[Contribution], weighting: Weighting) -> float:
    """What a week asks of a region, on the scale of a moment: the power of the weighting taken out of the sum.

    A tenth off every moment takes a tenth off it under each weighting, so that one target serves all of them.

    Args:
        week: its contributions
        weighting: how moments count

    Returns:
        the size [N·m], times repetitions to one over the power
    """
    whole: float = exposure(week, weighting) ** (1.0 / POWERS[weighting])
    return whole


def largest_moment(week: Iterable[Contribution]) -> float:
    """The largest moment of a repetition in the week [N·m], 0 in a week without any."""
    return max((one.moment for one in week), default=0.0)


def shares(week: Sequence[Contribution], weighting: Weighting, whole: float | None = None) -> list[float]:
    """The part of a week's exposure that each contribution is.

    Args:
        week: its contributions
        weighting: how moments count
        whole: exposure of the week that they are parts of, None for this one [(N·m)^p]

    Returns:
        for each contribution [1]; all nothing in a week that asks nothing
    """
    power = POWERS[weighting]
    parts = [one.repetitions * one.moment**power for one in week]
    total = sum(parts) if whole is None else whole
    return [part / total for part in parts] if total > 0 else [0.0] * len(parts)


def shares_of_days(week: Sequence[Contribution], weighting: Weighting) -> dict[int, float]:
    """The part of a week's exposure on each day that asks something of the region [1], by day in their order."""
    days: dict[int, float] = {}
    for one, share in zip(week, shares(week, weighting), strict=True):
        days[one.day] = days.get(one.day, 0.0) + share
    return dict(sorted(days.items()))


def shortest_gap(days: Iterable[int]) -> int | None:
    """Days from one of some days of the week to the next, at the least, the last of a week to the first of the next.

    Args:
        days: of the week, 1 to 7 [days]

    Returns:
        the gap [days], 1 where two follow each other; None where there are fewer than two
    """
    ordered = sorted(set(days))
    gaps = [(later - day) % 7 for day, later in zip(ordered, [*ordered[1:], *ordered[:1]], strict=True)]
    return min(gaps) if len(gaps) > 1 else None


def uncertain_size_ratio(
    after: Sequence[Contribution], before: Sequence[Contribution], weighting: Weighting
) -> Interval:
    """The size of one week against that of another [1], as uncertain_ratios has it."""
    return uncertain_ratios(after, before)[weighting]


def uncertain_ratios(after: Sequence[Contribution], before: Sequence[Contribution]) -> dict[Measure, Interval]:
    """One week against another of the same lifter, by every measure, with intervals.

    Args:
        after: contributions of the new week
        before: those of the present one, which ask something

    Returns:
        the ratio of sizes by weighting and that of the largest moments, ends of one standard deviation [1]; what both
        weeks share moves in both

    Source: JCGM 100:2008, independent inputs.
    """
    both, split = (*after, *before), len(after)
    central = [one.moment for one in both]
    repetitions = [one.repetitions for one in both]
    columns = _columns(both)
    moved = [
        _ratios([max(0.0, m + d) for m, d in zip(central, column, strict=True)], repetitions, split)
        for column in (*([-d for d in column] for column in columns), *columns)
    ]
    ratios = _ratios(central, repetitions, split)
    sides = len(columns)
    return {
        measure: combined(value, *((moved[i][k], moved[sides + i][k]) for i in range(sides)))
        for k, (measure, value) in enumerate(zip(MEASURES, ratios, strict=True))
    }


def uncertain_shares(week: Sequence[Contribution], weighting: Weighting) -> list[Interval]:
    """The part of a week's exposure that each contribution is, with its interval.

    Each uncertain input is moved down and up by one standard deviation in all lifts that share it, and all shares are
    formed again: under the tenth power they are far from linear in the moments.

    Args:
        week: its contributions
        weighting: how moments count

    Returns:
        for each contribution, ends of one standard deviation [1]

    Source: JCGM 100:2008, independent inputs.
    """
    central = shares(week, weighting)
    moved = [[shares(_moved(week, column, sign), weighting) for sign in (-1.0, 1.0)] for column in _columns(week)]
    return [
        combined(share, *((down[index], up[index]) for down, up in moved)).at_least(0.0).at_most(1.0)
        for index, share in enumerate(central)
    ]


def _ratios(moments: Sequence[float], repetitions: Sequence[float], split: int) -> tuple[float, ...]:
    """The measures of the first contributions against those of the others, in the order of MEASURES [1]."""
    new, old = _sizes(moments[:split], repetitions[:split]), _sizes(moments[split:], repetitions[split:])
    return tuple(one / base if base > 0 else 1.0 for one, base in zip(new, old, strict=True))


def _sizes(moments: Sequence[float], repetitions: Sequence[float]) -> tuple[float, ...]:
    sums = (
        sum(n * moment**power for n, moment in zip(repetitions, moments, strict=True)) ** (1.0 / power)
        for power in POWERS.values()
    )
    return *sums, max(moments, default=0.0)


def _moved(week: Sequence[Contribution], column: Sequence[float], sign: float) -> list[Contribution]:
    return [replace(one, moment=max(0.0, one.moment + sign * change)) for one, change in zip(week, column, strict=True)]


def _columns(week: Sequence[Contribution]) -> list[list[float]]:
    """By uncertain input, the change of each contribution's moment with it [N·m].

    Inputs of the lifter move all; those of an exercise all lifts that are it in one stance; those of a setup one.
    """
    longest = max((len(one.changes.of_lifter) for one in week), default=0)
    columns = [[_at(one.changes.of_lifter, index) for one in week] for index in range(longest)]
    for variant in dict.fromkeys(one.variant for one in week):
        own = [one.changes.of_exercise if one.variant == variant else () for one in week]
        columns += [[_at(row, index) for row in own] for index in range(max(map(len, own)))]
    for place, one in enumerate(week):
        for change in one.changes.of_setup:
            columns.append([change if index == place else 0.0 for index in range(len(week))])
    return [column for column in columns if any(column)]


def _at(row: Sequence[float], index: int) -> float:
    return row[index] if index < len(row) else 0.0
