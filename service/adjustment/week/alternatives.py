"""What may be done instead of a lift of a week, each lift searched by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from service.adjustment.consultation import Candidate
from service.adjustment.options.faults import raises_another, to_failure, unloads
from service.adjustment.options.ranking import is_unfamiliar, preference
from service.adjustment.options.result import Outcome
from service.adjustment.options.selection import select
from service.adjustment.prescription import Prescription
from service.adjustment.week.exposure import POWERS, exposure, shares
from service.adjustment.week.lifts import PlannedLift, contribution
from service.adjustment.week.muscles import trained_sets
from service.adjustment.week.problem import WeekCase
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.vocabulary import WEIGHTINGS, Aim, Weighting

_WEEK: Final = CHOICES.week
_OF_THE_MUSCLE: Final[tuple[Aim, ...]] = ("muscle_size", "maintain")


class Alternative(Struct, frozen=True):
    """One change of a lift, on every day on which it is the same.

    Attributes:
        entries: its places in the week, from 0 [count]
        outcome: what would be done instead, and what it costs
        moment: peak of a repetition on the sore region by central values, the present one where it is not known [N·m]
        saved: what the week's sums lose by it, by weighting, negative where they grow [(N·m)^p]
        sets_lost: fractional sets a week that muscles lose by it, negative where they gain [count]
        faults: how many things it has that nobody wants first in a week [count]
        preference: how far the complaint as it is told speaks for it (up to 1) or against it (-1) [1]
        unfamiliar: whether a load has still to be found or a tempo to be got used to
    """

    entries: tuple[int, ...]
    outcome: Outcome
    moment: float
    saved: dict[Weighting, float]
    sets_lost: dict[str, float]
    faults: int
    preference: float
    unfamiliar: bool

    @property
    def candidate(self) -> Candidate:
        """What would be done instead, as the search of the lift by itself has it."""
        return self.outcome.candidate

    @property
    def prescription(self) -> Prescription:
        """What would be done instead."""
        return self.candidate.prescription

    @property
    def lost(self) -> float:
        """Part of the lift's training effect that is lost [1]."""
        return 1.0 - self.candidate.stimulus.kept.value


def units(week: Sequence[PlannedLift]) -> list[tuple[int, ...]]:
    """The lifts of a week by their places [count], what is the same on several days together: it is changed as one."""
    same: dict[Prescription, list[int]] = {}
    for entry, one in enumerate(week):
        same.setdefault(one.prescription, []).append(entry)
    return [tuple(entries) for entries in same.values()]


def leading(case: WeekCase) -> list[tuple[int, ...]]:
    """The lifts worth changing, by their places [count]: those with a noticeable part of the week, largest first."""
    known = case.parts
    present = [one for one in known if one is not None]
    places = [entry for entry, one in enumerate(known) if one is not None]
    part = dict.fromkeys(range(len(case.week)), 0.0)
    for weighting in WEIGHTINGS:
        for entry, share in zip(places, shares(present, weighting), strict=True):
            part[entry] = max(part[entry], share)
    largest = {unit: sum(part[entry] for entry in unit) for unit in units(case.week)}
    worth = [unit for unit in largest if largest[unit] >= _WEEK.noticeable_part and case.staying.isdisjoint(unit)]
    return sorted(worth, key=lambda unit: -largest[unit])[: _WEEK.most_lifts_searched]


def largest(case: WeekCase) -> tuple[int, ...]:
    """The lift with the largest part of the week by the weighting of the target, by its places [count]."""
    own = {
        unit: exposure((part for entry in unit if (part := case.parts[entry]) is not None), case.weighting)
        for unit in units(case.week)
    }
    return max(own, key=lambda unit: own[unit])


def part_alone(case: WeekCase, unit: tuple[int, ...], first: Sequence[Alternative] = ()) -> float | None:
    """The part to which a lift alone has to come for the week to reach its target.

    Args:
        case: the week
        unit: places of the lift [count]
        first: other lifts that are changed before

    Returns:
        The part of its present demand [1], None where no part does it.
    """
    power, whole = POWERS[case.weighting], case.sums[case.weighting]
    own = exposure((part for entry in unit if (part := case.parts[entry]) is not None), case.weighting)
    saved = sum(one.saved[case.weighting] for one in first)
    left = case.target**power * whole - (whole - saved - own)
    return None if left <= 0.0 or own <= 0.0 else float((left / own) ** (1.0 / power))


def alternatives(case: WeekCase, unit: tuple[int, ...], target: float) -> Iterator[Alternative]:
    """What one lift may be changed to for its region to come to a target, the first to be tried first.

    The present lift with less load and nothing else is always among them where it does: by itself it may leave sets too
    easy, in a week other lifts may train the muscle enough.

    Args:
        case: the week
        unit: places of the lift [count]
        target: part of its present demand to which the region is to be brought [1]

    Raises:
        Refusal: as the consultation of one prescription does
    """
    single = case.single(unit[0], target)
    part = case.parts[unit[0]]
    now = 0.0 if part is None else part.moment
    selection = select(single, _WEEK.alternatives)
    shown, less_load = selection.outcomes, selection.less_load
    known = {one.candidate.prescription for one in shown}
    if less_load is not None and less_load.candidate.prescription not in known:
        shown = (*shown, less_load)
    for outcome in shown:
        candidate = outcome.candidate
        moment = _moment(case, candidate, now)
        yield Alternative(
            unit,
            outcome,
            moment,
            _saved(case, unit, moment, candidate.prescription.reps_a_session),
            _sets_lost(case, unit, candidate.prescription),
            _faults(case, candidate),
            preference(candidate, single),
            is_unfamiliar(candidate, single),
        )


def _faults(case: WeekCase, candidate: Candidate) -> int:
    """Sets to failure, another region that pays for it, and unloading where what is trained is of the lift itself.

    Size is of the muscle: what easy sets take from it is counted in its sets of the whole week against their floor.
    """
    costs = unloads(candidate) and case.aim not in _OF_THE_MUSCLE
    return costs + to_failure(candidate) + raises_another(candidate, case.region)


def _sets_lost(case: WeekCase, unit: tuple[int, ...], instead: Prescription) -> dict[str, float]:
    now, new = (trained_sets([one] * len(unit)) for one in (case.week[unit[0]].prescription, instead))
    return {muscle: now.get(muscle, 0.0) - new.get(muscle, 0.0) for muscle in now.keys() | new.keys()}


def _moment(case: WeekCase, candidate: Candidate, now: float) -> float:
    ratio = candidate.effects[case.region].searched if case.region in candidate.effects else None
    if ratio is not None:
        return ratio * now
    prescription = candidate.prescription
    if case.region in EXERCISES[prescription.exercise].regions:
        return now
    beside = contribution(PlannedLift(1, prescription), case.asked_of(prescription), case.region)
    return 0.0 if beside is None else beside.moment


def _saved(case: WeekCase, unit: tuple[int, ...], moment: float, repetitions: float) -> dict[Weighting, float]:
    known = [part for entry in unit if (part := case.parts[entry]) is not None]
    after = [replace(part, moment=moment, repetitions=repetitions) for part in known]
    return {weighting: exposure(known, weighting) - exposure(after, weighting) for weighting in WEIGHTINGS}
