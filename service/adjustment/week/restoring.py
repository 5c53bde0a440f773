"""Muscles that a changed week leaves below their floor, and the lift that restores them without the sore region."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.week.lifts import PlannedLift
from service.adjustment.week.muscles import hard_sets, trained_sets, under_floor
from service.adjustment.week.problem import WeekCase
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.fractional_sets import muscle_shares
from service.training.volume import Reps

_MOST_SETS: Final = CHOICES.week.most_sets_added
_ADDED: Final = CHOICES.week.added_reps
_DIRECT: Final = 1.0


class Restored(Struct, frozen=True):
    """A week with what was lost given back.

    Attributes:
        week: its lifts, those that are new last
        more_sets: sets more than before, by place of lifts that were in the week, none of those that are new [count]
        added: places of the lifts that are new [count]
        restores: muscle for which a lift gets more sets or is new, by its place [count]
        short: muscles that stay below their floor, though lifts of the present week train them directly
        beside: muscles that fall below it and were never trained but beside others, for which nothing is added
    """

    week: list[PlannedLift]
    more_sets: dict[int, int]
    added: list[int]
    restores: dict[int, str]
    short: list[str]
    beside: list[str]


def restored(case: WeekCase, week: Sequence[PlannedLift], day: int) -> Restored:
    """A changed week with sets added where a muscle fell below its floor, by lifts that do not load the sore region.

    Lifts of the week that train the muscle directly get more sets first, for their load is known; then one is added,
    at the lightest load there is, for none of it follows from another lift. Where it hurts so much that nothing may be
    added, the muscles are named alone.

    Args:
        case: the week as it is now
        week: the week as it is changed
        day: on which a lift is added, that of the one that was changed [days]
    """
    changed, more_sets, added, restores = list(week), dict[int, int](), list[int](), dict[int, str]()
    short, beside, trained = list[str](), list[str](), _trained(case.week)
    wanted = case.floors
    before = under_floor(case.sets, wanted)
    for muscle in _low(wanted, week):
        if muscle in before or muscle not in _low(wanted, changed):
            continue
        if muscle not in trained:
            beside.append(muscle)
            continue
        if case.only_less:
            short.append(muscle)
            continue
        missing = wanted[muscle] - _counted(changed).get(muscle, 0.0)
        entry = _in_week(case, changed, muscle)
        if entry is not None:
            sets = _more(changed[entry].prescription, muscle, missing)
            so_far = changed[entry].prescription.sets if entry in added else more_sets.get(entry, 0)
            if so_far + sets <= _MOST_SETS:
                if entry not in added:
                    more_sets[entry] = so_far + sets
                restores.setdefault(entry, muscle)
                changed[entry] = _with_more(changed[entry], sets)
                continue
        new = _new(case, muscle, {one.prescription.exercise for one in changed})
        if new is None or (sets := _more(new, muscle, missing)) > _MOST_SETS:
            short.append(muscle)
            continue
        added.append(len(changed))
        restores[len(changed)] = muscle
        changed.append(PlannedLift(day, replace(new, sets=sets)))
    return Restored(changed, more_sets, added, restores, short, beside)


def _trained(week: Sequence[PlannedLift]) -> set[str]:
    """The muscles that some lift of a week trains directly."""
    shares = (muscle_shares(one.prescription.exercise) for one in week)
    return {muscle for of_lift in shares for muscle, share in of_lift.items() if share >= _DIRECT}


def _counted(week: Sequence[PlannedLift]) -> dict[str, float]:
    return trained_sets(one.prescription for one in week)


def _low(wanted: dict[str, float], week: Sequence[PlannedLift]) -> list[str]:
    return under_floor(_counted(week), wanted)


def _in_week(case: WeekCase, week: Sequence[PlannedLift], muscle: str) -> int | None:
    """A lift of the week that trains the muscle directly and does not load the region: the one with fewest sets."""
    fitting = [
        entry
        for entry, one in enumerate(week)
        if entry not in case.staying | case.hurts
        and _restores(case, one.prescription.exercise, muscle)
        and not _asks(case, one.prescription)
        and hard_sets(one.prescription)
    ]
    return min(fitting, key=lambda entry: week[entry].prescription.sets, default=None)


def _asks(case: WeekCase, prescription: Prescription) -> bool:
    """Whether a lift is computed to ask something of a region that nothing new may load, though it is not its own."""
    asked = case.asked_of(prescription)
    whole = {REGIONS[region].whole for region in case.avoided}
    return any(region in whole and one.moment > 0.0 for region, one in asked.items())


def _restores(case: WeekCase, exercise: str, muscle: str) -> bool:
    direct = muscle_shares(exercise).get(muscle, 0.0) >= _DIRECT
    return direct and case.avoided.isdisjoint(EXERCISES[exercise].regions)


def _new(case: WeekCase, muscle: str, present: set[str]) -> Prescription | None:
    """A lift that is not in the week yet, for one that is has had its sets: that which loads the fewest regions."""
    for exercise in sorted(EXERCISES, key=lambda one: len(EXERCISES[one].regions)):
        if exercise in present or not _restores(case, exercise, muscle):
            continue
        if (lightest := case.lightest(exercise)) is not None:
            load, implement = lightest
            reps = Reps(_ADDED.low, _ADDED.high)
            new = Prescription(exercise, 1, reps, load, CHOICES.adjustments.untested_reserve, implement=implement)
            if not _asks(case, new):
                return new
    return None


def _more(prescription: Prescription, muscle: str, missing: float) -> int:
    """Sets that give a muscle what is missing of its floor [count]."""
    one = replace(prescription, sets=1)
    counted = trained_sets([one]).get(muscle)
    return _MOST_SETS + 1 if counted is None else ceil(missing / counted - 1e-9)


def _with_more(one: PlannedLift, sets: int) -> PlannedLift:
    return replace(one, prescription=replace(one.prescription, sets=one.prescription.sets + sets))
