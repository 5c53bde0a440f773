"""The states of one return: what is lifted in each, what that asks, and the effort and the dose that bound it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from math import ceil, inf

from msgspec.structs import replace

from service.adjustment.arm import REGIONS_OF_ARM
from service.adjustment.evaluation import tempo_factor
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.dose import Dose, heaviest_share, ladder, middle, sets_between
from service.adjustment.return_plan.forms import Forms
from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift
from service.adjustment.return_plan.problem import (
    TOLERANCE,
    ReturnCase,
    expected_reserve,
    heaviest_for_effort,
    share_of_maximum,
)
from service.adjustment.return_plan.states import Demands, Form, State
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.training.return_to_training import Transition, after_weeks_off
from service.training.tempo import phase_seconds, seconds_per_rep


class StateSpace:
    """The states of one return.

    Attributes:
        case: the return
        budget: of postures and moves
        forms: of the lift
        direct: whether not all ways could be looked at and the direct one was taken
        sets: numbers of sets, fewest first [count]
        rungs: ranges of repetitions, fewest first
        middles: their middles [count]
        rep_seconds: length of a repetition of the original [s]
        efforts: heaviest loads that leave the least reserve [kg], by form, rung and tempo
        normal_session: repetitions of a session of the original [count]
        normal_week: repetitions of a week of the original [count]
        slowed: share of the repetitions to failure that a tempo leaves [1], by State.original_tempo
        start: the adjusted prescription
        goal: the original one
        largest_load_step: largest rise of the load in a step [kg]
        transition: rule of each of the first weeks after a break
    """

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Raises Refusal where one of the two prescriptions cannot be had, and BudgetExceeded."""
        self.case = case
        self.budget = budget
        self.forms = Forms(case, budget)
        self.direct = False
        self.sets = sets_between(case)
        self.rungs = ladder(case)
        self.middles = tuple(middle(reps) for reps in self.rungs)
        adjusted, original = case.adjusted, case.original
        tempo = original.tempo
        self.rep_seconds = seconds_per_rep(phase_seconds(tempo)).value if tempo else CHOICES.return_plan.rep_seconds
        self.efforts: dict[tuple[Form, int, bool], float] = {}
        self.slowed = {False: tempo_factor(original, adjusted), True: 1.0}
        same_tempo = (adjusted.tempo, adjusted.rest) == (original.tempo, original.rest)
        end = Dose(original.sets, self.rungs.index(original.reps), original.days)
        self.goal = State(self.forms.goal, original_tempo=True, dose=end)
        begin = Dose(adjusted.sets, self.rungs.index(adjusted.reps), adjusted.days)
        self.start = State(self.forms.start, original_tempo=same_tempo, dose=begin)
        self.normal_session = self.repetitions(self.goal)
        self.normal_week = self.normal_session * (original.days or 1)
        self.largest_load_step = min(CHOICES.return_plan.load_step, case.step) * total_load(original, case.body_mass)
        self.transition = after_weeks_off(case.weeks_off)

    def lift(self, state: State) -> Lift:
        """The lift of a state."""
        return self.forms.lift(state.form, original_tempo=state.original_tempo)

    def repetitions(self, state: State) -> float:
        """Repetitions of a session [count]; a hold counts as the repetitions that take as long."""
        hold = self.forms.hold(state.form)
        each = 1.0 if hold is None else hold / self.rep_seconds
        return state.dose.sets * self.middles[state.dose.rung] * each

    def demands(self, state: State, load: float) -> Demands:
        """What the sore region carries in a state.

        Args:
            state: what is done
            load: on the implement [kg]
        """
        peak, reps = self.lift(state).peak(load), self.repetitions(state)
        return Demands(peak, peak * reps / self.normal_session, peak * reps * (state.dose.days or 1) / self.normal_week)

    def comparable(self, form: Form, new: Form) -> bool:
        """Whether the demands of two forms are on one scale: of numbers, or of loads in the same lift."""
        if form == new:
            return True
        before, after = (self.forms.lift(one, original_tempo=False) for one in (form, new))
        if before.has_number != after.has_number or form.kit != new.kit:
            return False
        if form.cues != new.cues and not before.has_number:  # nobody knows what the cue takes off
            return False
        same = form.original == new.original
        by_model = before.prescription.exercise in EXERCISE_RULES or self._seen_by_arm(before.prescription)
        seen = by_model or form.depth == new.depth  # where it changes
        return same and seen if not before.has_number else not same or seen

    @property
    def _unloaded(self) -> bool:
        """Whether the body alone is lifted, so that within one lift only the amount differs."""
        return not total_load(self.case.original, self.case.body_mass)

    def _seen_by_arm(self, prescription: Prescription) -> bool:
        """Whether the model of the arm sees what the range of a lift does to the region."""
        arms, region = self.case.present.arms, self.case.region
        return arms is not None and region in REGIONS_OF_ARM and bool(arms.has_number(prescription, region))

    def rise(self, state: State, load: float, new: State, new_load: float) -> float | None:
        """Rise of the sore region's demand, of a repetition, a session or on as many days a week [1].

        Args:
            state: what is done before
            load: load before [kg]
            new: what is done after
            new_load: load after [kg]

        Returns:
            The largest of the rises [1], None where the two have no common scale.
        """
        scaled = self.lift(state).has_scale(load) and self.lift(new).has_scale(new_load)
        if not self.comparable(state.form, new.form) or not (scaled or self._unloaded):
            return None
        before, after = self.demands(state, load), self.demands(new, new_load)
        return rise_between(before, after, same_days=state.dose.days == new.dose.days)

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
        return most is not None and self.share(self.lift(state), load) <= most + TOLERANCE

    def ceiling_of(self, state: State, rule: Transition | None) -> float | None:
        """The heaviest load that a week after a break allows with a dose [kg]; None where it allows none."""
        if rule is None:
            return inf
        share, lift = heaviest_share(state.dose, self.rungs[state.dose.rung], self.normal_week, rule), self.lift(state)
        return None if share is None else inf if share == inf else share * lift.most - lift.body

    def share(self, lift: Lift, load: float) -> float:
        """Share of the maximum in a lift that a load is.

        Args:
            lift: way of lifting
            load: on the implement [kg]

        Returns:
            The share [1].
        """
        return share_of_maximum(self.case, lift.most, replace(lift.prescription, load=load))

    def effort_ceiling(self, state: State) -> float:
        """The heaviest load [kg] that leaves the least reserve; at the goal the original's, whatever it leaves."""
        if state == self.goal:
            return self.case.original.load
        key = (state.form, state.dose.rung, state.original_tempo)
        if key not in self.efforts:
            lift = self.lift(state)
            high, slowed = self.rungs[state.dose.rung].high, self.slowed[state.original_tempo]
            self.efforts[key] = heaviest_for_effort(self.case, lift.most, high, slowed) - lift.body
        return self.efforts[key]

    def next_load(self, lift: Lift, load: float) -> float:
        """The next heavier load that can be put on.

        Args:
            lift: way of lifting
            load: that is used now [kg]

        Returns:
            The load [kg], the same where there is none.
        """
        following = bisect_right(lift.loads, load + LOAD_TOLERANCE)
        return lift.loads[following] if following < len(lift.loads) else load

    def heavier(self, lift: Lift, load: float) -> float:
        """The load to which one step may go: by the configured share, rounded up to what can be put on.

        In as many even parts as it takes to the original's load, or a substitute's heaviest, so that the last is no
        smaller than the others.

        Args:
            lift: way of lifting
            load: that is used now [kg]

        Returns:
            The load [kg].
        """
        original = self.case.original
        whole = original.load if lift.prescription.exercise == original.exercise else lift.loads[-1]
        left = max(0.0, whole - load)
        parts = max(1, ceil(left / self.largest_load_step - TOLERANCE)) if self.largest_load_step else 1
        upward = bisect_left(lift.loads, load + left / parts - LOAD_TOLERANCE)
        return lift.loads[min(upward, len(lift.loads) - 1)]

    def prescription(self, state: State, load: float) -> Prescription:
        """What is done in a state; the original itself at the end.

        Args:
            state: what is done
            load: on the implement [kg]
        """
        case = self.case
        if state == self.goal and abs(load - case.original.load) < LOAD_TOLERANCE:
            return case.original
        timing = case.original if state.original_tempo else case.adjusted
        return replace(
            self.forms.prescription(state.form),
            sets=state.dose.sets,
            reps=self.rungs[state.dose.rung],
            load=load,
            days=state.dose.days,
            tempo=timing.tempo,
            rest=timing.rest,
        )

    def as_prescribed(self, state: State, load: float) -> Prescription:
        """What is done in a state, with the repetitions that are expected to be left.

        Args:
            state: what is done
            load: on the implement [kg]
        """
        case, new = self.case, self.prescription(state, load)
        if new is case.original:
            return new
        expected = expected_reserve(case, self.lift(state).most, new)
        return replace(new, reserve=max(expected, case.least_reserve))


def rise_between(before: Demands, after: Demands, *, same_days: bool) -> float:
    """The largest rise of demand [1]: of a repetition, over a session and, on as many days, over a week."""
    of_week = after.week - before.week if same_days else 0.0
    return max(after.peak - before.peak, after.session - before.session, of_week)
