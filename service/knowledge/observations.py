"""What was measured about lifts and between them: findings by region, and strength ratios with their spread.

The only basis of lifts that no model covers; beside a model's numbers they stand as what was measured.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.knowledge.catalogue import RATIOS, Ratio
from service.knowledge.loader import read_rows
from service.knowledge.records import ExerciseId, Known, Record, SourceId


class Finding(Record, frozen=True):
    """One published finding about one exercise or between several.

    Attributes:
        lift_as_published: the lift in the words of the source
        condition: what was compared, and with what
        region: part of the body
        measure: quantity that was measured
        value: its figure, or a direction in words
        unit: unit of the figure
        source: where it is from
        known: how far it is known
        exercises: exercises of the catalogue that it is about
        note: what to mind in using it
    """

    lift_as_published: str
    condition: str
    region: str
    measure: str
    value: str
    unit: str
    source: SourceId
    known: Known
    exercises: tuple[ExerciseId, ...] = msgspec.field(default=(), name="exercise")
    note: str = ""


FINDINGS: Final = read_rows("lift_observations.csv", Finding)


def findings(exercise: str, reference: str) -> list[Finding]:
    """Findings about an exercise; against another reference only those that speak of both, where there are any.

    Args:
        exercise: id of the exercise
        reference: id of the exercise that it is compared with, or the same
    """
    about = [finding for finding in FINDINGS if exercise in finding.exercises]
    both = [finding for finding in about if reference in finding.exercises]
    return both if exercise != reference and both else about


def published_ratio(reference: str, exercise: str) -> Ratio | None:
    """What a lifter manages in an exercise as a share of the reference, as published, in either direction.

    Args:
        reference: id of the exercise that the share is of
        exercise: id of the exercise that is compared with it

    Returns:
        maximum in the exercise over that in the reference [1], None where no ratio is published
    """
    direct = RATIOS.get((reference, exercise))
    if direct or (exercise, reference) not in RATIOS:
        return direct
    inverse = RATIOS[exercise, reference]
    return Ratio(1 / inverse.ratio, None, inverse.source, inverse.known)
