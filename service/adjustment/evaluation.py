"""Whether a trial meets the target and can be done, and what it costs and saves."""

from __future__ import annotations

from typing import Final, Literal

from msgspec.structs import replace

from service.adjustment.arm_effect import is_published_to_ask_more
from service.adjustment.consultation import Assessment, Candidate, Case, Reason, RuledOut, Trial
from service.adjustment.demand import effect_on, effects
from service.adjustment.kept import Change, kept
from service.adjustment.pace import at_pace_of
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.region_effect import Effect
from service.adjustment.stimulus import Stimulus, rest_factor, stimulus
from service.errors import Refusal
from service.intervals import difference
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve, relation_for
from service.training.tempo import phase_seconds, reps_kept, seconds_per_rep
from service.vocabulary import SUMMED, MeetsBy

RATIO_TOLERANCE: Final = 1e-9
"""Of two ratios [1]: what is less than this between them comes from rounding."""
_REPS_TOLERANCE: Final = 1e-6
"""The same of repetitions."""


def share_of(case: Case, trial: Trial) -> float | None:
    """Share of the lift's own maximum that a trial's load is [1]; None where nothing is published.

    Of a lift without a load it is the share that the body is.
    """
    ratio = relative_load(trial.prescription, case.now, case.present.body.mass)
    return None if trial.strength is None or ratio is None else case.present_share * ratio / trial.strength


def expected_reserve(case: Case, trial: Trial, share: float | None) -> float | None:
    """Repetitions expected to be left after the top of the range.

    Below the published range of loads it is what is left at its lower end: with less load there are at least as many.
    A tempo slower than the present one costs the repetitions that slow lifting was measured to cost.

    Args:
        case: the consultation
        trial: what is tried
        share: share of the lift's own maximum that the load is [1], None where nothing is published

    Returns:
        repetitions in reserve [count], None for a load above the maximum
    """
    if share is None:
        return max(case.now.counted_reserve, CHOICES.adjustments.untested_reserve)
    curve = person_curve(case.now.exercise, 0)
    if share > 1:
        return None
    to_failure = curve.reps_at(share) * tempo_factor(case.now, trial.prescription)
    return difference(to_failure, trial.prescription.reps.high)


def tempo_factor(present: Prescription, new: Prescription) -> float:
    """Share of the repetitions to failure that a new tempo leaves [1]; 1 where the tempo stays."""
    if new.tempo is None or new.tempo == present.tempo:
        return 1.0
    slow = reps_kept(seconds_per_rep(phase_seconds(new.tempo)).value)
    if slow is None:
        return 1.0
    before = reps_kept(seconds_per_rep(phase_seconds(present.tempo)).value) if present.tempo else None
    return min(1.0, slow[0].value / (before[0].value if before else 1.0))


def below_published(case: Case, share: float | None) -> bool:
    """Whether a share of the maximum is below those for which repetitions are published.

    Args:
        case: the consultation
        share: of the maximum, None where it is not known [1]
    """
    return share is not None and share < person_curve(case.now.exercise, 0).shares[-1]


def assess(case: Case, trial: Trial, *, summed_over: Literal["session", "week"] | None = None) -> Assessment:
    """The trial as a candidate if it meets the target and can be done, else why not.

    A posture that cannot be had is a reason too.

    Args:
        case: the consultation
        trial: what is tried; days above the most a week are taken down
        summed_over: over what only the sum has to meet the target, None where each repetition has to
    """
    trial = _within_days(case, trial)
    new = trial.prescription
    share = share_of(case, trial)
    left = new.counted_reserve if trial.program or new.hold is not None else expected_reserve(case, trial, share)
    moved = relative_load(new, case.now, case.present.body.mass)
    unfit = _cannot_be_asked(case, new, moved, left)
    if unfit is not None or moved is None or left is None:
        return RuledOut(trial.levers, unfit or "no_load_lifted", new)
    try:
        more = case.present.asks_more_at_rest(new, case.region)
        if more is not None:
            return RuledOut(trial.levers, "above_target", new, {"share": more})
        if case.present.arms is not None and is_published_to_ask_more(case.now, new, case.region):
            return RuledOut(trial.levers, "not_said_to_ask_less", new)
        sore = effect_on(case.present, new, case.region)
    except Refusal as refusal:
        return refused(trial, refusal)
    volume = new.reps_a_session / case.now.reps_a_session
    meets_by = meets_peak(case, sore) if summed_over is None else _sum_meets(case, sore, new, summed_over)
    if meets_by is None:
        return _misses(case, trial, sore)
    by_region = effects(case.present, new)
    trained = at_pace_of(new, case.now)
    loaded = by_region if trained is new else effects(case.present, trained)
    ratio = 1.0 if summed_over and sore.ratio is None else sore.ratio  # with load and lift kept, so is a repetition
    finished = replace(trial, prescription=replace(new, reserve=max(0.0, left)))
    candidate = Candidate(
        finished,
        by_region,
        None if ratio is None else ratio * volume,
        _stimulus(case, finished, share, loaded, moved),
        meets_by,
    )
    return _spared(case, trial, by_region) or candidate


