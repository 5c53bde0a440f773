"""Another variation, implement or exercise, started by the stated rule.

A new lift starts at the published ratio less its spread, or times a margin where none is published, or at half of what
would be intended where no ratio is; never above the present load.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

import msgspec

from service.adjustment.consultation import Case, Reason, RuledOut, Trial
from service.adjustment.prescription import Prescription, body_moved, lifts_the_body, total_load
from service.knowledge.catalogue import EXERCISES, STANCES, Ratio
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import SUBSTITUTES, SubstitutionLever, ratio_between
from service.mechanics.setups import Technique
from service.mechanics.weight_distribution import matching_load

SUBSTITUTION_LEVERS: Final[tuple[SubstitutionLever, ...]] = get_args(SubstitutionLever)


class Start(msgspec.Struct, frozen=True):
    """Where a new lift starts.

    Attributes:
        load: of a lift of one's own body what is added to the body, negative for assistance [kg]
        strength: maximum in it against the present lift's [1], None where no ratio is published
        ratio: published ratio of the two lifts
    """

    load: float
    strength: float | None
    ratio: Ratio | None


def other_lifts(case: Case) -> Iterator[Trial | RuledOut]:
    """The lifts that may stand in for the present one, each at its start load, or why it cannot be started."""
    for substitute in SUBSTITUTES.get(case.now.exercise, ()):
        if substitute.lever in case.levers and substitute.exercise in case.exercises:
            yield _started(case, substitute.exercise, substitute.lever)


def _started(case: Case, exercise: str, lever: SubstitutionLever) -> Trial | RuledOut:
    if lifts_the_body(exercise) and ratio_between(case.now.exercise, exercise) is None:
        return RuledOut((lever,), "lifts_the_body_without_ratio", facts={"exercise": exercise})
    if total_load(case.now, case.present.body.mass) == 0:
        return _without_load(case, exercise, lever)
    start = _start(case, exercise)
    if isinstance(start, str):
        return RuledOut((lever,), start, facts={"exercise": exercise})
    load = case.round_down(exercise, start.load, case.implements.get(exercise))
    if load is None:
        return RuledOut((lever,), "start_load_below_implement", facts={"exercise": exercise, "load": start.load})
    return Trial(
        (lever,),
        _substituted(case, exercise, load),
        start.strength,
        lever,
        untested=start.ratio is None,
        sources=start.ratio.sources if start.ratio else (),
    )


def _without_load(case: Case, exercise: str, lever: SubstitutionLever) -> Trial | RuledOut:
    """Instead of a lift of the body alone another one of the body alone: its load is known, its effort is not.

    Where the load is held makes no other lift of one without a load, so only what is done with the body alone counts.
    """
    if not EXERCISES[exercise].unloaded:
        return RuledOut((lever,), "no_load_to_form_one_from", facts={"exercise": exercise})
    return Trial((lever,), _substituted(case, exercise, 0.0), None, lever, untested=True)


def _substituted(case: Case, exercise: str, load: float) -> Prescription:
    """Another exercise instead of the present one, done in its usual way with a load [kg]."""
    return msgspec.structs.replace(
        case.now,
        exercise=exercise,
        load=load,
        depth=None,
        technique=_limits(case.now.technique),
        cues=(),
        implement=case.implements.get(exercise),
    )


def _start(case: Case, exercise: str) -> Start | Reason:
    mass = case.present.body.mass
    load = total_load(case.now, mass)
    ratio = ratio_between(case.now.exercise, exercise)
    if ratio is not None:
        factor = ratio.ratio - ratio.sd if ratio.sd else ratio.ratio * CHOICES.adjustments.first_exposure_margin
        return Start(min(load, load * factor) - body_moved(exercise, mass), ratio.ratio, ratio)
    before, after = _lead_share(case.now.exercise), _lead_share(exercise)
    if EXERCISES[exercise].family == "split" and before and after:
        intended = min(load, matching_load(after, before, load, mass))
        if intended <= 0:
            return "body_mass_exceeds_lead_share"
        return Start(intended * CHOICES.adjustments.untested_share, None, None)
    if EXERCISES[exercise].isolation:
        return "single_joint_without_ratio"
    arms = 0.5 if EXERCISES[exercise].one_arm and not EXERCISES[case.now.exercise].one_arm else 1.0
    return Start(load * arms * CHOICES.adjustments.untested_share, None, None)


def _lead_share(exercise: str) -> float | None:
    """What the lead leg carries of body and load [1]; None where no share is published for how the lift is stood in."""
    stance = STANCES.get(EXERCISES[exercise].stance)
    return None if stance is None else stance.value


def _limits(technique: Technique | None) -> Technique | None:
    """The lifter's own limits, which hold in every lift; the rest of a technique belongs to the present one."""
    if technique is None:
        return None
    return Technique(ankle_dorsiflexion=technique.ankle_dorsiflexion, hip_flexion=technique.hip_flexion)
