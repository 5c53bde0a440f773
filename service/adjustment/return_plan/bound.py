"""The fewest weeks that must still follow a state: never too many, so that the first arrival is the shortest.

Each step raises one thing. The lift and its load alone raise the peak of a repetition; a day more, tempo and rest raise
neither peak nor session. So two counts hold at once: one step for each thing that is missing; and the steps that the
session's sum needs, where each step that must come and cannot raise it by as much as is allowed falls short.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from itertools import count
from math import ceil, inf, isfinite
from typing import Final

from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift, Loads
from service.adjustment.return_plan.problem import weeks_at
from service.adjustment.return_plan.states import State
from service.adjustment.return_plan.transitions import StateSpace

_CURVED: Final = 1.05
"""A peak rises with the load nearly in a straight line, nowhere steeper by more than 2 %; five are left for it."""
_SAG: Final = 0.01
"""The same of the difference between two lifts, as a share of the original's peak [1]."""
_STEP_TOLERANCE: Final = 1e-4
"""Of a step [1]: what is missing by less than this needs no step more."""


class Remaining:
    """What is still missing, each part counted in steps that nothing else of the state can save.

    Attributes:
        space: states of the return
        step: largest rise in a week [1]
        same_exercise: for each lift whether it is the original's exercise
        alone: for each lift whether it is the only form of its exercise
        one_scale: for each lift whether every step from it on is held to the step
        largest_rise: largest rise of the load in a step [kg], by same_exercise
        changes: for each lift the fewest changes of lift to the original [count]
        usual: what steps fall short of with the original's repetitions, of changes by lift and of a load [1]
        with_more: the same with the most repetitions of a session on the way [1]
        loads: steps in which the load rises, by lift and load [kg]
        loads_after_change: the fewest of them after the change to the original's exercise [count]
        allowed_from: first week after a break in which the original is allowed [count]
    """

    def __init__(self, space: StateSpace) -> None:
        """Looks up what is the same for all states of a return."""
        self.space = space
        self.step = space.case.step
        original = space.case.original
        self.same_exercise = [lift.prescription.exercise == original.exercise for lift in space.lifts]
        self.alone = [self.same_exercise.count(same) == 1 for same in self.same_exercise]
        self.one_scale = _one_scale(space.lifts, self.same_exercise)
        self.largest_rise = {same: self._largest_rise(same_exercise=same) for same in (True, False)}
        self.changes = _lightest_way(space.follows, lambda _before, _new: 1.0)
        self.usual = self._short(1.0)
        self.with_more = self._short(max(1.0, _most_volume(space)))
        self.loads: dict[tuple[int, float], float] = {}
        self.loads_after_change = self._after_change(max(space.lifts[0].loads))
        self.allowed_from = next(week for week in count(1) if space.allowed(space.goal, original.load, week))

    def weeks(self, state: State, load: float, week: int) -> float:
        """Time until the original at the least.

        Args:
            state: what is done
            load: load that is used [kg]
            week: week in which it is first done, 0 for what is done now [count]

        Returns:
            time [weeks], infinite where no way leads on
        """
        still = self.steps_from(state, load)
        to_wait = max(0, self.allowed_from - week)
        if still in (0, inf):
            return max(still, to_wait)
        days, most = state.dose.days, self.space.goal.dose.days
        quickest = weeks_at(None if days is None or most is None else max(days, most))
        first = weeks_at(days) if week else 1
        return max(first + (still - 1) * quickest, to_wait)

    def steps_from(self, state: State, load: float) -> float:
        """Steps until the original at the least.

        Args:
            state: what is done
            load: load that is used [kg]

        Returns:
            The number of steps [count], infinite where no way leads on.
        """
        dose, end, at = state.dose, self.space.goal.dose, state.lift
        others = max(0, (end.days or 0) - (dose.days or 0)) + (not state.original_tempo)
        of_dose = max(0, end.sets - dose.sets) + (dose.rung < end.rung)
        loads = self._loads(at, load)
        of_lift = self.changes[at] + loads
        if of_lift == inf or not self.one_scale[at]:
            return others + of_dose + of_lift
        peak, session, _ = self.space.demands(state, load)
        of_lift = max(of_lift, ceil((1.0 - peak) / self.step - _STEP_TOLERANCE))
        sure = loads if self.same_exercise[at] else self.loads_after_change
        more = dose.sets > end.sets or dose.rung > end.rung
        by_changes, by_load = self.with_more if more else self.usual
        short = by_changes[at] + sure * by_load
        return others + max(of_dose + of_lift, ceil((1.0 - session) / self.step + short - _STEP_TOLERANCE))

    def _loads(self, at: int, load: float) -> float:
        """Steps in which the load [kg] goes up: in the original's exercise, or before and after the change to it."""
        key = (at, load)
        steps = self.loads.get(key)
        if steps is None:
            steps = self.loads[key] = (
                self._loads_in_original(at, load) if self.same_exercise[at] else self._loads_in_other(at, load)
            )
        return steps

    def _loads_in_original(self, at: int, load: float) -> float:
        if load >= self.space.case.original.load - LOAD_TOLERANCE:
            return 0
        heavier = self._heavier(at, load)
        return inf if heavier <= load + LOAD_TOLERANCE else 1 + self._loads(at, heavier)

    def _loads_in_other(self, at: int, load: float) -> float:
        fewest, risen = inf, 0
        while risen < fewest:
            fewest = min(fewest, risen + self._after_change(load))
            heavier = self._heavier(at, load)
            if heavier <= load + LOAD_TOLERANCE:
                break
            load, risen = heavier, risen + 1
        return fewest

    def _after_change(self, load: float) -> float:
        """The same once the original's exercise is taken up from a load [kg] in the other."""
        at = len(self.same_exercise) - 1
        loads = self.space.lifts[at].loads
        entry = bisect_right(loads, self.space.first_exposure(load) + LOAD_TOLERANCE) - 1
        return self._loads(at if self.alone[at] else self.same_exercise.index(True), loads[max(0, entry)])

    def _heavier(self, at: int, load: float) -> float:
        """The heaviest load [kg] after one step; held to the peak where the load cannot rise in another form first."""
        lift = self.space.lifts[at]
        ceiling = self.space.heavier(lift, load)
        if at == len(self.same_exercise) - 1 or self.alone[at]:
            heaviest = lift.heaviest(min(lift.peak(load) + self.step, 1.0), ceiling)
            return load if heaviest is None else heaviest
        return self._within(lift.loads, load, min(ceiling, load + self.largest_rise[self.same_exercise[at]]))

    @staticmethod
    def _within(loads: Loads, load: float, ceiling: float) -> float:
        """The heaviest load [kg] up to a ceiling, at least the next one after a load."""
        index = max(bisect_right(loads, ceiling + LOAD_TOLERANCE) - 1, bisect_right(loads, load + LOAD_TOLERANCE))
        return loads[min(index, len(loads) - 1)]

    def _largest_rise(self, *, same_exercise: bool) -> float:
        """The most by which a load [kg] rises in one step with the peak within the step, in any form of an exercise."""
        slopes = [
            lift.slope for lift, same in zip(self.space.lifts, self.same_exercise, strict=True) if same == same_exercise
        ]
        return inf if min(slopes, default=0.0) <= 0 else self.step * _CURVED / min(slopes)

    def _short(self, volume: float) -> tuple[list[float], float]:
        """By how much of a step [1] the changes from each lift on, and a rise of the load, raise a session too little.

        volume: the most repetitions of a session, against the original's [1].
        """
        changes = _lightest_way(self.space.follows, lambda before, new: self._short_by_change(before, new, volume))
        return changes, self._short_by_load(volume)

    def _short_by_load(self, volume: float) -> float:
        """Of one rise of the load in the original's exercise."""
        space = self.space
        loads = space.lifts[-1].loads
        most = self.largest_rise[True]
        jump = max(
            self._within(loads, load, min(space.heavier(space.lifts[-1], load), load + most)) - load for load in loads
        )
        slopes = [lift.slope for lift, same in zip(space.lifts, self.same_exercise, strict=True) if same]
        if min(slopes) <= 0:
            return 0.0
        return max(0.0, 1.0 - volume * _CURVED * max(slopes) * jump / self.step)

    def _short_by_change(self, at: int, following: int, volume: float) -> float:
        """Of one change of lift; to another exercise it may be a whole step."""
        before, new = self.space.lifts[at], self.space.lifts[following]
        if before.prescription.exercise != new.prescription.exercise or before.has_number != new.has_number:
            return 0.0
        rises = [new.peak(load) - before.peak(load) for load in (new.loads[0], new.loads[-1])]
        if not all(map(isfinite, rises)):
            return 0.0
        return min(1.0, max(0.0, 1.0 - volume * (max(0.0, *rises) + _SAG) / self.step))


def _one_scale(lifts: list[Lift], same_exercise: list[bool]) -> list[bool]:
    """For each lift whether every step from it on is held to the step."""
    all_known = all(lift.has_number for lift in lifts)
    alike = len({lift.has_number for lift, same in zip(lifts, same_exercise, strict=True) if same}) == 1
    return [all_known or (same and alike) for same in same_exercise]


def _most_volume(space: StateSpace) -> float:
    """The most repetitions of a session on the way, against the original's [1]."""
    return max(space.start.dose.sets, space.goal.dose.sets) * max(space.middles) / space.normal_session


def _lightest_way(follows: list[list[int]], weight: Callable[[int, int], float]) -> list[float]:
    """For each lift the least sum of weights over the changes to the last one; infinite where none leads there."""
    last = len(follows) - 1
    sums = [inf] * last + [0.0]
    for before in range(last - 1, -1, -1):
        sums[before] = min((weight(before, new) + sums[new] for new in follows[before]), default=inf)
    return sums
