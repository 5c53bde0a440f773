"""The bound of the whole week: what its lifts together ask of the sore region rises by no more than the step.

Where a load that the lift alone allows is too much for the week, a lighter one is looked for; where sets, days or
repetitions are added, one lighter than before, as long as no less is asked. More days may have fewer repetitions.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import Final

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.lift import LOAD_TOLERANCE
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase
from service.adjustment.return_plan.states import Form, Rung, State
from service.adjustment.return_plan.trials import Trial, Trials
from service.adjustment.week.rise import WeekRatio
from service.vocabulary import Weighting

_MAKE_ROOM: Final = frozenset({Rung.SETS, Rung.REPS, Rung.DAYS})
"""Changes before which a load stands in the order of the ladder, so that it may come down for them."""


class WeekBound(Trials):
    """The steps of one return as the whole week bounds them; without a week nothing is bounded."""

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Raises Refusal where one of the two prescriptions cannot be had, and BudgetExceeded."""
        super().__init__(case, budget)
        self._moments: dict[tuple[Form, int, bool, float, float | None], float | None] = {}
        self._sizes: dict[tuple[State, float], dict[Weighting, float] | None] = {}

    def week_ratio(self, state: State, load: float, new: State, new_load: float) -> WeekRatio | None:
        """The whole week with a step against the week before it.

        Args:
            state: what is done before
            load: load before [kg]
            new: what is done after
            new_load: load after [kg]

        Returns:
            None without a week, and where the moment of one of the two is not known.
        """
        week = self.case.week
        if week is None:
            return None
        before, after = self._in_week(state, load), self._in_week(new, new_load)
        return week.ratio(before, after, self._moment(state, load, before), self._moment(new, new_load, after))

    def rises_too_much(self, state: State, load: float, new: State, new_load: float) -> bool:
        """Whether a step raises the week by more than the step that is wished for.

        Args:
            state: what is done before
            load: load before [kg]
            new: what is done after
            new_load: load after [kg]
        """
        before, after = self._sizes_of(state, load), self._sizes_of(new, new_load)
        if before is None or after is None or not all(before.values()):
            return False
        return max(after[one] / before[one] for one in before) > 1.0 + self.case.step + TOLERANCE

    def within_week(self, state: State, load: float, trial: Trial, ceiling: float) -> float | None:
        """The heaviest load of a trial, up to a ceiling, with which the week stays within its bound.

        Args:
            state: what is done now
            load: load that is used now [kg]
            trial: the change
            ceiling: the load that the lift alone allows [kg]

        Returns:
            The load [kg], None where there is none.
        """
        if self.case.week is None or not self.rises_too_much(state, load, trial.state, ceiling):
            return ceiling
        loads = self.lift(trial.state).loads
        least = 0 if trial.deeper or trial.rung in _MAKE_ROOM else bisect_left(loads, trial.floor - LOAD_TOLERANCE)
        lighter = loads[least : bisect_right(loads, ceiling - LOAD_TOLERANCE)]
        within = bisect_left(lighter, 1, key=lambda one: self.rises_too_much(state, load, trial.state, one))
        return lighter[within - 1] if within else None

    def _sizes_of(self, state: State, load: float) -> dict[Weighting, float] | None:
        """What the week asks in a state with a load [kg], by weighting; remembers each."""
        week = self.case.week
        if week is None:
            return None
        if (state, load) not in self._sizes:
            prescription = self._in_week(state, load)
            moment = self._moment(state, load, prescription)
            self._sizes[state, load] = None if moment is None else week.sizes(prescription, moment)
        return self._sizes[state, load]

    def _in_week(self, state: State, load: float) -> Prescription:
        """What is done in a state; at the start what is done now."""
        adjusted = self.case.adjusted
        if state == self.start and abs(load - adjusted.load) < LOAD_TOLERANCE:
            return adjusted
        return self.as_prescribed(state, load)

    def _moment(self, state: State, load: float, prescription: Prescription) -> float | None:
        """What a repetition asks of the region at rest [N·m]; remembers each, whatever the sets and days."""
        week = self.case.week
        key = (state.form, state.dose.rung, state.original_tempo, load, prescription.reserve)
        if week is None:
            return None
        if key not in self._moments:
            self.budget.count_posture()
            self._moments[key] = week.moment(prescription)
        return self._moments[key]
