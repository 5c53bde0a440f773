"""Tempo: the trade's four figures as seconds, time under tension, and the repetitions lost to slow repetitions.

Order of the figures: lowering, bottom, lifting, top; X is as fast as possible (notation read in wilk_2018). There is no
published formula for the repetitions lost: the measured fractions on either side of a tempo bracket it.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.knowledge.studies import TEMPO

_CHOICES: Final = CHOICES.tempo
AS_FAST_AS_POSSIBLE: Final = _CHOICES.as_fast_as_possible
PHASES: Final = ("lowering", "bottom", "lifting", "top")


class SlowResult(msgspec.Struct, frozen=True):
    """One measured result at a pace slower than the lifters' own.

    Attributes:
        exercise: as published
        seconds: length of a repetition [s]
        fraction: fraction of the repetitions at the lifters' own pace that were done [1]
        source: id in the bibliography
    """

    exercise: str
    seconds: float
    fraction: float
    source: str


def _measured() -> tuple[SlowResult, ...]:
    results = (
        SlowResult(row.exercise, row.slow_seconds_per_rep, row.fraction_kept, row.source)
        for row in TEMPO
        if row.slow_seconds_per_rep
    )
    return tuple(sorted(results, key=lambda result: result.seconds))


def phase_seconds(text: str) -> tuple[Interval, ...]:
    """The four phases of a tempo such as "3-1-X-1", which the text is known to be.

    Returns:
        lowering, bottom, lifting and top [s]
    """
    return tuple(
        AS_FAST_AS_POSSIBLE if part == "X" else Interval(float(part), float(part), float(part))
        for part in text.split("-")
    )


def seconds_per_rep(phases: tuple[Interval, ...]) -> Interval:
    """Length of one repetition.

    Args:
        phases: lowering, bottom, lifting and top [s]

    Returns:
        sum of the phases [s]
    """
    return Interval(sum(p.value for p in phases), sum(p.low for p in phases), sum(p.high for p in phases))


def reps_kept(seconds: float) -> tuple[Interval, tuple[SlowResult, ...]] | None:
    """Fraction of the repetitions at a lifter's own pace that are kept at another, with the results that bracket it.

    Between the slowest results at or below the pace and the fastest at or above it.

    Args:
        seconds: length of a repetition [s]

    Returns:
        fraction kept [1], up to 1 where nothing faster was measured; None for repetitions longer than those to which
        results are applied

    Source: each result's own.
    """
    if seconds > _CHOICES.convert_up_to:
        return None
    faster = [r for r in MEASURED if r.seconds <= seconds]
    slower = [r for r in MEASURED if r.seconds >= seconds]
    below = [r for r in faster if r.seconds == faster[-1].seconds] if faster else []
    above = [r for r in slower if r.seconds == slower[0].seconds] if slower else []
    high = max((r.fraction for r in below), default=1.0)
    low = min((r.fraction for r in above), default=min(r.fraction for r in MEASURED))
    low, high = min(low, high), max(low, high)
    used = tuple(dict.fromkeys(below + above))
    return Interval((low + high) / 2, low, high), used


MEASURED: Final = _measured()
