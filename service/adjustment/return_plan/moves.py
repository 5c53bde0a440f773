"""What one step of the way back may be: one change, within the step where there is one.

Every step brings something nearer to the original and nothing further from it, but for loads and repetitions that make
room for a change before them in the order of form, sets, days, repetitions and load. So no way leads round in circles,
whoever asks for one step at a time. What is done now is tolerated: no step asks less of the region, unless the exercise
changes. Where no change stays within the step, the smallest is taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from operator import itemgetter

from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift
from service.adjustment.return_plan.problem import TOLERANCE
from service.adjustment.return_plan.states import Demands, Form, Move, Rung, State
from service.adjustment.return_plan.trials import Trial
from service.adjustment.return_plan.week_bound import WeekBound
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition


class Moves(WeekBound):
    """The steps that may follow each state of one return."""

    def onward(self, state: State, load: float, week: int) -> list[Move]:
        """Everything that the next step may be, each with the heaviest load that it allows.

        Where nothing stays within the step, the one change that asks least.

        Args:
            state: what is done now
            load: load that is used now [kg]
            week: week in which it would first be done [count]
        """
        rule = self.rule_of(week)
        trials = list(self.trials(state, load))
        within = list(self._within(state, load, trials, rule))
        if within or rule is not None:
            return within
        return self._smallest(state, load, trials)

    def _within(self, state: State, load: float, trials: list[Trial], rule: Transition | None) -> Iterator[Move]:
        before = self.demands(state, load)
        most: dict[tuple[Rung, Form, int, int | None], float] = {}
        for trial in trials:
            self.budget.count_move()
            heaviest = self._heaviest(state, load, before, trial, rule)
            if heaviest is not None:
                heaviest = self._for_week(state, load, before, trial, heaviest)
            new, dose = trial.state, trial.state.dose
            if heaviest is None or (new == state and abs(heaviest - load) <= LOAD_TOLERANCE):
                continue
            if dose.rung >= self.goal.dose.rung:  # fewer repetitions are worth looking at for more load alone
                kind = (trial.rung, new.form, dose.sets, dose.days)
                if dose.rung > self.goal.dose.rung and heaviest <= most.get(kind, -inf) + LOAD_TOLERANCE:
                    continue
                most[kind] = max(heaviest, most.get(kind, -inf))
            yield self._move(state, load, trial, heaviest)

    def _heaviest(
        self, state: State, load: float, before: Demands, trial: Trial, rule: Transition | None
    ) -> float | None:
        """The heaviest load of a trial within step, effort and the week's rule; None below what the trial allows."""
        new, lift = trial.state, self.lift(trial.state)
        of_week = self.ceiling_of(new, rule)
        if of_week is None:
            return None
        entered = new.form.original != state.form.original
        step = self.case.step if self.comparable(state.form, new.form) else 1.0
        most = self._peak_within(before, new, step, same_days=new.dose.days == state.dose.days, entered=entered)
        heaviest = lift.heaviest(most, min(trial.ceiling, self._effort(state, load, trial), of_week))
        if entered and (heaviest is None or heaviest < trial.floor - LOAD_TOLERANCE):
            return self._tested(before, new, min(trial.floor, of_week))
        if heaviest is None:
            return None
        enough = heaviest >= trial.floor - LOAD_TOLERANCE
        if not enough and trial.deeper:
            enough = lift.peak(heaviest) >= before.peak - TOLERANCE
        return heaviest if enough and (entered or self._keeps_up(trial, before, heaviest)) else None

    def _for_week(self, state: State, load: float, before: Demands, trial: Trial, heaviest: float) -> float | None:
        """That load [kg], or a lighter one where the week asks for it; None where less than now would be asked."""
        lighter = self.within_week(state, load, trial, heaviest)
        if lighter is None or lighter == heaviest or trial.state.form.original != state.form.original:
            return lighter
        if trial.deeper and lighter < trial.floor - LOAD_TOLERANCE:
            kept = self.lift(trial.state).peak(lighter) >= before.peak - TOLERANCE
            return lighter if kept else None
        return lighter if self._keeps_up(trial, before, lighter) else None

    def _tested(self, before: Demands, new: State, floor: float) -> float | None:
        """The least load of the original exercise after another one [kg], where a test has to bear out what it asks."""
        load = self.lift(new).heaviest(1.0, floor)
        if load is None:
            return None
        _, session, week = self.demands(new, load)
        return load if session <= 1 + TOLERANCE and week <= max(1.0, before.week) + TOLERANCE else None

    def _keeps_up(self, trial: Trial, before: Demands, load: float) -> bool:
        """Whether a session asks as much as now, or where that is more than in the original nearly as much as there."""
        if trial.rung is Rung.HOLD or (trial.rung is Rung.LESS and trial.floor < trial.ceiling):
            return True  # repetitions take no longer than the holds; what is too heavy is taken down
        if trial.rung is Rung.DAYS and self.case.week is not None:
            return self.demands(trial.state, load).week >= before.week - TOLERANCE
        within = min(before.session, 1.0 - self.case.step)
        return self.demands(trial.state, load).session >= within - TOLERANCE

    def _effort(self, state: State, load: float, trial: Trial) -> float:
        """The heaviest load that leaves the least reserve [kg]; what is done now is done, whatever it leaves."""
        new = trial.state
        done = new.form == state.form and new.dose.rung <= state.dose.rung and trial.ceiling <= load
        return inf if done else self.effort_ceiling(new)

    def _peak_within(self, before: Demands, new: State, step: float, *, same_days: bool, entered: bool) -> float:
        """The most that a repetition may ask after a step [1]: nor it, its session or week more than the original's.

        A week that asks more now may go on to, and a session unless the original exercise is entered.
        """
        reps, days = self.repetitions(new), new.dose.days or 1
        session, week = 1.0 if entered else max(1.0, before.session), max(1.0, before.week)
        session = min(before.session + step, session) * self.normal_session / reps
        week = min(before.week + step, week) if same_days else week
        return min(before.peak + step, 1.0, session, week * self.normal_week / (reps * days))

    def _smallest(self, state: State, load: float, trials: list[Trial]) -> list[Move]:
        """The one change that raises the demand least where none stays within the step; else the original.

        Less of the dose alone is none: it would put off the jump, and not make it smaller.
        """
        forced = [self._move_by_force(state, load, trial) for trial in trials if trial.rung is not Rung.LESS]
        smallest = [one for one in forced if one is not None]
        if smallest:
            return [min(smallest, key=itemgetter(0, 1))[-1]]
        whole = self.case.original.load
        return [self._move(state, load, Trial(self.goal, Rung.LAST_LOAD, whole, whole), whole)]

    def _move_by_force(self, state: State, load: float, trial: Trial) -> tuple[bool, float, Move] | None:
        """A trial with its least load, whether that is too hard, and its rise [1]; None where it is no change."""
        self.budget.count_move()
        heaviest = self.lift(trial.state).heaviest(1.0, trial.floor)
        if heaviest is None or (trial.state == state and heaviest <= load + LOAD_TOLERANCE):
            return None
        move = self._move(state, load, trial, heaviest)
        hard = heaviest > self._effort(state, load, trial) + LOAD_TOLERANCE
        return hard, move.rise or 0.0, move

    def _move(self, state: State, load: float, trial: Trial, heaviest: float) -> Move:
        rise = self.rise(state, load, trial.state, heaviest)
        over = (
            rise is not None
            and rise > self.case.step + TOLERANCE
            and not self.is_tolerated(state, trial.state, heaviest)
        )
        if self.rises_too_much(state, load, trial.state, heaviest):
            of_week = self.week_ratio(state, load, trial.state, heaviest)
            rise, over = max(rise or 0.0, 0.0 if of_week is None else of_week.largest - 1.0), True
        return Move(trial.state, heaviest, trial.rung, rise, over)

    def is_tolerated(self, state: State, new: State, load: float) -> bool:
        """Whether the original exercise is entered with no more than a load that is known to be tolerated.

        Args:
            state: what is done before
            new: what is done after
            load: load after [kg]
        """
        known, entered = self.case.tolerated, new.form.original != state.form.original
        return entered and known is not None and load <= known + LOAD_TOLERANCE

    def rung_of(self, move: Move) -> Rung:
        """The rung of a step; more load stands on several, by how far it has come and in which lift."""
        if move.rung != Rung.FIRST_LOAD:
            return move.rung
        lift: Lift = self.lift(move.state)
        if move.load >= CHOICES.return_plan.load_before_others * lift.loads[-1] - LOAD_TOLERANCE:
            return Rung.LAST_LOAD
        return Rung.FIRST_LOAD if move.state.form.original == self.start.form.original else Rung.LOAD_AGAIN
