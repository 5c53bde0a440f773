"""Rest between sets: the repetitions kept over the sets, one rest against another, and the load drop that keeps them.

There is no published formula. What was measured at the nearest shorter and the nearest longer rest brackets what is
asked: repetitions set by set (rbme_2007, motriz_2013), totals at one rest against another (willardson_burkett_2005) and
the cut in load a set that just holds the repetitions (willardson_2012, ijspp_2013). All sets were taken to failure.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.refusals import Refusal
from service.training.rest_results import BY_SET, DROPS, LONGEST, SHORTEST, TOTALS, DropResult, SetsResult, TotalsResult

_CHOICE: Final = CHOICES.rest
MOST_SETS: Final = _CHOICE.most_sets
SETS_MEASURED: Final = max(len(result.low) for result in BY_SET)


def _nearest(rest: float) -> tuple[list[SetsResult], list[SetsResult]]:
    """Results at the nearest rest not longer, and at the nearest not shorter, than a rest [s]."""
    shorter = [result for result in BY_SET if result.rest <= rest]
    longer = [result for result in BY_SET if result.rest >= rest]
    return (
        [result for result in shorter if result.rest == shorter[-1].rest] if shorter else [],
        [result for result in longer if result.rest == longer[0].rest] if longer else [],
    )


def _at_set(result: SetsResult, number: int) -> tuple[float, float]:
    """Lowest and highest fraction in a set; one beyond those measured loses between nothing and as much as the last."""
    beyond = max(0, number - len(result.low))
    last = min(number, len(result.low)) - 1
    if not beyond:
        return result.low[last], result.high[last]
    return result.low[last] * (result.low[last] / result.low[last - 1]) ** beyond, result.high[last]


def set_fractions(rest: float, sets: int) -> tuple[tuple[Interval, ...], tuple[SetsResult, ...]] | None:
    """Fraction of the first set's repetitions that each set keeps at a rest [s], all sets to failure.

    The span holds everything measured at the nearest shorter and the nearest longer rest, reaching up to 1 where no
    longer one was measured; the results used come with it. None outside the rests measured (SHORTEST to LONGEST) and
    above MOST_SETS.
    """
    if not SHORTEST <= rest <= LONGEST or not 1 <= sets <= MOST_SETS:
        return None
    shorter, longer = _nearest(rest)
    spans = []
    for number in range(1, sets + 1):
        ends = [_at_set(result, number) for result in (*shorter, *longer)]
        low, high = min(low for low, _ in ends), max(high for _, high in ends) if longer else 1.0
        spans.append(Interval((low + high) / 2, low, high))
    return tuple(spans), tuple(dict.fromkeys((*shorter, *longer)))


def reps_kept(rest_seconds: float, sets: int) -> Interval | None:
    """Repetitions of all sets as a fraction of sets × the first set's, at one rest between them and all to failure.

    1 means that every set is as long as the first. With repetitions in reserve less is lost, so this is a lower bound
    there.

    Args:
        rest_seconds: rest between the sets [s]
        sets: how many sets, the first included

    Returns:
        the fraction [1] with the span between the measured group means that bracket it; None outside the rests
        measured and for more sets than measured results reach.

    Source: rbme_2007 (60 and 180 s), motriz_2013 (120 s); sets beyond the third by our own rule.

    """
    found = set_fractions(rest_seconds, sets)
    return None if found is None else mean_of(found[0])


def mean_of(fractions: Sequence[Interval]) -> Interval:
    """Mean over the sets of the fractions that they keep."""
    count = len(fractions)
    return Interval(
        sum(span.value for span in fractions) / count,
        sum(span.low for span in fractions) / count,
        sum(span.high for span in fractions) / count,
    )


def in_reserve(fraction: Interval) -> Interval:
    """The fraction kept by sets that end short of failure: between the loss of sets to failure and none."""
    return Interval((fraction.low + 1) / 2, fraction.low, 1.0)


def check_sets(rest: float, failure: float) -> None:
    """Raises Refusal for a rest [s] or repetitions to failure of the first set [count] outside what was measured."""
    if not SHORTEST <= rest <= LONGEST:
        raise Refusal.one(
            "rest",
            f"Repetitions over the sets were measured for rests of {SHORTEST:g} to {LONGEST:g} s only.",
            f"{SHORTEST:g} to {LONGEST:g} s",
        )
    fewest, most = _CHOICE.reps_to_failure
    if not fewest <= failure <= most:
        raise Refusal.one(
            "reps",
            f"The studies had first sets of {fewest:g} to {most:g} repetitions to failure, not of {failure:g}.",
            f"{fewest:g} to {most:g} repetitions to failure, those in reserve included",
        )


def total_against(rest: float, other: float, exercise: str | None) -> tuple[Interval, tuple[TotalsResult, ...]]:
    """Repetitions of all sets at a rest [s] as a ratio of those at another [s], with the results it rests on.

    Each study is bracketed between its own rests; the span is over the studies of the lift, or over all where the lift
    was not measured. More rest never counts as fewer repetitions.
    """
    short, long = sorted((rest, other))
    spanning = [result for result in TOTALS if result.points[0][0] <= short and long <= result.points[-1][0]]
    used = [result for result in spanning if exercise in result.exercises] or spanning
    if short == long:
        return Interval(1, 1, 1), tuple(used)
    spans = [_ratio(result, short, long) for result in used]
    low, high = min(low for low, _ in spans), max(high for _, high in spans)
    if rest < other:
        low, high = 1 / high, 1 / low
    return Interval((low + high) / 2, low, high), tuple(used)


def _ratio(result: TotalsResult, short: float, long: float) -> tuple[float, float]:
    """Lowest and highest ratio of the total at the longer rest to that at the shorter one [s]."""
    (short_low, short_high), (long_low, long_high) = _total(result, short), _total(result, long)
    return max(1.0, long_low / short_high), long_high / short_low


def _total(result: TotalsResult, rest: float) -> tuple[float, float]:
    """Totals at the nearest shorter and the nearest longer rest that a study measured."""
    for (shorter, low), (longer, high) in pairwise(result.points):
        if shorter <= rest <= longer:
            return (low, low) if rest == shorter else (high, high) if rest == longer else (low, high)
    raise Refusal.one("rest", f"No total was measured in {result.name} at this rest.")


def load_drop(
    rest: float, failure: float, exercise: str | None, *, to_failure: bool
) -> tuple[Interval, tuple[DropResult, ...]] | None:
    """The cut in load from each set to the next that keeps the repetitions, as a fraction, with the results behind it.

    Measured at one rest only; a longer one, or sets that end short of failure, need less, so the span then begins at
    none. None where the first set's repetitions to failure [count] are not near those measured (willardson_2012: 10).
    """
    fewest, most = _CHOICE.drop_reps_to_failure
    if not fewest <= failure <= most:
        return None
    used = [result for result in DROPS if exercise in result.exercises] or list(DROPS)
    low, high = min(result.low for result in used), max(result.high for result in used)
    if not to_failure or rest > max(result.rest for result in used):
        low = 0.0
    return Interval((low + high) / 2, low, high), tuple(used)


def loads_by_set(load: float, drop: Interval, sets: int) -> tuple[Interval, ...]:
    """Loads [kg] of the sets when each is lighter than the one before it by the fraction `drop`."""
    return tuple(
        Interval(load * (1 - drop.value) ** done, load * (1 - drop.high) ** done, load * (1 - drop.low) ** done)
        for done in range(sets)
    )
