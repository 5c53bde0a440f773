"""One new week as the answer shows it, each lift in the unit asked about and as the next question takes it."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import UNSET
from msgspec.structs import replace

from service.adjustment.text.week import reasons, words_of_change, words_of_lift
from service.adjustment.text.week_elsewhere import elsewhere
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.worked import NewWeek, demand, muscles
from service.api.models.common import as_rep_range, estimate
from service.api.models.prescription_shown import shown
from service.api.models.week import PlannedSession
from service.api.operations.week_adjustments.models import (
    DemandOfWeek,
    MuscleOfOption,
    WeekChange,
    WeekDemandByRegion,
    WeekOption,
)
from service.messages import message
from service.units import MassUnit, significant
from service.vocabulary import Weighting

_SAID_BY_THE_WEEK = frozenset(
    {"relief_uncertain", "session_exposure_only", "week_exposure_only", "session_exposure_rises", "other_region_rises"}
)
"""Cautions of a lift by itself of which the week says more."""


def option(rank: int, new: NewWeek, case: WeekCase, reached: Weighting, now: Sequence[PlannedSession]) -> WeekOption:
    """One option; reached: weighting under which the options reach the target; now: the week as it was asked about."""
    units = [one.prescription.load.unit for one in now]
    asked, sets = demand(case, new), muscles(case, new)
    return WeekOption(
        rank=rank,
        changes=_changes(new, case, units),
        week=_week(new, now, units),
        relief=new.relief,
        falls=new.falls,
        demand=WeekDemandByRegion(
            **{
                region: DemandOfWeek(**{measure: estimate(ratio, UNSET) for measure, ratio in ratios.items()})
                for region, ratios in asked.items()
            }
        ),
        muscles={
            muscle: MuscleOfOption(
                before=significant(one.before),
                after=significant(one.after),
                floor=None if one.floor is None else significant(one.floor),
                under_floor=one.under_floor,
            )
            for muscle, one in sets.items()
        },
        why=[*reasons(case, new, reached), *elsewhere(case, new, asked, sets)],
        cautions=cautions_of(new),
    )


def cautions_of(new: NewWeek) -> list[str]:
    """The codes of an option's cautions."""
    codes = (code for change in new.changes for code in change.outcome.caution_codes)
    return list(dict.fromkeys(code for code in codes if code not in _SAID_BY_THE_WEEK))


def _changes(new: NewWeek, case: WeekCase, units: Sequence[MassUnit]) -> list[WeekChange]:
    changed = [
        WeekChange(
            entries=list(one.entries),
            kind="changed"
            if one.prescription.exercise == case.week[one.entries[0]].prescription.exercise
            else "replaced",
            levers=list(one.candidate.levers),
            words=words_of_change(case, one, units[one.entries[0]]),
        )
        for one in new.changes
    ]
    left_out = [
        WeekChange(
            entries=[entry],
            kind="left_out",
            levers=["sets"],
            words=message("week_lift_left_out", days=[case.week[entry].day], exercise=_exercise(case, entry)).text,
        )
        for entry in new.left_out
    ]
    more = [
        WeekChange(entries=[entry], kind="more_sets", levers=["sets"], words=words_of_lift(new, entry, units[entry]))
        for entry in new.back.more_sets
    ]
    added = [
        WeekChange(
            entries=[entry], kind="added", levers=["exercise"], words=words_of_lift(new, entry, _unit(new, units))
        )
        for entry in new.back.added
    ]
    by_day: dict[int, list[int]] = {}
    for entry, day in new.new_days.items():
        by_day.setdefault(day, []).append(entry)
    moved = [
        WeekChange(
            entries=entries,
            kind="moved",
            levers=["days"],
            words="; ".join(words_of_lift(new, entry, units[entry]) for entry in entries),
        )
        for entries in by_day.values()
    ]
    return [*changed, *left_out, *more, *added, *moved]


def _exercise(case: WeekCase, entry: int) -> str:
    return case.week[entry].prescription.exercise


def _week(new: NewWeek, now: Sequence[PlannedSession], units: Sequence[MassUnit]) -> list[PlannedSession]:
    changed = {entry for one in new.changes for entry in one.entries}
    week = []
    for entry, one in enumerate(new.week):
        if not one.prescription.sets:
            continue
        if entry >= len(now) or entry in changed:
            unit = units[entry] if entry < len(now) else _unit(new, units)
            week.append(PlannedSession(day=one.day, prescription=shown(one.prescription, unit)))
            continue
        # as it was stated, its counts as whole numbers, which a question may write as 4.0
        same = replace(
            now[entry].prescription,
            sets=one.prescription.sets,
            reps=None if now[entry].prescription.reps is None else as_rep_range(one.prescription.reps),
        )
        week.append(PlannedSession(day=one.day, prescription=same))
    return week


def _unit(new: NewWeek, units: Sequence[MassUnit]) -> MassUnit:
    """The unit of what is new: that of the lift that was changed for it."""
    return units[new.changes[0].entries[0]]
