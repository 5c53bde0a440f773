"""Rest between sets: the repetitions kept over the sets, one rest against another, and the load drop that keeps them.

There is no published formula. Results at the nearest shorter and the nearest longer rest bracket the answer:
repetitions set by set (rbme_2007, motriz_2013), totals at one rest against another (willardson_burkett_2005) and
the cut in load a set that just holds the repetitions (willardson_2012, ijspp_2013). All sets were taken to failure.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from functools import cache
from operator import itemgetter
from typing import Final

from service.errors import Refusal, into
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.training.rest_studies import BY_SET, DROPS, LONGEST, SHORTEST, TOTALS, DropResult, SetsResult, TotalsResult

_CHOICE: Final = CHOICES.rest
MOST_SETS: Final = _CHOICE.most_sets
_RESTS: Final = sorted({rest for result in TOTALS for rest, _ in result.points})  # [s], at which totals were measured
SETS_MEASURED: Final = max(len(result.low) for result in BY_SET)


def _reaching(rest: float) -> tuple[list[SetsResult], list[SetsResult]]:
    """Results from the nearest rest not longer than a rest [s] on, and those up to the nearest one not shorter.

    More rest never costs repetitions: the least that was kept after more rest is possible here, and so is the most that
    was kept after less. Where studies disagree the span grows so, instead of turning with the rest.
    """
    shorter = max((result.rest for result in BY_SET if result.rest <= rest), default=SHORTEST)
    longer = min((result.rest for result in BY_SET if result.rest >= rest), default=LONGEST)
    return [r for r in BY_SET if r.rest >= shorter], [r for r in BY_SET if r.rest <= longer]


def _at_set(result: SetsResult, number: int) -> tuple[float, float]:
    """Lowest and highest fraction in a set; one beyond those measured loses between nothing and as much as the last."""
    beyond = max(0, number - len(result.low))
    last = min(number, len(result.low)) - 1
    if not beyond:
        return result.low[last], result.high[last]
    return result.low[last] * (result.low[last] / result.low[last - 1]) ** beyond, result.high[last]


def set_fractions(rest: float, sets: int) -> tuple[tuple[Interval, ...], tuple[SetsResult, ...]] | None:
    """Fraction of the first set's repetitions that each set keeps, all sets to failure, with the results behind it.

    The interval reaches from the least that was kept at the nearest shorter rest or any longer one to the most at the
    nearest longer rest or any shorter one, and up to 1 where no longer one was measured; so neither end nor the value
    falls with more rest.

    Args:
        rest: rest between the sets [s]
        sets: sets, the first included [count]

    Returns:
        fraction kept by each set [1], with the results at the nearest rests and those that set an end; None outside
        the measured rests (SHORTEST to LONGEST) and above MOST_SETS

    Source: each result's own; sets beyond the third by our own rule.
    """
    if not SHORTEST <= rest <= LONGEST or not 1 <= sets <= MOST_SETS:
        return None
    from_here, up_to_here = _reaching(rest)
    near = {from_here[0].rest, up_to_here[-1].rest}
    used = {result for result in BY_SET if result.rest in near}
    spans = []
    for number in range(1, sets + 1):
        least = min(from_here, key=lambda result: (_at_set(result, number)[0], result.rest not in near))
        most = max(up_to_here, key=lambda result: (_at_set(result, number)[1], result.rest in near))
        used |= {least, most}
        low, high = _at_set(least, number)[0], _at_set(most, number)[1]
        if rest > BY_SET[-1].rest:
            high = 1.0
        spans.append(Interval((low + high) / 2, low, high))
    return tuple(spans), tuple(result for result in BY_SET if result in used)


def reps_kept(rest_seconds: float, sets: int) -> Interval | None:
    """Repetitions of all sets as a fraction of sets × the first set's, at one rest between them and all to failure.

    1 means that every set is as long as the first. With repetitions in reserve less is lost, so this is a lower bound
    there.

    Args:
        rest_seconds: rest between the sets [s]
        sets: sets, the first included [count]

    Returns:
        fraction kept with the interval between the measured group means that bracket it [1]; None as set_fractions

    Source: rbme_2007 (60 and 180 s), motriz_2013 (120 s); sets beyond the third by our own rule.
    """
    by_set = set_fractions(rest_seconds, sets)
    return None if by_set is None else mean_of(by_set[0])


def mean_of(fractions: Sequence[Interval]) -> Interval:
    """Mean over the sets of the fractions that they keep.

    Args:
        fractions: fraction kept by each set [1]

    Returns:
        mean fraction [1]
    """
    count = len(fractions)
    return Interval(
        sum(span.value for span in fractions) / count,
        sum(span.low for span in fractions) / count,
        sum(span.high for span in fractions) / count,
    )


def in_reserve(fraction: Interval) -> Interval:
    """Fraction kept by sets that end short of failure: between the loss of sets to failure and none.

    Args:
        fraction: fraction kept by sets to failure [1]

    Returns:
        fraction kept [1]
    """
    return Interval((fraction.low + 1) / 2, fraction.low, 1.0)


def check_sets(rest: float, failure: float) -> None:
    """Check a rest and the first set against the range of the studies.

    Args:
        rest: rest between the sets [s]
        failure: repetitions to failure of the first set [count]

    Raises:
        Refusal: where either is outside the range
    """
    if not SHORTEST <= rest <= LONGEST:
        raise Refusal.one(
            "rest",
            f"Repetitions over the sets were measured for rests of {SHORTEST:g} to {LONGEST:g} s only.",
            f"{SHORTEST:g} to {LONGEST:g} s",
            change=into(rest, SHORTEST, LONGEST),
        )
    fewest, most = _CHOICE.reps_to_failure
    if not fewest <= failure <= most:
        raise Refusal.one(
            "reps",
            f"The studies had first sets of {fewest:g} to {most:g} repetitions to failure, not of {failure:g}.",
            f"{fewest:g} to {most:g} repetitions to failure, those in reserve included",
            change=into(failure, fewest, most),
        )


def total_against(rest: float, other: float, exercise: str | None) -> tuple[Interval, tuple[TotalsResult, ...]]:
    """Repetitions of all sets at a rest as a ratio of those at another, with the results behind it.

    Each study is bracketed between its own rests; the interval is over the studies of the lift, or over all where the
    lift was not measured. More rest never counts as fewer repetitions.

    Args:
        rest: rest between the sets [s]
        other: rest to compare with [s]
        exercise: id; None for any lift

    Returns:
        ratio of the totals [1]

    Source: each result's own.
    """
    short, long = sorted((rest, other))
    (low, high), used = _total_ratio(_step(short), _step(long), exercise)
    if short == long:
        low = high = 1.0
    elif rest < other:
        low, high = 1 / high, 1 / low
    return Interval((low + high) / 2, low, high), used


def _step(rest: float) -> int:
    """Position of a rest [s] among those at which totals were measured: on one of them (even) or between two (odd)."""
    return 2 * bisect_left(_RESTS, rest) - (rest not in _RESTS)


@cache
def _total_ratio(short: int, long: int, exercise: str | None) -> tuple[tuple[float, float], tuple[TotalsResult, ...]]:
    """Lowest and highest ratio of the total at the longer of two steps of rest to that at the shorter.

    Not every study spans every pair of rests, so the interval of those that do could turn with the rest. Results over
    rests further apart bound the lowest ratio, and results over rests between these two the highest.
    """
    steps = range(2 * len(_RESTS) - 1)
    around = [_ratios(first, last, exercise) for first in steps[: short + 1] for last in steps[long:]]
    within = [_ratios(first, last, exercise) for first in steps[short : long + 1] for last in steps[first : long + 1]]
    low, lowest = min(((low, result) for pairs in around for low, _, result in pairs), key=itemgetter(0))
    high, highest = max(((high, result) for pairs in within for _, high, result in pairs), key=itemgetter(0))
    spanning = [result for *_, result in _ratios(short, long, exercise)]
    return (low, high), tuple(dict.fromkeys((*spanning, lowest, highest)))


def _ratios(short: int, long: int, exercise: str | None) -> list[tuple[float, float, TotalsResult]]:
    """Lowest and highest ratio of the totals at two steps of rest, in each study that spans them.

    Of the lift where it was measured there, else of every lift.
    """
    first, last = _RESTS[short // 2], _RESTS[-(-long // 2)]
    spanning = [result for result in TOTALS if result.points[0][0] <= first and last <= result.points[-1][0]]
    ratios = []
    for result in [one for one in spanning if exercise in one.exercises] or spanning:
        (short_low, short_high), (long_low, long_high) = _total(result, short), _total(result, long)
        ratios.append((max(1.0, long_low / short_high), long_high / short_low, result))
    return ratios


def _total(result: TotalsResult, step: int) -> tuple[float, float]:
    """Totals at the nearest shorter and the nearest longer rest that a study measured."""
    shorter, longer = _RESTS[step // 2], _RESTS[-(-step // 2)]
    return (
        max(total for rest, total in result.points if rest <= shorter),
        min(total for rest, total in result.points if rest >= longer),
    )


def load_drop(
    rest: float, failure: float, exercise: str | None, *, to_failure: bool
) -> tuple[Interval, tuple[DropResult, ...]] | None:
    """Cut in load from each set to the next that keeps the repetitions, with the results behind it.

    Measured at one rest only; a longer one, or sets that end short of failure, need less, so the interval then begins
    at none.

    Args:
        rest: rest between the sets [s]
        failure: repetitions to failure of the first set [count]
        exercise: id; None for any lift
        to_failure: whether the sets end in failure

    Returns:
        cut as a fraction of the load [1]; None where the first set's repetitions are not near those measured

    Source: willardson_2012, ijspp_2013.
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
    """Loads of the sets when each is lighter than the one before it.

    Args:
        load: load of the first set [kg]
        drop: cut as a fraction of the load [1]
        sets: sets, the first included [count]

    Returns:
        load of each set [kg]
    """
    return tuple(
        Interval(load * (1 - drop.value) ** done, load * (1 - drop.high) ** done, load * (1 - drop.low) ** done)
        for done in range(sets)
    )
