"""How near the maximum a setup's load is, as its set tells it: a lift near it is done in another posture."""

from __future__ import annotations

from typing import Protocol

from msgspec.structs import replace

from service.adjustment.maximum import maximum_told
from service.api.models.common import RepRange
from service.api.models.lifter import Lifter
from service.api.models.setup import Technique, technique_of
from service.mechanics import setups
from service.units import Mass, si


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
    def technique(self) -> Technique | None: ...


def technique_at_effort(setup: _WithEffort, lifter: Lifter | None) -> setups.Technique:
    """The technique in SI, within the lifter's own limits, with the maximum that the set tells of."""
    reps = None if setup.reps is None else setup.reps.high
    maximum = maximum_told(setup.exercise, setup.exercise, si(setup.load), reps, setup.reps_in_reserve)
    return replace(technique_of(setup.technique, lifter), maximum=maximum)
