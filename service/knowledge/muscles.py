"""What each exercise trains: the share of a hard set that counts for a muscle (fractional sets).

Direct work counts 1, indirect 0.5 (pelland_2024); 0.25 for work that only steadies is our own mark, and 0 is written
down where a muscle was looked at and does not count. What trains a muscle is not what loads a region: demand is a
ledger of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Final

from msgspec import Meta

from service.knowledge.loader import read_rows, read_tables
from service.knowledge.records import ExerciseId, Known, MuscleId, Record, SourceId


class Muscle(Record, frozen=True):
    """A muscle group.

    Attributes:
        id: stable id
        name: name for people
    """

    id: str
    name: str


class MuscleShare(Record, frozen=True):
    """How much of a set of an exercise counts for a muscle.

    Attributes:
        exercise: the exercise
        muscle: the muscle group
        share: part of a set that counts: 1 direct, 0.5 indirect, 0.25 steadying, 0 looked at and not trained [1]
        sources: where the share is from; our own choice among them where it was carried over or chosen
        known: how far it is known
        note: what was measured, or what to mind in using it
    """

    exercise: ExerciseId
    muscle: MuscleId
    share: Annotated[float, Meta(ge=0, le=1)]
    sources: tuple[SourceId, ...]
    known: Known
    note: str = ""


def _by_exercise() -> dict[str, Mapping[str, MuscleShare]]:
    shares: dict[str, dict[str, MuscleShare]] = {}
    for share in read_rows("exercise_muscles.csv", MuscleShare):
        shares.setdefault(share.exercise, {})[share.muscle] = share
    return {exercise: MappingProxyType(by_muscle) for exercise, by_muscle in shares.items()}


MUSCLES: Final = read_tables("muscles.toml", Muscle)
MUSCLE_SHARES: Final[Mapping[str, Mapping[str, MuscleShare]]] = MappingProxyType(_by_exercise())
"""The share of each muscle that something is known of, by exercise and muscle."""
