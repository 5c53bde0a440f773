"""Our own choices on what can be loaded, and with how much a lift is started."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Keyed, Part, Steps
from service.knowledge.records import Record


class UntestedStart(Keyed, frozen=True):
    """Share of the intended load that starts a lift without a published ratio, by what became of the lift.

    Attributes:
        computed: what both lifts ask of the sore region is computed; of the load that meets the target [1]
        range_of_motion: another range of motion [1]
        variation: a variation [1]
        equipment: other equipment [1]
        exercise: another exercise [1]
    """

    computed: Part
    range_of_motion: Part
    variation: Part
    equipment: Part
    exercise: Part


class LoadSteps(Keyed, frozen=True):
    """Smallest step of a load in each unit.

    Attributes:
        kg: in kilograms [kg]
        lb: in pounds [lb]
    """

    kg: Steps
    lb: Steps


class StepsByImplement(Record, frozen=True):
    """Smallest step of a load by what is lifted, where it is another than the usual one.

    Attributes:
        kettlebell: from kettlebell to kettlebell
    """

    kettlebell: LoadSteps


class UsualHeaviest(Keyed, frozen=True):
    """Heaviest piece that a rack usually has.

    Attributes:
        dumbbells: one of a pair [kg]
        one_dumbbell: a dumbbell [kg]
        kettlebell: a kettlebell [kg]
    """

    dumbbells: Annotated[float, Meta(gt=0, le=200)]
    one_dumbbell: Annotated[float, Meta(gt=0, le=200)]
    kettlebell: Annotated[float, Meta(gt=0, le=200)]
