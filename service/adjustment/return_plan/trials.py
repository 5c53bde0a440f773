"""The changes that one step of the way back may make, each with the loads between which it may be done.

Every one brings something nearer to the original, in the order of form, tempo, sets, days, repetitions and load.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from math import inf
from typing import Final, NamedTuple

from msgspec.structs import replace

from service.adjustment.return_plan.dose import Dose
from service.adjustment.return_plan.lift import LOAD_TOLERANCE
from service.adjustment.return_plan.problem import TOLERANCE, first_exposure, share_of_original, weeks_at
from service.adjustment.return_plan.space import StateSpace
from service.adjustment.return_plan.states import Rung, State
from service.knowledge.design_choices import CHOICES

_GRADED: Final = frozenset({Rung.RANGE, Rung.TECHNIQUE})
"""Changes of the form with which the load may change, so that a repetition asks as much as before."""


class Trial(NamedTuple):
    """A change that may be made.

    Attributes:
        state: what is done after it
        rung: of the ladder
        floor: least load with it [kg]
        ceiling: most load with it [kg]
        deeper: whether the load may be less, as long as the demand is not
    """

    state: State
    rung: Rung
    floor: float
    ceiling: float
    deeper: bool = False


class Trials(StateSpace):
    """The changes that may follow each state of one return."""

    def trials(self, state: State, load: float) -> Iterator[Trial]:
        """The changes that one step may make, each with the loads [kg] between which it may be done.

        In the order of the ladder: tempo once the form is the original's, then sets and repetitions, then days.

        Args:
            state: what is done now
            load: load that is used now [kg]
        """
        holding = self.forms.hold(state.form) is not None
        restored = state.form == self.goal.form
        for dose in self._lowered(state.dose):
            yield from self._loads(state, load, dose)
            for new, rung in self.forms.changes(state.form):
                yield from self._changed(state, load, replace(state, form=new, dose=dose), rung)
            if restored and not state.original_tempo:
                yield Trial(replace(state, original_tempo=True, dose=dose), Rung.TEMPO, load, load, deeper=True)
            if self._days_may_rise(state) and (restored or not holding):
                more = Dose(dose.sets, dose.rung, (dose.days or 0) + 1)
                yield Trial(replace(state, dose=more), Rung.DAYS, load, load)
                if self.case.week is not None:  # more days with fewer repetitions on each
                    for reps in range(dose.rung - 1, -1, -1):
                        fewer = Dose(dose.sets, reps, more.days)
                        yield Trial(replace(state, dose=fewer), Rung.DAYS, load, load)
        if restored and state.original_tempo:
            yield from self._more(state, load)

    def _loads(self, state: State, load: float, dose: Dose) -> Iterator[Trial]:
        """More load, or what asks more than the original taken down."""
        lift, whole = self.lift(state), self.case.original.load
        new = replace(state, dose=dose)
        heavier = self.heavier(lift, load)
        if heavier > load and (self.forms.hold(state.form) is None or self.forms.hold(self.goal.form) is not None):
            yield Trial(new, Rung.FIRST_LOAD, self.next_load(lift, load), heavier)
        top = min(load, whole) if state.form.original else load
        too_heavy = top < load - LOAD_TOLERANCE or lift.peak(load) > 1 + TOLERANCE
        if too_heavy or dose != state.dose:
            yield Trial(new, Rung.LESS, lift.loads[0] if too_heavy else load, top)

    def _more(self, state: State, load: float) -> Iterator[Trial]:
        """More repetitions, or more sets with as few repetitions as keep their sum."""
        now, end = state.dose, self.goal.dose
        for dose in self._lowered(now):
            for rung in range(now.rung + 1, end.rung + 1):
                yield Trial(replace(state, dose=Dose(dose.sets, rung, dose.days)), Rung.REPS, load, load)
        if now.sets < end.sets:
            sets = self.sets[bisect_right(self.sets, now.sets)]
            for rung in range(now.rung, self._least_rung(now, sets) - 1, -1):
                for days in self._days_lowered(now.days):
                    more = Dose(sets, rung, days)
                    yield Trial(replace(state, dose=more), Rung.SETS, load, load)

    def _changed(self, state: State, load: float, new: State, rung: Rung) -> Iterator[Trial]:
        """A change of the form: deeper with the load that fits, or as it is; another exercise at its entry."""
        if rung is Rung.HOLD:
            yield from self._moving(new, load)
        elif new.form.original != state.form.original:
            floor, ceiling = self._entry(state, load, new)
            yield Trial(new, rung, floor, ceiling)
        else:
            lift = self.lift(new)  # of another implement its loads may be others
            near = load if new.form.kit == state.form.kit else lift.loads[max(0, bisect_right(lift.loads, load) - 1)]
            top = self._as_much(state, load, new, near) if rung in _GRADED else near
            yield Trial(new, rung, near, top, deeper=rung in _GRADED)

    def _as_much(self, state: State, load: float, new: State, near: float) -> float:
        """The load [kg] up to which a form may change: as it is, or where that asks less the one that asks as much."""
        now, lift = self.lift(state), self.lift(new)
        if not self.comparable(state.form, new.form) or lift.peak(near) >= now.peak(load) - TOLERANCE:
            return near
        return max(near, lift.heaviest(now.peak(load), self.heavier(now, load)) or near)

    def _moving(self, new: State, load: float) -> Iterator[Trial]:
        """From holds to repetitions: as many as in the original, or fewer where these would take longer."""
        end = self.goal.dose
        for rung in range(end.rung, -1, -1):
            yield Trial(
                replace(new, dose=Dose(min(new.dose.sets, end.sets), rung, new.dose.days)), Rung.HOLD, load, load
            )

    def _entry(self, state: State, load: float, new: State) -> tuple[float, float]:
        """The least and the most load [kg] with which the original exercise is taken up again.

        Not less than what is tolerated: the load that is known to be, else the one that asks no more of the region than
        what is done now, and where next to nothing is asked now a stated share of the original. Not more than that, or
        where a ratio is published than its first exposure.
        """
        lift = self.lift(new)
        floor = share_of_original(self.case, CHOICES.return_plan.lowest_entry)
        expected = first_exposure(self.case, load)
        if self.comparable(state.form, new.form):
            # with as much range as now: less of it is no reason for more load
            whole = self.lift(replace(new, form=self.forms.deepest_entry(state.form)))
            tolerated = whole.heaviest(min(1.0, self.lift(state).peak(load)), self.case.original.load)
            floor = max(floor, -inf if tolerated is None else tolerated)
        elif expected is None and self.lift(state).has_scale(load):  # after the body alone with the least there is
            expected = share_of_original(self.case, CHOICES.adjustments.untested_share)
        floor = max(floor, -inf if self.case.tolerated is None else self.case.tolerated)
        top = min(self.case.original.load, self.effort_ceiling(new))
        rounded_up = bisect_left(lift.loads, min(floor, top) - LOAD_TOLERANCE)
        if rounded_up == len(lift.loads) or lift.loads[rounded_up] > top + LOAD_TOLERANCE:
            rounded_up = max(0, rounded_up - 1)
        floor = lift.loads[rounded_up]
        return floor, max(floor, floor if expected is None else expected)

    def _least_rung(self, dose: Dose, sets: int) -> int:
        """The fewest repetitions with which more sets make no fewer in all than now, as a rung [count]."""
        same = dose.sets * self.middles[dose.rung] / sets
        return max(0, bisect_left(self.middles, same - TOLERANCE))

    def _days_may_rise(self, state: State) -> bool:
        """Days are added once the rest of the dose and the lift are as in the original.

        Unless there are so few days that a step takes longer for it: then as early as may be.
        """
        dose, end = state.dose, self.goal.dose
        if dose.days is None or end.days is None or dose.days >= end.days:
            return False
        restored = state.original_tempo and state.form == self.goal.form
        return (restored and dose.sets >= end.sets and dose.rung >= end.rung) or weeks_at(dose.days) > 1

    def _lowered(self, dose: Dose) -> Iterator[Dose]:
        """The dose as it is, with one part that is above the original's taken down, and with all of them.

        Sets or repetitions to any mark between, on the direct way to the next or to the last; days by one.
        """
        end = self.goal.dose
        *_, days = self._days_lowered(dose.days)
        fewer_sets = [sets for sets in reversed(self.sets) if end.sets <= sets < dose.sets]
        fewer_reps = list(range(dose.rung - 1, end.rung - 1, -1))
        if self.direct:
            fewer_sets, fewer_reps = [*fewer_sets[:1], *fewer_sets[-1:]], [*fewer_reps[:1], *fewer_reps[-1:]]
        doses = [
            dose,
            *(Dose(sets, dose.rung, dose.days) for sets in fewer_sets),
            *(Dose(dose.sets, rung, dose.days) for rung in fewer_reps),
            Dose(dose.sets, dose.rung, days),
            Dose(min(dose.sets, end.sets), min(dose.rung, end.rung), days),
        ]
        yield from dict.fromkeys(doses)

    def _days_lowered(self, days: int | None) -> tuple[int | None, ...]:
        """The days as they are and one fewer where they are above the original's."""
        end = self.goal.dose.days
        return (days, days - 1) if days is not None and end is not None and days > end else (days,)
