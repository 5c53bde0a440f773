"""Our own choices on how much of the training effect is kept."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.intervals import Interval
from service.knowledge.choice_kinds import Keyed, Part
from service.knowledge.records import Record


class Specificity(Keyed, frozen=True):
    """Share of the training effect taken to carry over, by what became of the lift.

    Attributes:
        same: the same lift [1]
        technique: another technique [1]
        range_of_motion: another range of motion [1]
        variation: a variation [1]
        equipment: other equipment [1]
        exercise: another exercise [1]
    """

    same: Part
    technique: Part
    range_of_motion: Part
    variation: Part
    equipment: Part
    exercise: Part


class Fading(Interval, frozen=True, forbid_unknown_fields=True):
    """Repetitions in reserve, beyond those of a hard set, over which a training effect fades to nothing.

    Attributes:
        value: usual number [count]
        low: fewest [count]
        high: most [count]
    """

    value: Annotated[float, Meta(gt=0, le=60)]
    low: Annotated[float, Meta(gt=0, le=60)]
    high: Annotated[float, Meta(gt=0, le=60)]


class EffectFades(Record, frozen=True):
    """Over how many repetitions in reserve each training effect fades.

    Attributes:
        muscle_size: size
        strength: strength
    """

    muscle_size: Fading
    strength: Fading


class Loss(Interval, frozen=True, forbid_unknown_fields=True):
    """Part of the effect on a muscle that is lost for each part of the range that is cut.

    Attributes:
        value: usual part [1]
        low: least [1]
        high: most [1]
    """

    value: Annotated[float, Meta(ge=0, le=3)]
    low: Annotated[float, Meta(ge=0, le=3)]
    high: Annotated[float, Meta(ge=0, le=3)]


class RangeLoss(Record, frozen=True):
    """What a cut range costs, by muscle.

    Attributes:
        quads: the quadriceps
        other: any other muscle
    """

    quads: Loss
    other: Loss
