"""Another variation, implement or exercise, started by the stated rule.

A new lift starts at the published ratio less its spread, or times a margin where none is published. Where no ratio is,
it starts at a share of the load that meets the target in it if that is computed, else of the present load, by how near
the lifts are; on one leg alone always at a small share. Never above the present load.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

import msgspec

from service.adjustment.consultation import Case, Reason, RuledOut, Trial
from service.adjustment.levers.load import load_for_target
from service.adjustment.prescription import Prescription, body_moved, lifts_the_body, total_load
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, STANCES, Ratio
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
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
        intended: the load that would stand for the present one [kg], None where nothing says so
    """

    load: float
    strength: float | None = None
    ratio: Ratio | None = None
    intended: float | None = None


def other_lifts(case: Case) -> Iterator[Trial | RuledOut]:
    """The lifts that may stand in for the present one, each at its start load, or why it cannot be started."""
    for substitute in SUBSTITUTES.get(case.now.exercise, ()):
        if substitute.lever in case.levers and substitute.exercise in case.exercises:
            yield _started(case, substitute.exercise, substitute.lever)


def _started(case: Case, exercise: str, lever: SubstitutionLever) -> Trial | RuledOut:
    if lifts_the_body(exercise) and ratio_between(case.now.exercise, exercise) is None:
        return _with_the_body(case, exercise, lever)
    if total_load(case.now, case.present.body.mass) == 0:
        return _without_load(case, exercise, lever)
    start = _start(case, exercise, lever)
    if isinstance(start, str):
        return RuledOut((lever,), start, facts={"exercise": exercise})
    new = _loaded(case, exercise, start.load)
    if new is None:
        return RuledOut((lever,), "start_load_below_implement", facts={"exercise": exercise, "load": start.load})
    return Trial(
        (lever,),
        new,
        start.strength,
        lever,
        untested=start.ratio is None,
        intended=start.intended,
        ratio_spread=_spread(start.ratio),
        sources=start.ratio.sources if start.ratio else (),
    )


def _with_the_body(case: Case, exercise: str, lever: SubstitutionLever) -> Trial | RuledOut:
    """A lift of one's own body without a published ratio, where what moves of the body is known to be light enough.

    Nothing is added and nobody helps: what the body weighs is not above the load that should be tolerated.
    """
    mass, known = case.present.body.mass, EXERCISES[exercise].body_share is not None
    if not known or body_moved(exercise, mass) > case.target * total_load(case.now, mass) or case.lightest > 0:
        return RuledOut((lever,), "lifts_the_body_without_ratio", facts={"exercise": exercise})
    return Trial((lever,), _substituted(case, exercise, 0.0), None, lever, untested=True, intended=0.0)


def _loaded(case: Case, exercise: str, wanted: float) -> Prescription | None:
    """Another exercise with the heaviest load not above a load [kg]; None where nothing is so light.

    What is too light for what it is usually done with is done with what is lifted now, where that may be. Nothing on
    the implement is no load for a lift that moves the load alone.
    """
    held = case.now.held
    for implement in dict.fromkeys((case.implements.get(exercise), held)):
        if implement is None or implement in EXERCISES[exercise].implements:
            load = case.round_down(exercise, wanted, implement)
            if load is not None and (load != 0 or lifts_the_body(exercise)):
                return msgspec.structs.replace(_substituted(case, exercise, load), implement=implement)
    return None


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


def _start(case: Case, exercise: str, lever: SubstitutionLever) -> Start | Reason:
    load = total_load(case.now, case.present.body.mass)
    if _on_one_leg(exercise) and not _on_one_leg(case.now.exercise):
        return _one_leg_start(case, exercise, load)
    ratio = ratio_between(case.now.exercise, exercise)
    if ratio is None:
        return _untested_start(case, exercise, lever, load)
    factor = ratio.ratio - ratio.sd if ratio.sd else ratio.ratio * CHOICES.adjustments.first_exposure_margin
    return Start(min(load, load * factor) - body_moved(exercise, case.present.body.mass), ratio.ratio, ratio)


def _one_leg_start(case: Case, exercise: str, load: float) -> Start:
    """Where a lift on one leg alone starts, with room left for a ramp; load: what is lifted now on two [kg]."""
    shares = CHOICES.adjustments
    intended = load * shares.one_leg_most
    heaviest = case.round_down(exercise, intended, case.implements.get(exercise)) or intended
    return Start(min(load * shares.one_leg_start, heaviest * shares.untested_start.exercise), intended=intended)


def _untested_start(case: Case, exercise: str, lever: SubstitutionLever, load: float) -> Start | Reason:
    """Where a lift without a published ratio starts; load: what is lifted now [kg]."""
    before, after = _lead_share(case.now.exercise), _lead_share(exercise)
    new, shares = EXERCISES[exercise], CHOICES.adjustments.untested_start
    if new.family == "split" and before and after:
        intended = min(load, matching_load(after, before, load, case.present.body.mass))
        if intended <= 0:
            return "body_mass_exceeds_lead_share"
        return Start(intended * shares["exercise"], intended=intended)
    if new.isolation:
        return "single_joint_without_ratio"
    intended = load * (0.5 if new.one_arm and not EXERCISES[case.now.exercise].one_arm else 1.0)
    if exercise not in EXERCISE_RULES or case.region not in case.present.comparable & case.present.moments.keys():
        return Start(intended * shares[lever], intended=intended)
    tolerated, now = _tolerated(case, exercise, intended), _tolerated(case, case.now.exercise, load)
    if tolerated is None or (now is not None and tolerated < now and not case.excluded):
        return "asks_more_for_its_load"
    return Start(tolerated * shares["computed"], intended=intended)


def _on_one_leg(exercise: str) -> bool:
    return EXERCISES[exercise].stance == "single_leg"


def _tolerated(case: Case, exercise: str, load: float) -> float | None:
    """The load, not above a load [kg], with which a lift meets the target; None where none does."""
    new = case.now if exercise == case.now.exercise else _substituted(case, exercise, load)
    try:
        return load_for_target(case, new)
    except Refusal:
        return None


def _spread(ratio: Ratio | None) -> float:
    """Spread of a ratio between people, over the ratio [1]; as configured where none is published."""
    if ratio is None or ratio.sd is None:
        return CHOICES.adjustments.ratio_spread
    return ratio.sd / ratio.ratio


def _lead_share(exercise: str) -> float | None:
    """What the lead leg carries of body and load [1]; None where no share is published for how the lift is stood in."""
    stance = STANCES.get(EXERCISES[exercise].stance)
    return None if stance is None else stance.value


def _limits(technique: Technique | None) -> Technique | None:
    """The lifter's own limits, which hold in every lift; the rest of a technique belongs to the present one."""
    if technique is None:
        return None
    return Technique(ankle_dorsiflexion=technique.ankle_dorsiflexion, hip_flexion=technique.hip_flexion)
