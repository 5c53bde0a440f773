"""Shares of a week and one week against another, with what is not known of the moments.

Each uncertain input is moved down and up by one standard deviation in all lifts that share it, and all is formed again:
under the tenth power sums are far from linear in the moments. Only what moves is summed again.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import Final, Literal, TypeAlias

from service.adjustment.week.exposure import POWERS, Contribution
from service.intervals import Interval, combined
from service.vocabulary import WEIGHTINGS, Weighting

Measure: TypeAlias = Weighting | Literal["peak"]
MEASURES: Final[tuple[Measure, ...]] = (*WEIGHTINGS, "peak")
"""By what one week is held against another: its size under each weighting, and its largest moment."""
UNCHANGED: Final[Mapping[Measure, Interval]] = dict.fromkeys(MEASURES, Interval(1.0, 1.0, 1.0))
"""A week against itself."""

_Column: TypeAlias = Sequence[tuple[int, float]]
_SIGNS: Final = (-1.0, 1.0)


def ratios(after: Sequence[Contribution], before: Sequence[Contribution]) -> dict[Measure, float]:
    """One week against another by every measure, by central values.

    Args:
        after: contributions of the new week
        before: those of the present one, which ask something

    Returns:
        the ratio of sizes by weighting and that of the largest moments [1]
    """
    return dict(zip(MEASURES, _TwoWeeks(after, before).ratios(), strict=True))


def uncertain_ratios(after: Sequence[Contribution], before: Sequence[Contribution]) -> Mapping[Measure, Interval]:
    """One week against another of the same lifter, by every measure, with intervals.

    Args:
        after: contributions of the new week; those that are the same as in the present one are the same objects
        before: those of the present one, which ask something

    Returns:
        the ratio of sizes by weighting and that of the largest moments, ends of one standard deviation [1]; what both
        weeks share moves in both

    Source: JCGM 100:2008, independent inputs.
    """
    weeks = _TwoWeeks(after, before)
    if weeks.are_one:
        return UNCHANGED
    moved = [[weeks.ratios(column, sign) for sign in _SIGNS] for column in _columns(weeks.parts)]
    return {
        measure: combined(value, *((down[place], up[place]) for down, up in moved))
        for place, (measure, value) in enumerate(zip(MEASURES, weeks.ratios(), strict=True))
    }


def uncertain_shares(week: Sequence[Contribution]) -> dict[Weighting, list[Interval]]:
    """The part of a week's exposure that each contribution is, with its interval.

    Args:
        week: its contributions

    Returns:
        by weighting, for each contribution, ends of one standard deviation [1]

    Source: JCGM 100:2008, independent inputs.
    """
    terms = [_terms(one.repetitions, one.moment) for one in week]
    central = _shares(terms)
    moved = [[_shares(_moved(week, terms, column, sign)) for sign in _SIGNS] for column in _columns(week)]
    return {
        weighting: [
            combined(share, *((down[power][place], up[power][place]) for down, up in moved)).at_least(0.0).at_most(1.0)
            for place, share in enumerate(central[power])
        ]
        for power, weighting in enumerate(WEIGHTINGS)
    }


_Terms: TypeAlias = tuple[float, float, float]
"""What one contribution is of each weighting's sum."""


def _terms(repetitions: float, moment: float) -> _Terms:
    linear = repetitions * moment
    return linear, linear * moment, repetitions * moment ** POWERS["tenth_power"]


def _shares(terms: Sequence[_Terms]) -> list[list[float]]:
    """By weighting the part of the whole that each is [1]; all nothing in a week that asks nothing."""
    by_weighting = [[term[power] for term in terms] for power in range(len(POWERS))]
    wholes = [sum(parts) for parts in by_weighting]
    return [
        [part / whole for part in parts] if whole > 0 else [0.0] * len(parts)
        for parts, whole in zip(by_weighting, wholes, strict=True)
    ]


def _moved(week: Sequence[Contribution], terms: Sequence[_Terms], column: _Column, sign: float) -> list[_Terms]:
    moved = list(terms)
    for place, change in column:
        one = week[place]
        moved[place] = _terms(one.repetitions, max(0.0, one.moment + sign * change))
    return moved


class _TwoWeeks:
    """Two weeks side by side: what stands in both is moved once, and only what moves is summed again."""

    def __init__(self, after: Sequence[Contribution], before: Sequence[Contribution]) -> None:
        kept, now = {id(one) for one in after}, {id(one) for one in before}
        self.parts = [*after, *(one for one in before if id(one) not in kept)]
        self.are_one = kept == now
        self._weeks = [(0,) * (id(one) in kept) + (1,) * (id(one) in now) for one in self.parts]
        self._moments = [one.moment for one in self.parts]
        self._terms = [_terms(one.repetitions, one.moment) for one in self.parts]
        self._places = [[place for place, weeks in enumerate(self._weeks) if week in weeks] for week in (0, 1)]
        self._sums = [
            [sum(self._terms[place][power] for place in own) for power in range(len(POWERS))] for own in self._places
        ]

    def ratios(self, column: _Column = (), sign: float = 0.0) -> tuple[float, ...]:
        """The measures of the first week against the second with some moments moved, in the order of MEASURES [1]."""
        sums, moments = [list(own) for own in self._sums], list(self._moments)
        for place, change in column:
            moments[place] = moment = max(0.0, moments[place] + sign * change)
            linear, squared, tenth = _terms(self.parts[place].repetitions, moment)
            was_linear, was_squared, was_tenth = self._terms[place]
            for week in self._weeks[place]:
                own = sums[week]
                own[0] += linear - was_linear
                own[1] += squared - was_squared
                own[2] += tenth - was_tenth
        (new, old), (highest, before) = sums, [max([moments[at] for at in own], default=0.0) for own in self._places]
        powers = [_over(one, base) ** (1.0 / power) for one, base, power in zip(new, old, POWERS.values(), strict=True)]
        return *powers, _over(highest, before)


def _over(one: float, base: float) -> float:
    """A sum over another [1], of which rounding may leave less than nothing; 1 to nothing."""
    return max(0.0, one) / base if base > 0.0 else 1.0


def _columns(week: Sequence[Contribution]) -> list[_Column]:
    """By uncertain input, the contributions that it moves, by their places, with the change of the moment [N·m].

    Inputs of the lifter move all; those of an exercise all lifts that are it in one stance; those of a setup what is
    done in the same way with the same load.
    """
    sharing: dict[Hashable, list[tuple[int, Sequence[float]]]] = {}
    for place, one in enumerate(week):
        changes, variant = one.spread.changes, one.spread.variant
        scopes: tuple[tuple[Hashable, Sequence[float]], ...] = (
            ("lifter", changes.of_lifter),
            (("exercise", variant), changes.of_exercise),
            (("setup", variant, one.moment, changes.of_setup), changes.of_setup),
        )
        for scope, row in scopes:
            sharing.setdefault(scope, []).append((place, row))
    columns = (
        [(place, row[index]) for place, row in rows if index < len(row) and row[index]]
        for rows in sharing.values()
        for index in range(max(len(row) for _, row in rows))
    )
    return [column for column in columns if column]
