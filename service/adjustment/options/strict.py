"""What is left of the options in the red tier of pain: the present lift with load off, where the relief is sure.

Familiar is the lift itself, with less load and, beside it, less of its range, of its sets or repetitions: nothing of it
is raised, and no slower tempo, other technique or program is learnt while it hurts so much. Whether a lifter knows
another lift or implement nobody has said, so none counts as familiar but the body alone. Sure is relief whose interval
stays under the configured share of the present. Where none is computed, less load of the same lift, done as now or so
that it asks less still, relieves at least as if the whole body were lifted along with it (statics: its weight is taken
to have no longer an arm than the load); of shoulder, elbow and wrist in a press or pull as if the arms were held in the
hands. All of it is our own choice, on the side of caution.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from service.adjustment.compared import compared_demand
from service.adjustment.consultation import Candidate, Case, RuledOut, Trial
from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.prescription import Prescription, relative_load, total_load
from service.adjustment.region_effect import UPPER_LIMB
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Lever

_LIMIT: Final = CHOICES.adjustments.amber_up_to
_SURE: Final = CHOICES.adjustments.sure_below
_OFF: Final = CHOICES.adjustments.red_load_off
_ONLY_LESS: Final[frozenset[Lever]] = frozenset({"load", "reps", "sets", "days", "range_of_motion", "equipment"})


def familiar(case: Case, trials: Iterable[Trial | RuledOut]) -> Iterator[Trial | RuledOut]:
    """The trials, where only what is sure will do without those of another lift or implement; the body is known."""
    for trial in trials:
        if not case.only_sure or isinstance(trial, RuledOut) or _is_known(case, trial.prescription):
            yield trial
            continue
        new = trial.prescription
        yield RuledOut(trial.levers, "unfamiliar_at_this_pain", new, {"limit": _LIMIT, "exercise": new.exercise})


def _is_known(case: Case, new: Prescription) -> bool:
    return new.exercise == case.now.exercise and new.implement in (case.now.implement, "body_weight")


def why_not(case: Case, candidate: Candidate) -> RuledOut | None:
    """Why a candidate of the present lift is none at this pain, None where it is one."""
    trial, new = candidate.trial, candidate.prescription
    if not _ONLY_LESS.issuperset(trial.levers) or _raises(case.now, new):
        return RuledOut(trial.levers, "more_than_less_at_this_pain", new, {"limit": _LIMIT})
    moved = relative_load(new, case.now, case.present.body.mass)
    if moved is None or moved > 1 - _OFF + RATIO_TOLERANCE:
        return RuledOut(trial.levers, "full_load_at_this_pain", new, {"limit": _LIMIT, "least": _OFF})
    most = most_carried(case, candidate) if candidate.meets_by != "session_exposure" else None
    if most is None:
        return RuledOut(trial.levers, "relief_of_unknown_size", new, {"limit": _LIMIT})
    if most < _SURE:
        return None
    return RuledOut(trial.levers, "relief_not_sure", new, {"limit": _LIMIT, "most": most, "below": _SURE})


def _raises(now: Prescription, new: Prescription) -> bool:
    """Whether repetitions, sets, days or the length of a hold are more than now."""
    amounts = ((one.reps.low, one.reps.high, one.sets, one.days or 0, one.hold or 0.0) for one in (now, new))
    return any(after > before for before, after in zip(*amounts, strict=True))


def most_carried(case: Case, candidate: Candidate) -> float | None:
    """Upper end of what the sore region carries against the present [1], None where none is known.

    Args:
        case: the consultation
        candidate: less load of the present lift
    """
    new, body = candidate.prescription, case.present.body
    if case.region in UPPER_LIMB and candidate.effects[case.region].evidence == "computed":
        return (total_load(new, body.mass) + body.arms_mass) / (total_load(case.now, body.mass) + body.arms_mass)
    compared = compared_demand(case.present, new)
    if case.region in compared.on_average:
        return compared.on_average[case.region].high
    lighter = new.exercise == case.now.exercise and new.held == case.now.held
    return (new.load + body.mass) / (case.now.load + body.mass) if lighter else None
