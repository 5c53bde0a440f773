"""How much of the maximum at a level thigh a squat allows at another depth.

Two studies measured it, at three depths in all; what their words for depth mean as a thigh angle is our own choice
(knowledge/depth_strength.toml). Between the depths measured the maximum is taken to change in a straight line.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import radians
from typing import Final

from service.intervals import Interval, around
from service.knowledge.catalogue import PUBLISHED_RATIOS
from service.knowledge.loader import read_whole
from service.knowledge.records import ExerciseId, Known, Record, SourceId

Point = tuple[float, float]
"""Thigh below the horizontal [rad] and the maximum there over the maximum at a level thigh [1]."""


class Reading(Record, frozen=True):
    """How the studies of depth are read, which is our own choice.

    Attributes:
        reference: the depth against which every maximum is stated
        preferred: source of the study whose value is used; the others widen the interval
        exercises: the lifts to which the studies are applied
        source: where the reading is from
        known: how far it is known
        note: the assumptions in it
    """

    reference: str
    preferred: SourceId
    exercises: tuple[ExerciseId, ...]
    source: SourceId
    known: Known
    note: str


class DepthStrength(Record, frozen=True):
    """The whole of depth_strength.toml.

    Attributes:
        thigh_below_horizontal: by the name of a depth in exercise_ratios.csv; negative above [deg]
        reading: how the studies are read
    """

    thigh_below_horizontal: dict[str, float]
    reading: Reading


_DATA: Final = read_whole("depth_strength.toml", DepthStrength)
_THIGH: Final = {name: radians(angle) for name, angle in _DATA.thigh_below_horizontal.items()}
_REFERENCE: Final = _DATA.reading.reference
_PREFERRED: Final = _DATA.reading.preferred
EXERCISES_BY_DEPTH: Final = frozenset(_DATA.reading.exercises)


def _lines() -> dict[str, tuple[Point, ...]]:
    """Each study's points in order of depth, by its source."""
    points: dict[str, list[Point]] = {}
    for row in PUBLISHED_RATIOS:
        ends = (row.from_as_published, row.to_as_published)
        if row.ratio is None or _REFERENCE not in ends or not set(ends) <= _THIGH.keys():
            continue
        other, share = (ends[1], row.ratio) if ends[0] == _REFERENCE else (ends[0], 1 / row.ratio)
        points.setdefault(row.source, [(_THIGH[_REFERENCE], 1.0)]).append((_THIGH[other], share))
    return {source: tuple(sorted(line)) for source, line in points.items()}


LINES: Final = _lines()
MEASURED_UP_TO: Final = -LINES[_PREFERRED][0][0]
"""Thigh above the horizontal at the shallowest depth measured [rad]."""


def strength_at_depth(exercise: str, thigh_below_horizontal: float) -> Interval | None:
    """Maximum at a depth as a ratio of the maximum at a level thigh; the span is the disagreement of the studies.

    exercise: id; thigh_below_horizontal: at the bottom [rad], negative above. Returns the ratio [1], without a span
    where only one study measured, and None for other lifts and outside the depths measured. Cotter 2013 (16 men) and
    Enoki 2023 (26 people, at a parallel squat of 100 kg), back squats both; other squats by assumption.
    """
    if exercise not in EXERCISES_BY_DEPTH:
        return None
    found = {source: _on_line(line, thigh_below_horizontal) for source, line in LINES.items()}
    value = found.pop(_PREFERRED)
    if value is None:
        return None
    return around(value, [other for other in found.values() if other is not None] or [value])


def _on_line(points: Sequence[Point], depth: float) -> float | None:
    """The value at a depth on straight lines between points, None outside them."""
    for (shallow, above), (deep, below) in pairwise(points):
        if shallow <= depth <= deep:
            return above + (below - above) * (depth - shallow) / (deep - shallow)
    return None
