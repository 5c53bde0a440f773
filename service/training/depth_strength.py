"""Maximum of a squat at another depth as a ratio of the maximum at a level thigh.

Two studies measured it, at three depths in all; the thigh angles that their words for depth stand for are our own
choice (depth_strength.toml). Between the measured depths the maximum is interpolated linearly.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import radians
from typing import Final, NamedTuple

from service.intervals import Interval, around
from service.knowledge.catalogue import PUBLISHED_RATIOS
from service.knowledge.loader import read_whole
from service.knowledge.records import ExerciseId, Known, Record, SourceId


class StrengthPoint(NamedTuple):
    """The maximum at one depth.

    Attributes:
        depth: thigh below the horizontal [rad]
        ratio: maximum over the maximum at a level thigh [1]
    """

    depth: float
    ratio: float


class DepthReading(Record, frozen=True):
    """Our reading of the studies.

    Attributes:
        reference: name of the depth to which every maximum is related
        preferred: study whose value is used; the others widen the interval
        exercises: lifts to which the ratio is applied
        source: id in the bibliography
        known: how far the reading is known
        note: reasons
    """

    reference: str
    preferred: SourceId
    exercises: tuple[ExerciseId, ...]
    source: SourceId
    known: Known
    note: str


class DepthStrengthFile(Record, frozen=True):
    """The file depth_strength.toml.

    Attributes:
        thigh_below_horizontal: thigh below the horizontal by the name of the depth in exercise_ratios.csv [deg]
        reading: how the studies are read
    """

    thigh_below_horizontal: dict[str, float]
    reading: DepthReading


_FILE: Final = read_whole("depth_strength.toml", DepthStrengthFile)
_THIGH: Final = {name: radians(angle) for name, angle in _FILE.thigh_below_horizontal.items()}
EXERCISES_BY_DEPTH: Final = frozenset(_FILE.reading.exercises)


def _lines() -> dict[str, tuple[StrengthPoint, ...]]:
    """Each study's points in order of depth, by its source."""
    reference = _FILE.reading.reference
    points: dict[str, list[StrengthPoint]] = {}
    for row in PUBLISHED_RATIOS:
        ends = (row.from_as_published, row.to_as_published)
        if row.ratio is None or reference not in ends or not set(ends) <= _THIGH.keys():
            continue
        other, share = (ends[1], row.ratio) if ends[0] == reference else (ends[0], 1 / row.ratio)
        level = StrengthPoint(_THIGH[reference], 1.0)
        points.setdefault(row.source, [level]).append(StrengthPoint(_THIGH[other], share))
    return {source: tuple(sorted(line)) for source, line in points.items()}


LINES: Final = _lines()
MEASURED_UP_TO: Final = -LINES[_FILE.reading.preferred][0].depth
"""Thigh above the horizontal at the shallowest measured depth [rad]."""


def strength_at_depth(exercise: str, thigh_below_horizontal: float) -> Interval | None:
    """Maximum at a depth as a ratio of the maximum at a level thigh.

    Args:
        exercise: id
        thigh_below_horizontal: thigh below the horizontal at the bottom, negative above it [rad]

    Returns:
        ratio [1], whose interval is the disagreement of the studies and has no width where only one study measured;
        None for other lifts and outside the measured depths

    Source: Cotter 2013 (16 men) and Enoki 2023 (26 people, at a parallel squat of 100 kg), back squats both; other
    squats by assumption.
    """
    if exercise not in EXERCISES_BY_DEPTH:
        return None
    by_study = {source: _on_line(line, thigh_below_horizontal) for source, line in LINES.items()}
    value = by_study.pop(_FILE.reading.preferred)
    if value is None:
        return None
    return around(value, [other for other in by_study.values() if other is not None] or [value])


def _on_line(points: Sequence[StrengthPoint], depth: float) -> float | None:
    """The ratio at a depth [rad], interpolated between points; None outside them."""
    for left, right in pairwise(points):
        if left.depth <= depth <= right.depth:
            return left.ratio + (right.ratio - left.ratio) * (depth - left.depth) / (right.depth - left.depth)
    return None
