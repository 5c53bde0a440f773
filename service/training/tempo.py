"""Tempo: the trade's four figures as seconds, time under tension, and what slow repetitions were measured to cost.

Order of the figures: lowering, bottom, lifting, top; X is as fast as possible (notation read in wilk_2018). There is no
published formula for the repetitions lost: the measured fractions kept on either side of the asked tempo bracket it.
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
    """One measured result: the fraction of a lifter's own-pace repetitions kept at a slower pace [s a repetition]."""

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
    """The four phases of a tempo such as "3-1-X-1" [s]; the text is already known to have that form."""
    return tuple(
        AS_FAST_AS_POSSIBLE if part == "X" else Interval(float(part), float(part), float(part))
        for part in text.split("-")
    )


def seconds_per_rep(phases: tuple[Interval, ...]) -> Interval:
    """Length of one repetition [s]."""
    return Interval(sum(p.value for p in phases), sum(p.low for p in phases), sum(p.high for p in phases))


def reps_kept(seconds: float) -> tuple[Interval, tuple[SlowResult, ...]] | None:
    """Fraction of own-pace repetitions kept at a pace [s a repetition], with the results that bracket it.

    Between the slowest results at or below the pace and the fastest at or above it; 1 where nothing slower was
    measured. None above the pace to which results are converted at all.
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
