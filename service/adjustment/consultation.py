"""A consultation as the search sees it, and what the search finds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import msgspec

from service.adjustment.demand import Effect, Present, effect_on, effects
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.stimulus import Stimulus, stimulus
from service.errors import Refusal
from service.intervals import difference
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve
from service.training.tempo import phase_seconds, reps_kept, seconds_per_rep
from service.vocabulary import Aim, Lever, Likeness, MeetsBy, Program, Region

CHOICE: Final = CHOICES.adjustments
MET: Final = 1e-9
_SAME_EFFORT: Final = 1e-6


class Case(msgspec.Struct, frozen=True):
    """The consultation: present prescription and its demand, region, target ratio, aim, and what is allowed.

    levers, exercises: that may be used; most_days: a week; lightest: no option is lighter [kg]; round_down: the
    heaviest load that the exercise's implement can hold, not above a load [kg], or None; excluded: whether the present
    lift may not be kept.
    """

    present: Present
    region: Region
    target: float
    aim: Aim
    levers: frozenset[Lever]
    exercises: frozenset[str]
    most_days: int
    lightest: float
    round_down: Callable[[str, float], float | None]
    excluded: bool = False

    @property
    def now(self) -> Prescription:
        """The present prescription."""
        return self.present.prescription

    @property
    def present_share(self) -> float:
        """Share of the maximum that the present load is, by the general curve [1]."""
        return person_curve(self.now.exercise, 0).share_at(self.now.reps.high + self.now.reserve)


class Trial(msgspec.Struct, frozen=True):
    """A prescription on its way to being a candidate.

    strength: maximum in the lift as it would be done, against the present lift's [1], None where not published;
    likeness: of the lift as it would be done to the present one; untested: its load is a start to be tested;
    program: a program of its own (heavy_slow, isometric), else None; sources: of what was used to form it.
    """

    levers: tuple[Lever, ...]
    prescription: Prescription
    strength: float | None = 1.0
    likeness: Likeness = "same"
    untested: bool = False
    program: Program | None = None
    sources: tuple[str, ...] = ()


class Candidate(msgspec.Struct, frozen=True):
    """One adjusted prescription with what it costs and saves.

    effects: peak of a repetition by region, against the present; exposure: the sore region's demand summed over a
    session, against the present, None where no number is known; meets_by: what meets the target.
    """

    trial: Trial
    effects: dict[str, Effect]
    exposure: float | None
    stimulus: Stimulus
    meets_by: MeetsBy

    @property
    def prescription(self) -> Prescription:
        """What would be done."""
        return self.trial.prescription

    @property
    def levers(self) -> tuple[Lever, ...]:
        """What would be changed."""
        return self.trial.levers


class RuledOut(msgspec.Struct, frozen=True):
    """What was tried and gave no option, and why; prescription: what was tried, None where it came to none."""

    levers: tuple[Lever, ...]
    reason: str
    prescription: Prescription | None = None


Found = Candidate | RuledOut


def share_of(case: Case, trial: Trial) -> float | None:
    """Share of the lift's own maximum that a trial's load is [1]; None where nothing is published.

    Of a lift without a load it is the share that the body is.
    """
    ratio = relative_load(trial.prescription, case.now, case.present.body.mass)
    return None if trial.strength is None or ratio is None else case.present_share * ratio / trial.strength


def expected_reserve(case: Case, trial: Trial, share: float | None) -> float | None:
    """Repetitions expected to be left after the top of the range; None for more than the maximum.

    Below the published range of loads it is what is left at its lower end: with less load there are at least as many.
    A tempo slower than the present one costs the repetitions that slow lifting was measured to cost.
    """
    if share is None:
        return max(case.now.reserve, CHOICE.untested_reserve)
    curve = person_curve(case.now.exercise, 0)
    if share > 1:
        return None
    to_failure = curve.reps_at(max(share, curve.shares[-1])) * tempo_factor(case.now, trial.prescription)
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
    """Whether a share of the maximum [1] is below those for which repetitions are published."""
    return share is not None and share < person_curve(case.now.exercise, 0).shares[-1]


def assess(case: Case, trial: Trial, *, by_exposure: bool = False) -> Found:
    """The trial as a candidate if it meets the target and can be done, else why not.

    by_exposure: only the session's sum is asked to meet the target. A posture that cannot be had is a reason too.
    """
    trial = _within_days(case, trial)
    new = trial.prescription
    share = share_of(case, trial)
    left = new.reserve if trial.program or new.hold is not None else expected_reserve(case, trial, share)
    moved = relative_load(new, case.now, case.present.body.mass)
    if moved is None:
        return RuledOut(trial.levers, "No load is lifted now to which a load could be in proportion.", new)
    if left is None:
        return RuledOut(trial.levers, "The load would be more than the expected maximum.", new)
    if left < min(case.now.reserve, CHOICE.least_reserve) - _SAME_EFFORT:
        return RuledOut(trial.levers, "The repetitions would go nearer to failure than now.", new)
    try:
        sore = effect_on(case.present, new, case.region)
    except Refusal as refusal:
        return RuledOut(trial.levers, refusal.faults[0].detail, new)
    volume = new.reps_a_session / case.now.reps_a_session
    ratio = 1.0 if by_exposure and sore.ratio is None else sore.ratio  # with load and lift kept, so is a repetition
    exposure = None if ratio is None else ratio * volume
    meets_by = _met(case, sore, volume, by_exposure=by_exposure)
    if meets_by is None:
        return RuledOut(trial.levers, _unmet(sore), new)
    finished = msgspec.structs.replace(trial, prescription=msgspec.structs.replace(new, reserve=max(0.0, left)))
    shares = (share, case.present_share)
    found = effects(case.present, new)
    effect = stimulus(finished.prescription, case.now, moved, case.aim, trial.likeness, shares, _muscle(case, found))
    return Candidate(finished, found, exposure, effect, meets_by)


def _within_days(case: Case, trial: Trial) -> Trial:
    """The trial on no more days a week than may be trained on, its sessions as they are."""
    days = trial.prescription.days
    if days is None or days <= case.most_days:
        return trial
    fewer = msgspec.structs.replace(trial.prescription, days=case.most_days)
    return msgspec.structs.replace(trial, levers=(*trial.levers, "days"), prescription=fewer)


def _met(case: Case, sore: Effect, volume: float, *, by_exposure: bool) -> MeetsBy | None:
    if by_exposure:
        same = sore.ratio is None or sore.ratio <= 1 + MET
        exposure = volume if sore.ratio is None else sore.ratio * volume
        return "session_exposure" if same and exposure <= case.target + MET else None
    if sore.ratio is not None:
        return "peak" if sore.ratio <= case.target + MET else None
    return "direction_only" if sore.direction == "lower" else None


def _unmet(sore: Effect) -> str:
    if sore.ratio is not None:
        return f"The region's demand would be {100 * sore.ratio:.0f} % of the present, above the target."
    if sore.direction == "unknown":
        return "Nothing published says what it does to the region."
    return "What is published does not say that it asks less of the region."


def _muscle(case: Case, found: dict[str, Effect]) -> float | None:
    """Moment asked of hip and knee together, against the present [1]."""
    before = case.present.moments
    if "hip" not in before or found["hip"].evidence != "computed" or found["knee"].evidence != "computed":
        return None
    parts = [(found[joint].ratio, before[joint]) for joint in ("hip", "knee")]
    known = [(ratio, moment) for ratio, moment in parts if ratio is not None]
    total = sum(moment for _, moment in known)
    return sum(ratio * moment for ratio, moment in known) / total if total > 0 else None
