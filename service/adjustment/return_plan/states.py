"""Where a way back has come to, what that asks of the sore region, and on which rung of the ladder a step stands."""

from __future__ import annotations

from enum import IntEnum
from typing import NamedTuple

import msgspec

from service.adjustment.return_plan.dose import Dose


class Rung(IntEnum):
    """The return ladder from its foot: what comes first where two ways are equally short."""

    FIRST_LOAD = 0
    RANGE = 1
    LIFT = 2
    LOAD_AGAIN = 3
    TEMPO = 4
    SETS = 5
    REPS = 6
    DAYS = 7
    LAST_LOAD = 8
    LESS = 9


class State(msgspec.Struct, frozen=True, gc=False):
    """What is done at some point of the way back, the load apart.

    Attributes:
        lift: position of the lift on the way [count]
        original_tempo: whether tempo and rest are the original's again
        dose: sets, repetitions and days
    """

    lift: int
    original_tempo: bool
    dose: Dose


class Demands(NamedTuple):
    """What the sore region carries, against the original.

    Attributes:
        peak: of a repetition [1]
        session: summed over a session [1]
        week: summed over a week [1]
    """

    peak: float
    session: float
    week: float


class Limits(NamedTuple):
    """What the sore region may carry after a step.

    Attributes:
        peak: of a repetition, against the original's [1]
        session: that peak times the repetitions of a session [count]
        week: that peak times the repetitions of a week [count]
    """

    peak: float
    session: float
    week: float
