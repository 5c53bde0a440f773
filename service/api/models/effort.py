"""How near the maximum a setup's load is, as the first set tells it: a lift near it is done in another posture."""

from __future__ import annotations

from typing import Protocol

from msgspec.structs import replace

from service.adjustment.maximum import maximum_told
from service.api.models.common import RepRange
from service.api.models.lifter import Lifter
from service.api.models.setup import Technique, technique_of
from service.knowledge.posture_rules import posture_of
from service.mechanics import setups
from service.units import Duration, Mass, si
from service.vocabulary import Implement


class _WithEffort(Protocol):
    @property
    def exercise(self) -> str: ...

    @property
    def load(self) -> Mass: ...

    @property
    def reps(self) -> RepRange | None: ...

    @property
    def reps_in_reserve(self) -> float | None: ...

    @property
    def implement(self) -> Implement | None: ...

    @property
    def hold(self) -> Duration | None: ...

    @property
    def technique(self) -> Technique | None: ...


def maximum_of(setup: _WithEffort) -> setups.Maximum | None:
    """The maximum that the first setup's set tells of, None where it tells of none.

    It holds for every setup of that exercise: what is left in reserve of the others is expected, and no maximum of its
    own, as adjustments has it of the options to a prescription.
    """
    reps = None if setup.reps is None else setup.reps.high
    posture, held = posture_of(setup.exercise, setup.implement), setup.hold is not None
    return maximum_told(setup.exercise, posture, si(setup.load), reps, setup.reps_in_reserve, held=held)


def technique_near(maximum: setups.Maximum | None, setup: _WithEffort, lifter: Lifter | None) -> setups.Technique:
    """The technique in SI, within the lifter's own limits, with the maximum that the first setup tells of."""
    return replace(technique_of(setup.technique, lifter), maximum=maximum)
