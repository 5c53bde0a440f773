"""How much less uncertain results are once an angle of the posture was seen.

The columns of changes are a square root of the covariance of all results. An observation that moves with the inputs by
g, with noise of variance r, leaves C - a (C g) gᵀ of them, with a = (1 - sqrt(r / (r + gᵀg))) / gᵀg: its product with
itself is the covariance of the Kalman update.

Source: JCGM 100:2008; the symmetric square root of a rank-one update is algebra (derived).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from operator import mul

from service.mechanics.seen import SeenAngle
from service.mechanics.uncertainty.intervals import Changes, changes_of


def after_seeing(
    changes: Mapping[str, Changes], readings: Mapping[SeenAngle, tuple[float, float]]
) -> dict[str, Changes]:
    """The changes of all results and angles after some of the angles were seen.

    Args:
        changes: by result and by angle that was seen
        readings: each angle that was seen [rad] with the variance of reading it [rad²], to which its scatter from one
            repetition to the next adds
    """
    narrowed: dict[str, Changes] = dict(changes)
    for name, (_, error) in readings.items():
        seen = narrowed[name]
        noise = seen.repeated + error
        size = sum(one * one for one in (*seen.of_lifter, *seen.of_exercise))
        if size > 0.0:
            factor = (1.0 - sqrt(noise / (noise + size))) / size
            narrowed = {result: _less(one, seen, factor) for result, one in narrowed.items()}
    return narrowed


def _less(changes: Changes, seen: Changes, factor: float) -> Changes:
    common: float = sum(map(mul, changes.of_lifter, seen.of_lifter))
    common += sum(map(mul, changes.of_exercise, seen.of_exercise))
    known = factor * common
    return changes_of(
        tuple(one - known * other for one, other in zip(changes.of_lifter, seen.of_lifter, strict=True)),
        tuple(one - known * other for one, other in zip(changes.of_exercise, seen.of_exercise, strict=True)),
        changes.of_repetition,
        changes.of_setup,
        changes.shift,
    )
