"""The options of a consultation in the order in which to try them, and what was tried besides and why it fell."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from service.adjustment.consultation import Candidate, Case, RuledOut
from service.adjustment.options.ramp import ramp
from service.adjustment.options.ranking import beaten, ranked
from service.adjustment.options.result import Outcome, outcome, surest_first
from service.adjustment.options.search import candidates


class Selection(msgspec.Struct, frozen=True):
    """What the search of a consultation comes to.

    Attributes:
        outcomes: the options to be shown, the first to be tried first
        ranked: options before the list was cut [count]
        ruled_out: what gave no option, or was beaten by one
        considered: prescriptions that were tried [count]
    """

    outcomes: tuple[Outcome, ...]
    ranked: int
    ruled_out: tuple[RuledOut, ...]
    considered: int


def select(case: Case, most: int) -> Selection:
    """Search a case.

    Args:
        case: the consultation
        most: options to be shown [count]

    Returns:
        The options and what fell.
    """
    tried = list(candidates(case))
    possible = [one for one in tried if isinstance(one, Candidate)]
    order = ranked(possible, case)
    outcomes = surest_first([outcome(case, one) for one in order], case)
    return Selection(
        tuple(replace(one, ramp=ramp(case, one.candidate)) for one in outcomes[:most]),
        len(order),
        (*(one for one in tried if isinstance(one, RuledOut)), *beaten(possible, order)),
        len(tried),
    )
