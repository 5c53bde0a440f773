"""What one step of the way back may be: one change, or one change with more load, within the step where there is one.

Every step brings something nearer to the original and nothing further from it, but for loads and repetitions that make
room for a change before them in the order of form, sets, days, repetitions and load. So no way leads round in circles,
whoever asks for one step at a time. What is done now is tolerated: no step asks less of the region, unless the exercise
changes. Where no change stays within the step, the smallest is taken.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from math import inf
from operator import itemgetter
from typing import Final, NamedTuple

from msgspec.structs import replace

from service.adjustment.return_plan.dose import Dose
from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift
from service.adjustment.return_plan.problem import TOLERANCE, first_exposure, share_of_original, weeks_at
from service.adjustment.return_plan.space import StateSpace
from service.adjustment.return_plan.states import Demands, Form, Move, Rung, State
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition

_PAIRED: Final = frozenset({Rung.RANGE, Rung.TECHNIQUE, Rung.SETS, Rung.REPS})
"""Changes whose demand is known, so that load may rise with them."""


class _Trial(NamedTuple):
    """A change that may be made.

    floor and ceiling: least and most load with it [kg]; deeper: whether the load may be less, as long as the demand is
    not.
    """

    state: State
    rung: Rung
    floor: float
    ceiling: float
    deeper: bool = False


class Moves(StateSpace):
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
        trials = list(self._trials(state, load))
        within = list(self._within(state, load, trials, rule))
        if within or rule is not None:
            return within
        return self._smallest(state, load, trials)

    def _within(self, state: State, load: float, trials: list[_Trial], rule: Transition | None) -> Iterator[Move]:
        before = self.demands(state, load)
        most: dict[tuple[Rung, Form, int, int | None], float] = {}
        for trial in trials:
            self.budget.count_move()
            heaviest = self._heaviest(state, load, before, trial, rule)
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
        self, state: State, load: float, before: Demands, trial: _Trial, rule: Transition | None
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

    def _tested(self, before: Demands, new: State, floor: float) -> float | None:
        """The least load of the original exercise after another one [kg], where a test has to bear out what it asks."""
        load = self.lift(new).heaviest(1.0, floor)
        if load is None:
            return None
        _, session, week = self.demands(new, load)
        return load if session <= 1 + TOLERANCE and week <= max(1.0, before.week) + TOLERANCE else None

    def _keeps_up(self, trial: _Trial, before: Demands, load: float) -> bool:
        """Whether a session asks as much as now, or where that is more than in the original nearly as much as there."""
        if trial.rung is Rung.HOLD or (trial.rung is Rung.LESS and trial.floor < trial.ceiling):
            return True  # repetitions take no longer than the holds; what is too heavy is taken down
        within = min(before.session, 1.0 - self.case.step)
        return self.demands(trial.state, load).session >= within - TOLERANCE

    def _effort(self, state: State, load: float, trial: _Trial) -> float:
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

    def _smallest(self, state: State, load: float, trials: list[_Trial]) -> list[Move]:
        """The one change that raises the demand least where none stays within the step; else the original.

        Less of the dose alone is none: it would put off the jump, and not make it smaller.
        """
        forced = [self._move_by_force(state, load, trial) for trial in trials if trial.rung is not Rung.LESS]
        smallest = [one for one in forced if one is not None]
        if smallest:
            return [min(smallest, key=itemgetter(0, 1))[-1]]
        whole = self.case.original.load
        return [self._move(state, load, _Trial(self.goal, Rung.LAST_LOAD, whole, whole), whole)]

    def _move_by_force(self, state: State, load: float, trial: _Trial) -> tuple[bool, float, Move] | None:
        """A trial with its least load, whether that is too hard, and its rise [1]; None where it is no change."""
        self.budget.count_move()
        heaviest = self.lift(trial.state).heaviest(1.0, trial.floor)
        if heaviest is None or (trial.state == state and heaviest <= load + LOAD_TOLERANCE):
            return None
        move = self._move(state, load, trial, heaviest)
        hard = heaviest > self._effort(state, load, trial) + LOAD_TOLERANCE
        return hard, move.rise or 0.0, move

    def _move(self, state: State, load: float, trial: _Trial, heaviest: float) -> Move:
        rise = self.rise(state, load, trial.state, heaviest)
        over = (
            rise is not None
            and rise > self.case.step + TOLERANCE
            and not self.is_tolerated(state, trial.state, heaviest)
        )
        return Move(trial.state, heaviest, trial.rung, rise, over)

    def _trials(self, state: State, load: float) -> Iterator[_Trial]:
        """The changes that one step may make, each with the loads [kg] between which it may be done.

        In the order of the ladder: tempo once the form is the original's, then sets and repetitions, then days.
        """
        holding = self.forms.hold(state.form) is not None
        restored = state.form == self.goal.form
        for dose in self._lowered(state.dose):
            yield from self._loads(state, load, dose)
            heavier = self.heavier(self.lift(state), load)
            for new, rung in self.forms.changes(state.form):
                yield from self._changed(state, load, replace(state, form=new, dose=dose), rung, heavier)
            if restored and not state.original_tempo:
                top = heavier if self.case.adjusted.tempo == self.case.original.tempo else load
                yield _Trial(replace(state, original_tempo=True, dose=dose), Rung.TEMPO, load, top, deeper=True)
            if self._days_may_rise(state) and (restored or not holding):
                more = Dose(dose.sets, dose.rung, (dose.days or 0) + 1)
                yield _Trial(replace(state, dose=more), Rung.DAYS, load, load)
        if restored and state.original_tempo:
            yield from self._more(state, load)

    def _loads(self, state: State, load: float, dose: Dose) -> Iterator[_Trial]:
        """More load, or what asks more than the original taken down."""
        lift, whole = self.lift(state), self.case.original.load
        new = replace(state, dose=dose)
        heavier = self.heavier(lift, load)
        if heavier > load and (self.forms.hold(state.form) is None or self.forms.hold(self.goal.form) is not None):
            yield _Trial(new, Rung.FIRST_LOAD, self.next_load(lift, load), heavier)
        top = min(load, whole) if state.form.original else load
        too_heavy = top < load - LOAD_TOLERANCE or lift.peak(load) > 1 + TOLERANCE
        if too_heavy or dose != state.dose:
            yield _Trial(new, Rung.LESS, lift.loads[0] if too_heavy else load, top)

    def _more(self, state: State, load: float) -> Iterator[_Trial]:
        """More repetitions, or more sets with as few repetitions as keep their sum."""
        now, end = state.dose, self.goal.dose
        heavier = self.heavier(self.lift(state), load)
        for dose in self._lowered(now):
            for rung in range(now.rung + 1, end.rung + 1):
                yield _Trial(replace(state, dose=Dose(dose.sets, rung, dose.days)), Rung.REPS, load, heavier)
        if now.sets < end.sets:
            sets = self.sets[bisect_right(self.sets, now.sets)]
            for rung in range(now.rung, self._least_rung(now, sets) - 1, -1):
                for days in self._days_lowered(now.days):
                    more = Dose(sets, rung, days)
                    yield _Trial(replace(state, dose=more), Rung.SETS, load, heavier)

    def _changed(self, state: State, load: float, new: State, rung: Rung, heavier: float) -> Iterator[_Trial]:
        """A change of the form: deeper with the load that fits, or as it is; another exercise at its entry."""
        if rung is Rung.HOLD:
            yield from self._moving(new, load)
        elif new.form.original != state.form.original:
            floor, ceiling = self._entry(state, load, new)
            yield _Trial(new, rung, floor, ceiling)
        else:
            loads = self.lift(new).loads  # of another implement they may be others
            near = load if new.form.kit == state.form.kit else loads[max(0, bisect_right(loads, load) - 1)]
            yield _Trial(new, rung, near, heavier if rung in _PAIRED else near, deeper=rung in _PAIRED)

    def _moving(self, new: State, load: float) -> Iterator[_Trial]:
        """From holds to repetitions: as many as in the original, or fewer where these would take longer."""
        end = self.goal.dose
        for rung in range(end.rung, -1, -1):
            yield _Trial(
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
            tolerated = lift.heaviest(min(1.0, self.lift(state).peak(load)), self.case.original.load)
            floor = max(floor, -inf if tolerated is None else tolerated)
        elif expected is None:
            expected = share_of_original(self.case, CHOICES.adjustments.untested_share)
        floor = max(floor, -inf if self.case.tolerated is None else self.case.tolerated)
        top = min(self.case.original.load, self.effort_ceiling(new))
        rounded_up = bisect_left(lift.loads, min(floor, top) - LOAD_TOLERANCE)
        if rounded_up == len(lift.loads) or lift.loads[rounded_up] > top + LOAD_TOLERANCE:
            rounded_up = max(0, rounded_up - 1)
        floor = lift.loads[rounded_up]
        return floor, max(floor, floor if expected is None else expected)

    def is_tolerated(self, state: State, new: State, load: float) -> bool:
        """Whether the original exercise is entered with no more than a load that is known to be tolerated.

        Args:
            state: what is done before
            new: what is done after
            load: load after [kg]
        """
        known, entered = self.case.tolerated, new.form.original != state.form.original
        return entered and known is not None and load <= known + LOAD_TOLERANCE

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

    def rung_of(self, move: Move) -> Rung:
        """The rung of a step; more load stands on several, by how far it has come and in which lift."""
        if move.rung != Rung.FIRST_LOAD:
            return move.rung
        lift: Lift = self.lift(move.state)
        if move.load >= CHOICES.return_plan.load_before_others * lift.loads[-1] - LOAD_TOLERANCE:
            return Rung.LAST_LOAD
        return Rung.FIRST_LOAD if move.state.form.original == self.start.form.original else Rung.LOAD_AGAIN
