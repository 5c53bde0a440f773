"""What one step of the way back may be: a change, the ceiling of the load after it, the heaviest within the step."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from math import inf

import msgspec

from service.adjustment.evaluation import tempo_factor
from service.adjustment.prescription import total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.dose import Dose, heaviest_share, ladder, middle
from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift
from service.adjustment.return_plan.problem import (
    TOLERANCE,
    ReturnCase,
    first_exposure,
    heaviest_for_effort,
    share_of_maximum,
    weeks_at,
)
from service.adjustment.return_plan.states import Demands, Limits, Rung, State
from service.adjustment.return_plan.variations import followers, lifts
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition, after_weeks_off


class StateSpace:
    """The states of one return and what may follow each.

    Attributes:
        case: the return
        budget: of postures and moves
        rungs: ranges of repetitions, fewest first
        middles: their middles [count]
        efforts: heaviest loads that leave the least reserve [kg], by lift, rung and tempo
        lifts: the adjusted first, the original last
        follows: for each lift the indices of those that may come next
        normal_session: repetitions of a session of the original [count]
        normal_week: repetitions of a week of the original [count]
        slowed: share of the repetitions to failure that a tempo leaves [1], by State.original_tempo
        start: the adjusted prescription
        goal: the original one
        largest_load_step: largest rise of the load in a step [kg]
        transition: rule of each of the first weeks after a break
    """

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had, and BudgetExceeded."""
        self.case = case
        self.budget = budget
        self.rungs = ladder(case)
        self.middles = tuple(middle(reps) for reps in self.rungs)
        self.efforts: dict[tuple[int, int, bool], float] = {}
        self.lifts = lifts(case, budget)
        adjusted, original = case.adjusted, case.original
        self.normal_session = original.sets * middle(original.reps)
        self.normal_week = self.normal_session * (original.days or 1)
        same_tempo = (adjusted.tempo, adjusted.rest) == (original.tempo, original.rest)
        self.follows = followers(self.lifts)
        self.slowed = {False: tempo_factor(original, adjusted), True: 1.0}
        end = Dose(original.sets, self.rungs.index(original.reps), original.days)
        self.goal = State(lift=len(self.lifts) - 1, original_tempo=True, dose=end)
        self.start = State(0, same_tempo, Dose(adjusted.sets, self.rungs.index(adjusted.reps), adjusted.days))
        self.largest_load_step = CHOICES.return_plan.load_step * total_load(original, case.body_mass)
        self.transition = after_weeks_off(case.weeks_off)

    def demands(self, state: State, load: float) -> Demands:
        """What the sore region carries in a state.

        Args:
            state: what is done
            load: on the implement [kg]
        """
        peak = self.lifts[state.lift].peak(load)
        reps = state.dose.sets * self.middles[state.dose.rung]
        week = peak * reps * (state.dose.days or 1) / self.normal_week
        return Demands(peak, peak * reps / self.normal_session, week)

    def comparable(self, state: State, new: State) -> bool:
        """Whether the demands before and after a change of lift are on one scale."""
        before, after = self.lifts[state.lift], self.lifts[new.lift]
        return before.has_number == after.has_number and (
            before.has_number or before.prescription.exercise == after.prescription.exercise
        )

    def onward(self, state: State, load: float, step: float, week: int) -> Iterator[tuple[State, float, Rung]]:
        """Everything that the next step may be, each with the heaviest load [kg] that it allows, and its rung.

        Args:
            state: what is done now
            load: load that is used now [kg]
            step: most that the demand may rise [1]
            week: week in which it would first be done [count]
        """
        rule = self.rule_of(week)
        demands = self.demands(state, load)
        on_one_scale, across_scales = self._limits(demands, step), self._limits(demands, 1.0)
        end = self.goal.dose.rung
        most: dict[tuple[Rung, int, int, int | None], float] = {}
        for new, ceiling, rung in self.moves(state, load):
            self.budget.count_move()
            limits = on_one_scale if new.lift == state.lift or self.comparable(state, new) else across_scales
            heaviest = self.heaviest(new, ceiling, limits, rule)
            if heaviest is None or (new == state and heaviest <= load + LOAD_TOLERANCE):
                continue
            dose = new.dose
            if dose.rung >= end:  # fewer repetitions are worth looking at for more load, or as many as in the original
                kind = (rung, new.lift, dose.sets, dose.days)
                if dose.rung > end and heaviest <= most.get(kind, -inf) + LOAD_TOLERANCE:
                    continue
                most[kind] = max(heaviest, most.get(kind, -inf))
            yield new, heaviest, rung

    def rule_of(self, week: int) -> Transition | None:
        """The rule of a week after a break.

        Args:
            week: number of the week, the first of which is 1 [count]

        Returns:
            The rule, None where there is none.
        """
        return self.transition[week - 1] if 0 < week <= len(self.transition) else None

    def allowed(self, state: State, load: float, week: int) -> bool:
        """Whether a week after a break allows a dose with a load.

        Args:
            state: what is done
            load: on the implement [kg]
            week: number of the week, the first of which is 1 [count]
        """
        rule = self.rule_of(week)
        if rule is None:
            return True
        most = heaviest_share(state.dose, self.rungs[state.dose.rung], self.normal_week, rule)
        return most is not None and self.share(self.lifts[state.lift], load) <= most + TOLERANCE

    def share(self, lift: Lift, load: float) -> float:
        """Share of the maximum in a lift that a load is.

        Args:
            lift: way of lifting
            load: on the implement [kg]

        Returns:
            The share [1].
        """
        return share_of_maximum(self.case, lift.most, msgspec.structs.replace(lift.prescription, load=load))

    def moves(self, state: State, load: float) -> Iterator[tuple[State, float, Rung]]:
        """States that one step may lead to.

        Args:
            state: what is done now
            load: load that is used now [kg]

        Returns:
            Each state with the ceiling of its load [kg] and the rung of the step.
        """
        at, tempo, now, end = state.lift, state.original_tempo, state.dose, self.goal.dose
        heavier = self.heavier(self.lifts[at], load)
        exposed = self.first_exposure(load)
        for dose in self._lowered(now):
            yield State(at, tempo, dose), heavier, Rung.FIRST_LOAD
            if dose != now:
                yield State(at, tempo, dose), load, Rung.LESS
            for lift in self.follows[at]:
                changed = self.lifts[lift].prescription.exercise != self.lifts[at].prescription.exercise
                kept = self.lifts[lift].is_original == self.lifts[at].is_original
                yield State(lift, tempo, dose), exposed if changed else load, Rung.RANGE if kept else Rung.LIFT
            if not tempo:
                yield State(lift=at, original_tempo=True, dose=dose), load, Rung.TEMPO
            for rung in range(now.rung + 1, end.rung + 1):
                yield State(at, tempo, Dose(dose.sets, rung, dose.days)), load, Rung.REPS
            if self._days_may_rise(state):
                yield State(at, tempo, Dose(dose.sets, dose.rung, (dose.days or 0) + 1)), load, Rung.DAYS
        if now.sets < end.sets:
            for rung in range(now.rung, self._least_rung(now) - 1, -1):
                for days in self._days_lowered(now.days):
                    yield State(at, tempo, Dose(now.sets + 1, rung, days)), load, Rung.SETS

    def _limits(self, demands: Demands, step: float) -> Limits:
        """The most that may be asked after a step [1]: of a repetition never more than the original asks."""
        peak, session, week = demands
        return Limits(
            min(peak + step, 1.0),
            min(session + step, max(1.0, session)) * self.normal_session,
            max(1.0, week) * self.normal_week,
        )

    def heaviest(self, new: State, ceiling: float, limits: Limits, rule: Transition | None) -> float | None:
        """The heaviest load of a state within the limits, the effort, the week's rule and a ceiling.

        Args:
            new: what would be done
            ceiling: load that is not exceeded [kg]
            limits: what the region may carry
            rule: of the week, None where there is none

        Returns:
            The load [kg], None where there is none.
        """
        lift, dose = self.lifts[new.lift], new.dose
        reps = dose.sets * self.middles[dose.rung]
        most = min(limits.peak, limits.session / reps, limits.week / (reps * (dose.days or 1)))
        ceiling = min(ceiling, self.effort_ceiling(new))
        if rule is not None:
            share = heaviest_share(dose, self.rungs[dose.rung], self.normal_week, rule)
            if share is None:
                return None
            if share < inf:
                ceiling = min(ceiling, share * lift.most - lift.body)
        return lift.heaviest(most, ceiling)

    def effort_ceiling(self, state: State) -> float:
        """The heaviest load [kg] that leaves the least reserve; at the goal the original's, whatever it leaves."""
        case, lift = self.case, self.lifts[state.lift]
        if state == self.goal:
            return case.original.load
        key = (state.lift, state.dose.rung, state.original_tempo)
        if key not in self.efforts:
            high, slowed = self.rungs[state.dose.rung].high, self.slowed[state.original_tempo]
            self.efforts[key] = heaviest_for_effort(case, lift.most, high, slowed) - lift.body
        return self.efforts[key]

    def rung_of(self, rung: Rung, state: State, load: float) -> Rung:
        """The rung of the ladder; more load stands on several, by how far it has come and in which lift.

        Args:
            rung: of the step where it is not a rise of the load
            state: what is done after it
            load: on the implement after it [kg]
        """
        if rung != Rung.FIRST_LOAD:
            return rung
        lift = self.lifts[state.lift]
        if load >= CHOICES.return_plan.load_before_others * lift.loads[-1] - LOAD_TOLERANCE:
            return Rung.LAST_LOAD
        return Rung.FIRST_LOAD if lift.is_original == self.lifts[0].is_original else Rung.LOAD_AGAIN

    def _least_rung(self, dose: Dose) -> int:
        """The rung at which one more set makes no more repetitions than now; fewer would be given away."""
        same = dose.sets * self.middles[dose.rung] / (dose.sets + 1)
        return max(0, bisect_right(self.middles, same + TOLERANCE) - 1)

    def _days_may_rise(self, state: State) -> bool:
        """Days are added once the rest of the dose and the lift are as in the original.

        Unless there are so few days that a step takes longer for it: then as early as may be.
        """
        dose, end = state.dose, self.goal.dose
        if dose.days is None or end.days is None or dose.days >= end.days:
            return False
        lift_restored = state.original_tempo and state.lift == self.goal.lift
        restored = lift_restored and dose.sets >= end.sets and dose.rung >= end.rung
        return restored or weeks_at(dose.days) > 1

    def _lowered(self, dose: Dose) -> Iterator[Dose]:
        """The dose as it is and with what is above the original's taken down: sets, repetitions, a day."""
        end = self.goal.dose
        for sets in dict.fromkeys((dose.sets, min(dose.sets, end.sets))):
            for rung in range(dose.rung, min(dose.rung, end.rung) - 1, -1):
                for days in self._days_lowered(dose.days):
                    yield Dose(sets, rung, days)

    def _days_lowered(self, days: int | None) -> tuple[int | None, ...]:
        """The days as they are and one fewer where they are above the original's."""
        end = self.goal.dose.days
        return (days, days - 1) if days is not None and end is not None and days > end else (days,)

    def heavier(self, lift: Lift, load: float) -> float:
        """The load to which one step may go: by the configured share, or to the next there is.

        Args:
            lift: way of lifting
            load: load that is used now [kg]

        Returns:
            The load [kg].
        """
        following = bisect_right(lift.loads, load + LOAD_TOLERANCE)
        return max(load + self.largest_load_step, lift.loads[following] if following < len(lift.loads) else load)

    def first_exposure(self, load: float) -> float:
        """The load at which the original lift is taken up again: of the rule, but not below what there is.

        Args:
            load: load of the lift before it [kg]

        Returns:
            The load [kg].
        """
        return max(first_exposure(self.case, load), self.lifts[-1].loads[0])
