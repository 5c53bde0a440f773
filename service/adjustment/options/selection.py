"""The options of a consultation in the order in which to try them, and what was tried besides and why it fell."""

from __future__ import annotations

from collections import Counter
from typing import Final

import msgspec

from service.adjustment.consultation import Candidate, Case, RuledOut
from service.adjustment.options.foremost import with_the_foremost
from service.adjustment.options.plain import with_the_plain_lift
from service.adjustment.options.ranking import beaten, by_session, preference, ranked
from service.adjustment.options.result import Outcome, surest_first
from service.adjustment.options.search import candidates
from service.adjustment.options.sides import on_the_sore_side, with_a_one_sided_lift

_DOSE: Final = frozenset({"load", "reps", "sets", "tempo", "rest", "days"})
_OTHER_LIFT: Final = frozenset({"exercise", "variation", "equipment"})


class Selection(msgspec.Struct, frozen=True):
    """What the search of a consultation comes to.

    Attributes:
        outcomes: the options to be shown, the first to be tried first
        ranked: options before the list was cut [count]
        ruled_out: what gave no option, or was beaten by one
        considered: prescriptions that were tried [count]
        less_load: the present lift with less load and nothing else, shown or not; None where none meets the target
    """

    outcomes: tuple[Outcome, ...]
    ranked: int
    ruled_out: tuple[RuledOut, ...]
    considered: int
    less_load: Outcome | None


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
    outcomes = [Outcome(case, on_the_sore_side(case, one)) for one in order]
    wanted = most if case.sore_side is None else len(order)  # a one-sided lift may be shown from further back
    outcomes = varied(surest_first(outcomes, wanted), case)
    outcomes = with_the_foremost(with_the_plain_lift(outcomes, case, most), case)
    outcomes = with_a_one_sided_lift(outcomes, case, most)
    return Selection(
        tuple(outcomes[:most]),
        len(order),
        (*(one for one in tried if isinstance(one, RuledOut)), *beaten(possible, order)),
        len(tried),
        _with_less_load_alone(possible, case),
    )


def _with_less_load_alone(possible: list[Candidate], case: Case) -> Outcome | None:
    own = (one for one in possible if one.prescription.exercise == case.now.exercise and one.trial.program is None)
    less = next((one for one in own if one.levers == ("load",)), None)
    return None if less is None else Outcome(case, on_the_sore_side(case, less))


def varied(outcomes: list[Outcome], case: Case) -> list[Outcome]:
    """Ranked outcomes with each kind of change once before any comes twice, so that there is a choice.

    The first stays the first, and what comes last for its faults, its session, because it unloads or because the
    complaint as it is told speaks against it stays there.
    """
    times = Counter[object]()

    def place(one: Outcome) -> tuple[object, ...]:
        unloads, faults, _, session_grows = one.rank_group
        meets_by = one.candidate.meets_by
        last = session_grows or meets_by == "week_exposure" or (meets_by == "session_exposure" and not by_session(case))
        kind = _kind_of_change(one.candidate, case)
        times[kind] += 1
        return unloads, faults, last, preference(one.candidate, case) < 0, times[kind]

    return sorted(outcomes, key=place)


def _kind_of_change(candidate: Candidate, case: Case) -> object:
    """The dose of the present lift, another lift, the lift otherwise done, or a program of its own."""
    if candidate.trial.program is not None:
        return candidate.trial.program
    if candidate.prescription.exercise != case.now.exercise:
        return _OTHER_LIFT
    return frozenset(candidate.levers) - _DOSE
