"""Where a way back has come to, what that asks of the sore region, and on which rung of the ladder a step stands."""

from __future__ import annotations

from enum import IntEnum
from typing import NamedTuple

import msgspec

from service.adjustment.return_plan.dose import Dose


class Rung(IntEnum):
    """The return ladder from its foot: what comes first where two ways are equally short."""

    LESS = 0
    HOLD = 1
    FIRST_LOAD = 2
    RANGE = 3
    LIFT = 4
    LOAD_AGAIN = 5
    TECHNIQUE = 6
    CUES = 7
    TEMPO = 8
    SETS = 9
    REPS = 10
    DAYS = 11
    LAST_LOAD = 12


class Form(NamedTuple):
    """How the lift is done, as positions on the ways from the adjusted to the original form.

    Attributes:
        original: whether the exercise is the original's
        depth: position of its depth [count]
        technique: position of its technique [count]
        cues: position of its cues [count]
        hold: position of the length of its holds [count]
        kit: position of implement and side [count]
    """

    original: bool
    depth: int = 0
    technique: int = 0
    cues: int = 0
    hold: int = 0
    kit: int = 0


class State(msgspec.Struct, frozen=True, gc=False):
    """What is done at some point of the way back, the load apart.

    Attributes:
        form: how the lift is done
        original_tempo: whether tempo and rest are the original's again
        dose: sets, repetitions and days
    """

    form: Form
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


class Move(msgspec.Struct, frozen=True, gc=False):
    """One step that may follow a state.

    Attributes:
        state: what is done after it
        load: load that is used then [kg]
        rung: of the ladder
        rise: rise of the sore region's demand [1], or of that of the week where it is too much and more; None where
            before and after have no common scale
        over_step: whether that is more than the step, for want of a smaller change
    """

    state: State
    load: float
    rung: Rung
    rise: float | None
    over_step: bool = False
