"""What the lifts of a week ask of a region together, under three weightings of which none is known to be the right one.

The moment of a repetition counts as it is, squared, or by its tenth power: linear and squared sums are what cumulated
loads at work were compared by (coenen_2014), and the tenth power is how single cycles wore specimens of spines
(coenen_2012). The heavier the weighting, the more the heaviest lift decides; which lift leads may turn with it, so all
three stand beside each other and none is the answer.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Final, Literal, TypeAlias

from msgspec import Struct
from msgspec.structs import replace

from service.intervals import Interval, combined
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.propagation import Variant
from service.vocabulary import WEIGHTINGS, Weighting

_Column: TypeAlias = Sequence[tuple[int, float]]
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
    if list(after) == list(before):
        return dict.fromkeys(MEASURES, Interval(1.0, 1.0, 1.0))
    both = (*after, *before)
    sums = _Sums(both, len(after))
    columns = _columns(both)
    moved = [[sums.ratios(column, sign) for sign in (-1.0, 1.0)] for column in columns]
    return {
        measure: combined(value, *((down[place], up[place]) for down, up in moved))
        for place, (measure, value) in enumerate(zip(MEASURES, sums.ratios(), strict=True))
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


class _Sums:
    """Two weeks side by side, of which a few moments are moved at a time: only what moves is summed again."""

    def __init__(self, both: Sequence[Contribution], split: int) -> None:
        self._both, self._split = both, split
        self._terms = [_terms(one.repetitions, one.moment) for one in both]
        new, old = self._terms[:split], self._terms[split:]
        self._sums = [[sum(term[power] for term in terms) for power in range(len(POWERS))] for terms in (new, old)]
        places = range(len(both))
        self._largest = [sorted(own, key=lambda place: -both[place].moment) for own in (places[:split], places[split:])]

    def ratios(self, column: _Column = (), sign: float = 0.0) -> tuple[float, ...]:
        """The measures of the first week against the second with some moments moved, in the order of MEASURES [1]."""
        sums = [list(own) for own in self._sums]
        moved: dict[int, float] = {}
        for place, change in column:
            one = self._both[place]
            moved[place] = moment = max(0.0, one.moment + sign * change)
            own = sums[place >= self._split]
            for power, (now, before) in enumerate(
                zip(_terms(one.repetitions, moment), self._terms[place], strict=True)
            ):
                own[power] += now - before
        powers = POWERS.values()
        new, old = (
            [max(0.0, total) ** (1.0 / power) for total, power in zip(own, powers, strict=True)] for own in sums
        )
        peaks = [self._peak(week, moved) for week in (0, 1)]
        pairs = zip((*new, peaks[0]), (*old, peaks[1]), strict=True)
        return tuple(one / base if base > 0 else 1.0 for one, base in pairs)

    def _peak(self, week: int, moved: Mapping[int, float]) -> float:
        still = next((self._both[place].moment for place in self._largest[week] if place not in moved), 0.0)
        own = (moment for place, moment in moved.items() if (place >= self._split) == bool(week))
        return max(still, *own, 0.0)


def _terms(repetitions: float, moment: float) -> tuple[float, float, float]:
    """What one contribution is of each weighting's sum."""
    linear, squared, tenth = (repetitions * moment**power for power in POWERS.values())
    return linear, squared, tenth


def _moved(week: Sequence[Contribution], column: _Column, sign: float) -> list[Contribution]:
    moved = list(week)
    for place, change in column:
        moved[place] = replace(week[place], moment=max(0.0, week[place].moment + sign * change))
    return moved


def _columns(week: Sequence[Contribution]) -> list[_Column]:
    """By uncertain input, the contributions that it moves, by their places, with the change of the moment [N·m].

    Inputs of the lifter move all; those of an exercise all lifts that are it in one stance; those of a setup what is
    done in the same way with the same load.
    """
    columns: dict[Hashable, list[tuple[int, float]]] = {}
    for place, one in enumerate(week):
        changes = one.changes
        scopes: tuple[tuple[Hashable, Sequence[float]], ...] = (
            ("lifter", changes.of_lifter),
            (("exercise", one.variant), changes.of_exercise),
            (("setup", one.variant, one.moment, changes.of_setup), changes.of_setup),
        )
        for scope, row in scopes:
            for index, change in enumerate(row):
                if change:
                    columns.setdefault((scope, index), []).append((place, change))
    return list(columns.values())
