"""What the lifts of a week ask of a region together, under three weightings of which none is known to be the right one.

The moment of a repetition counts as it is, squared, or by its tenth power: linear and squared sums are what cumulated
loads at work were compared by (coenen_2014), and the tenth power is how single cycles wore specimens of spines
(coenen_2012). The heavier the weighting, the more the heaviest lift decides; which lift leads may turn with it, so all
three stand beside each other and none is the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from typing import Final

from msgspec import Struct

from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.propagation import Variant
from service.vocabulary import Weighting

POWERS: Final[dict[Weighting, int]] = {"linear": 1, "squared": 2, "tenth_power": 10}
"""The power of the moment of a repetition that each weighting counts [1]."""


class Spread(Struct, frozen=True, dict=True, eq=False):
    """What is not known of a moment, worked out where it is asked for.

    Attributes:
        work_out: gives its changes with the uncertain inputs, and what two lifts have to have in common to share what
            is the exercise's own
    """

    work_out: Callable[[], tuple[Changes, Variant]]

    @cached_property
    def _known(self) -> tuple[Changes, Variant]:
        return self.work_out()

    @property
    def changes(self) -> Changes:
        """Of the moment with the uncertain inputs."""
        return self._known[0]

    @property
    def variant(self) -> Variant:
        """What two lifts have to have in common to share what is the exercise's own."""
        return self._known[1]


class Contribution(Struct, frozen=True):
    """What one lift on one day asks of a region.

    Attributes:
        day: of the week, 1 to 7 [days]
        repetitions: of the day, in the middle of their range; a hold counts as one [count]
        moment: peak of a repetition, nothing where only muscles of the other side are asked [N·m]
        spread: what is not known of it
    """

    day: int
    repetitions: float
    moment: float
    spread: Spread


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
