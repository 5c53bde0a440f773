"""What goes with less load: repetitions that bring effort back, and where they are too many, fewer sets with them.

They come back to the present reserve, or to that of an untested load where it is more: a set is hard enough with it.
The demand summed over a session stays within the configured share of the present; an easy set is what is left where
that forbids more repetitions.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, exp, floor
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Candidate, Case
from service.adjustment.evaluation import assess
from service.adjustment.prescription import relative_load
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve
from service.training.volume import Reps
from service.vocabulary import Lever

_FEWEST_SETS: Final = 2
"""One set is never made of two for the sake of effort."""
_MOST_LEVERS: Final = 2
"""With more than so many changes none is added."""
_REPS_TOLERANCE: Final = 1e-6
"""Of two numbers of repetitions: what is less than this between them comes from rounding."""


def with_more_effort(case: Case, candidate: Candidate) -> Iterator[Assessment]:
    """The candidate with more repetitions, and with still more in fewer sets where its sets stay easy."""
    trial = candidate.trial
    if "reps" not in case.levers or "reps" in trial.levers or trial.untested or trial.program is not None:
        return
    new = candidate.prescription
    swung = EXERCISES[new.exercise].carry == "swung"  # fast, and no matter of effort
    if new.hold is not None or swung or len(trial.levers) > _MOST_LEVERS:
        return
    if candidate.prescription.load == 0 < case.now.load:  # of the body alone no curve of loads knows the repetitions
        return
    least = max(case.now.counted_reserve, CHOICES.adjustments.untested_reserve)
    known = exp(person_curve(new.exercise, 0).log_reps[-1]) - least  # beyond it nothing is published of the lift
    most = floor(min(known, _most_reps(case))) - new.reps.high
    wanted = min(most, floor(candidate.stimulus.reserve - least + _REPS_TOLERANCE))
    if wanted < 1:
        return
    sets = candidate.prescription.sets
    more = min(wanted, _allowed(case, candidate, sets))
    if more > 0:
        yield _with(case, candidate, more, sets)
    if "sets" not in case.levers or "sets" in trial.levers or not _easy(case, candidate, more):
        return
    for fewer in range(sets - 1, max(_FEWEST_SETS, ceil(sets / 2)) - 1, -1):
        more = min(wanted, _allowed(case, candidate, fewer))
        if more > 0 and not _easy(case, candidate, more):
            yield _with(case, candidate, more, fewer)
            return


def easy_by_exposure(case: Case, candidate: Candidate) -> bool:
    """Whether sets are left easy because with a repetition more a session would ask too much of the sore region."""
    if "reps" not in case.levers or candidate.prescription.hold is not None or candidate.trial.program is not None:
        return False
    return not _hard(case, candidate, 0) and _allowed(case, candidate, candidate.prescription.sets) < 1


def _most_reps(case: Case) -> float:
    """Most repetitions to which a set may grow [count]: so many more than now, and no set of another kind."""
    now = case.now.reps.high
    return max(now, min(CHOICES.adjustments.reps_may_grow_to * now, CHOICES.adjustments.reps_may_grow_up_to))


def _allowed(case: Case, candidate: Candidate, sets: int) -> int:
    """By how many repetitions a set may grow [count] for the session's demand to stay within its share."""
    new, now = candidate.prescription, case.now
    ratio = candidate.effects[case.region].searched
    if ratio is None:
        ratio = relative_load(new, now, case.present.body.mass) or 1.0
    middle = (new.reps.low + new.reps.high) / 2
    return floor(
        case.most_exposure * now.reps_a_session / (max(ratio, _REPS_TOLERANCE) * sets) - middle + _REPS_TOLERANCE
    )


def _hard(case: Case, candidate: Candidate, more: int) -> bool:
    """Whether a set with so many more repetitions is a hard one, or as hard as now."""
    hard = max(CHOICES.effort.hard_set_reserve, case.now.counted_reserve)
    return candidate.stimulus.reserve - max(more, 0) <= hard + _REPS_TOLERANCE


def _easy(case: Case, candidate: Candidate, more: int) -> bool:
    """Whether a set with so many more repetitions is still left so easy that nobody wants it first."""
    most = max(CHOICES.adjustments.most_reserve, case.now.counted_reserve)
    return candidate.stimulus.reserve - max(more, 0) > most + _REPS_TOLERANCE


def _with(case: Case, candidate: Candidate, more: int, sets: int) -> Assessment:
    trial, new = candidate.trial, candidate.trial.prescription
    also: tuple[Lever, ...] = ("reps",) if sets == new.sets else ("reps", "sets")
    reps = Reps(new.reps.low + more, new.reps.high + more)
    changed = replace(new, reps=reps, sets=sets, reserve=case.now.reserve)
    return assess(case, replace(trial, levers=(*trial.levers, *also), prescription=changed))