def _stimulus(case: Case, trial: Trial, share: float | None, by_region: dict[str, Effect], moved: float) -> Stimulus:
    """What a trial asks of the muscle, by_region at the present pace.

    share: of the lift's own maximum, moved: of what the present lift moves [1].
    """
    new, now, sore, present_share = trial.prescription, case.now, by_region[case.region], case.present_share
    rested = rest_factor(new, now)
    if sore.searched is not None:
        region_load = sore.searched
    else:  # the load stands for it
        stays = new.exercise == now.exercise or case.region in EXERCISES[new.exercise].regions
        region_load = moved if stays else 0.0
    expected = present_share
    if share is None and new.hold is None:
        expected = person_curve(now.exercise, 0).share_at(new.reps.high + new.counted_reserve)
    change = Change(
        likeness=trial.likeness,
        share=share,
        present_share=present_share,
        expected_share=expected,
        region_load=region_load,
        target=case.target,
        ratio_spread=trial.ratio_spread,
        range_cut=trial.range_cut,
        rested=rested,
    )
    muscle_moment = _muscle_moment(case, by_region)
    return stimulus(new, now, moved, share, rested, muscle_moment, kept(new, now, case.aim, change))


def _spared(case: Case, trial: Trial, by_region: dict[str, Effect]) -> RuledOut | None:
    """Why a trial is no option where a region that is to be spared is asked for more, or nobody knows."""
    for region in sorted(case.spare.intersection(by_region)):
        effect = by_region[region]
        rises = effect.direction == "higher" or (effect.searched or 0.0) > 1 + RATIO_TOLERANCE
        if rises:
            return RuledOut(trial.levers, "raises_spared_region", trial.prescription, {"region": region})
        unknown = effect.direction == "unknown" or effect.searched is None
        if unknown and effect.ratio is None and effect.direction != "lower":
            return RuledOut(trial.levers, "spared_region_unknown", trial.prescription, {"region": region})
    return None


def _cannot_be_asked(case: Case, new: Prescription, moved: float | None, left: float | None) -> Reason | None:
    """Why a prescription is none for this lifter whatever it asks of the region, None where it is one.

    moved: what it moves against the present one [1]; left: repetitions left after the top of its range [count].
    """
    if moved is None:
        return "no_load_lifted"
    if left is None:
        return "above_maximum"
    if left < min(case.now.counted_reserve, CHOICES.adjustments.least_reserve) - _REPS_TOLERANCE:
        return "nearer_to_failure"
    return "more_reps_than_published" if new.reps.high > relation_for(new.exercise).reps[1] else None


def refused(trial: Trial, refusal: Refusal) -> RuledOut:
    """A trial that the mechanics refuses."""
    return RuledOut(trial.levers, "refused", trial.prescription, {"detail": refusal.reason})


def _within_days(case: Case, trial: Trial) -> Trial:
    """The trial on no more days a week than may be trained on, its sessions as they are."""
    days = trial.prescription.days
    if days is None or days <= case.most_days:
        return trial
    fewer = replace(trial.prescription, days=case.most_days)
    return replace(trial, levers=tuple(dict.fromkeys((*trial.levers, "days"))), prescription=fewer)


def _sum_meets(case: Case, sore: Effect, new: Prescription, over: Literal["session", "week"]) -> MeetsBy | None:
    """Whether the sum over a session or a week meets the target with each repetition asking no more than now."""
    ratio = 1.0 if sore.ratio is None else sore.ratio
    if over == "session":
        summed, meets_by = ratio * new.reps_a_session / case.now.reps_a_session, SUMMED[0]
    else:
        summed, meets_by = ratio * new.reps_a_week / case.now.reps_a_week, SUMMED[1]
    return meets_by if ratio <= 1 + RATIO_TOLERANCE and summed <= case.target + RATIO_TOLERANCE else None


def meets_peak(case: Case, sore: Effect) -> MeetsBy | None:
    """How a repetition that asks this of the sore region meets the target; None where it does not.

    Args:
        case: the consultation
        sore: its effect on the sore region
    """
    if sore.ratio is not None:
        if sore.ratio <= case.target + RATIO_TOLERANCE and not sore.unsure:
            return "peak"
        return "posture" if sore.eased and not case.only_sure else None
    met = sore.stand_in is None or sore.stand_in <= case.target + RATIO_TOLERANCE
    return "direction_only" if met and sore.direction == "lower" else None


def _misses(case: Case, trial: Trial, sore: Effect) -> RuledOut:
    if sore.ratio is not None:
        reason: Reason = "above_target" if sore.ratio > case.target + RATIO_TOLERANCE else "arm_relief_not_sure"
        return RuledOut(trial.levers, reason, trial.prescription, {"share": sore.ratio})
    if sore.stand_in is not None and sore.direction == "lower":
        whole = REGIONS[case.region].whole
        return RuledOut(
            trial.levers, "whole_above_target", trial.prescription, {"region": whole, "share": sore.stand_in}
        )
    unknown = sore.direction == "unknown"
    return RuledOut(trial.levers, "demand_unknown" if unknown else "not_said_to_ask_less", trial.prescription)


def _muscle_moment(case: Case, by_region: dict[str, Effect]) -> float | None:
    """Moment asked of hip and knee together, against the present [1]; None where not computed."""
    before = case.present.moments
    if "hip" not in before or by_region["hip"].evidence != "computed" or by_region["knee"].evidence != "computed":
        return None
    parts = [(by_region[joint].ratio, before[joint]) for joint in ("hip", "knee")]
    known = [(ratio, moment) for ratio, moment in parts if ratio is not None]
    total = sum(moment for _, moment in known)
    return sum(ratio * moment for ratio, moment in known) / total if total > 0 else None
