"""The search: single levers, then pairs, each with its option or the reason why there is none.

A trial that misses the target is tried once more with less load, the one lever that always bears on it, and one that
meets it and asks more of a region to be spared with some load off; one that eases a shoulder's posture alone is tried
with less load besides where it hurts so. Two changes of
the lift itself are paired where a coach would pair them: a substitute with less depth or another technique, and another
technique with less depth. What leaves more repetitions in reserve than now is tried with more of them as well, and
above the configured pain the lift otherwise done comes with some load off. In the red tier of pain only what
options/strict.py leaves is a candidate.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain
from typing import Final

from msgspec.structs import replace

from service.adjustment.arm import REGIONS_OF_ARM
from service.adjustment.consultation import Assessment, Candidate, Case, RuledOut, Trial
from service.adjustment.evaluation import assess, refused
from service.adjustment.levers.arm import less_range, other_techniques
from service.adjustment.levers.effort import with_more_effort
from service.adjustment.levers.implement import other_implements
from service.adjustment.levers.lean import more_upright
from service.adjustment.levers.load import lighter, with_less_load, with_some_load_off
from service.adjustment.levers.range_of_motion import moderately_shallower, shallower
from service.adjustment.levers.substitution import SUBSTITUTION_LEVERS, other_lifts
from service.adjustment.levers.technique import cued, own_techniques, techniques, without_bounce
from service.adjustment.levers.tempo import slower
from service.adjustment.levers.tendon import tendon_programs
from service.adjustment.levers.volume import smaller_sessions
from service.adjustment.options.strict import familiar, why_not
from service.adjustment.prescription import Prescription
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES

_OTHERWISE_DONE: Final = frozenset({"technique", "range_of_motion"})


def candidates(case: Case) -> Iterator[Assessment]:
    """Every candidate of every lever and pair of levers allowed, and the reasons where one gives none."""
    for assessment in _changes(case):
        if not isinstance(assessment, Candidate):
            yield assessment
            continue
        fallen = why_not(case, assessment) if case.only_sure else None
        yield fallen or assessment
        if fallen is None and not case.only_sure:
            yield from with_more_effort(case, assessment)


def _changes(case: Case) -> Iterator[Assessment]:
    lifts, held = list(familiar(case, other_lifts(case))), familiar(case, other_implements(case))
    pairs = _pairs(case, [trial for trial in lifts if isinstance(trial, Trial)])
    if case.excluded:
        for lever in sorted(case.levers - set(SUBSTITUTION_LEVERS)):
            yield RuledOut((lever,), "present_lift_excluded")
        yield from _assessed(case, chain(held, lifts, pairs))
        return
    if "load" in case.levers:
        yield from lighter(case)
    if "tempo" in case.levers:
        yield from slower(case)
    yield from smaller_sessions(case)
    yield from _assessed(case, chain(_own_lift(case), held, lifts, pairs))
    if case.aim == "tendon":
        yield from tendon_programs(case)


def _own_lift(case: Case) -> Iterator[Trial | RuledOut]:
    """The present lift with less range of motion, each other technique, or a cue."""
    if case.now.posture is not None:
        if "range_of_motion" in case.levers:
            yield shallower(case, Trial((), case.now))
        if "technique" in case.levers:
            yield from own_techniques(case)
    if "range_of_motion" in case.levers:
        yield from less_range(case)
    if "technique" in case.levers:
        yield from other_techniques(case)
        yield from more_upright(case)
        yield from without_bounce(case)
    yield from cued(case)


def _pairs(case: Case, lifts: list[Trial]) -> Iterator[Trial | RuledOut]:
    """Pairs of changes of the lift itself; those with less load come of themselves."""
    computed = [trial for trial in lifts if trial.prescription.posture is not None]
    own = [Trial((), case.now)] if case.now.posture is not None and not case.excluded else []
    for trial in (*own, *computed):
        changed = [] if "technique" not in case.levers else _techniques(case, trial)
        if trial.levers:
            yield from changed
        if "range_of_motion" not in case.levers or "range_of_motion" in trial.levers:
            continue
        if trial.levers:
            yield _shallower(case, trial)
            continue
        yield from (_shallower(case, one) for one in changed if isinstance(one, Trial))
        moderate = moderately_shallower(case, trial)
        if moderate is not None:
            yield moderate


def _techniques(case: Case, trial: Trial) -> list[Trial | RuledOut]:
    """The trial with each change of technique, or why the lift cannot be had as it is."""
    try:
        return list(techniques(case, trial))
    except Refusal as refusal:
        return [refused(replace(trial, levers=(*trial.levers, "technique")), refusal)]


def _shallower(case: Case, trial: Trial) -> Trial | RuledOut:
    """The trial with less range of motion, or why the lift cannot be had as it is."""
    try:
        return shallower(case, trial)
    except Refusal as refusal:
        return refused(replace(trial, levers=(*trial.levers, "range_of_motion")), refusal)


def _assessed(case: Case, trials: Iterable[Trial | RuledOut]) -> Iterator[Assessment]:
    """Each trial as it is, and with less load where it misses the target; what comes up twice is tried once."""
    seen: set[Prescription] = set()
    for trial in trials:
        if isinstance(trial, RuledOut):
            yield trial
        elif trial.prescription not in seen:
            seen.add(trial.prescription)
            assessment = _with_less_load_if_needed(case, trial)
            yield assessment
            if isinstance(assessment, Candidate) and assessment.meets_by == "posture":
                yield from _surely_lighter(case, assessment.trial)


def _surely_lighter(case: Case, trial: Trial) -> Iterator[Assessment]:
    """What eases a posture that hurts, as it is told, with so much less load that it surely asks less as well."""
    if all(rule.weighs(trial.levers) <= 0 for rule in case.rules):
        return
    lighter_trial = with_less_load(case, trial)
    if lighter_trial is not None:
        yield assess(case, lighter_trial)


def _with_less_load_if_needed(case: Case, trial: Trial) -> Assessment:
    try:
        assessment = assess(case, trial)
        if isinstance(assessment, RuledOut) and len(trial.levers) == 1 and not _no_better_lighter(case, assessment):
            spared = assessment.reason == "raises_spared_region"
            lighter_trial = (with_some_load_off if spared else with_less_load)(case, trial)
            assessment = assess(case, lighter_trial) if lighter_trial else assessment
        elif isinstance(assessment, Candidate) and _wants_load_off(case, trial):
            lighter_trial = with_some_load_off(case, trial)
            assessment = assess(case, lighter_trial) if lighter_trial else assessment
    except Refusal as refusal:
        assessment = refused(trial, refusal)
    return assessment


def _no_better_lighter(case: Case, fallen: RuledOut) -> bool:
    """Whether less load is not tried: where more is said to be asked, and of the present press or pull otherwise done.

    To that less load is as much as to the lift as it is.
    """
    arms, new = case.present.arms, fallen.prescription
    if arms is None or new is None or case.region not in REGIONS_OF_ARM:
        return False
    same = new.exercise == case.now.exercise and arms.setup(case.now) is not None
    return same or fallen.reason == "not_said_to_ask_less"


def _wants_load_off(case: Case, trial: Trial) -> bool:
    """Whether the lift is otherwise done, with its load as it is, at a pain at which some load goes too."""
    sore = case.pain is not None and case.pain > CHOICES.adjustments.load_off_above
    return sore and not _OTHERWISE_DONE.isdisjoint(trial.levers) and trial.prescription.exercise == case.now.exercise
