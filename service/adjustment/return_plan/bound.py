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

from service.adjustment.return_plan.problem import weeks_at
from service.adjustment.return_plan.transitions import Place, Steps
from service.adjustment.return_plan.variations import LOAD_NEAR, Lift, Loads

_CURVED = 1.05
"""A peak rises with the load nearly in a straight line, nowhere steeper by more than 2 %; five are left for it."""
_SAG = 0.01
"""The same of the difference between two lifts, as a share of the original's peak [1]."""


class Remaining:
    """What is still missing, each part counted in steps that nothing else of the state can save."""

    def __init__(self, steps: Steps) -> None:
        """Looks up what is the same for all states of a return."""
        self.steps = steps
        self.step = steps.case.step
        original = steps.case.original
        self.back = [lift.done.exercise == original.exercise for lift in steps.lifts]
        self.alone = [self.back.count(back) == 1 for back in self.back]
        self.one_scale = _one_scale(steps.lifts, self.back)
        self.largest_rise = {back: self._largest_rise(back=back) for back in (True, False)}
        self.changes = _lightest_way(steps.follows, lambda _before, _new: 1.0)
        self.usual = self._short(1.0)
        self.with_more = self._short(max(1.0, _most_volume(steps)))
        self.loads: dict[tuple[int, float], float] = {}
        self.loads_after_change = self._after_change(max(steps.lifts[0].loads))
        self.allowed_from = next(week for week in count(1) if steps.allowed(steps.goal, original.load, week))

    def weeks(self, place: Place, load: float, week: int) -> float:
        """Weeks until the original at the least, from a place and load [kg] in a week, 0 for what is done now.

        Infinite where no way leads on.
        """
        still = self.steps_from(place, load)
        to_wait = max(0, self.allowed_from - week)
        if still in (0, inf):
            return max(still, to_wait)
        days, most = place.dose.days, self.steps.goal.dose.days
        quickest = weeks_at(None if days is None or most is None else max(days, most))
        first = weeks_at(days) if week else 1
        return max(first + (still - 1) * quickest, to_wait)

    def steps_from(self, place: Place, load: float) -> float:
        """Steps until the original at the least; infinite where no way leads on."""
        dose, end, at = place.dose, self.steps.goal.dose, place.lift
        others = max(0, (end.days or 0) - (dose.days or 0)) + (not place.manner)
        of_dose = max(0, end.sets - dose.sets) + (dose.rung < end.rung)
        loads = self._loads(at, load)
        of_lift = self.changes[at] + loads
        if of_lift == inf or not self.one_scale[at]:
            return others + of_dose + of_lift
        peak, session, _ = self.steps.demands(place, load)
        of_lift = max(of_lift, ceil((1.0 - peak) / self.step - LOAD_NEAR))
        sure = loads if self.back[at] else self.loads_after_change
        more = dose.sets > end.sets or dose.rung > end.rung
        by_changes, by_load = self.with_more if more else self.usual
        short = by_changes[at] + sure * by_load
        return others + max(of_dose + of_lift, ceil((1.0 - session) / self.step + short - LOAD_NEAR))

    def _loads(self, at: int, load: float) -> float:
        """Steps in which the load [kg] goes up: in the original's exercise, or before and after the change to it."""
        key = (at, load)
        found = self.loads.get(key)
        if found is None:
            found = self.loads[key] = self._loads_back(at, load) if self.back[at] else self._loads_before(at, load)
        return found

    def _loads_back(self, at: int, load: float) -> float:
        if load >= self.steps.case.original.load - LOAD_NEAR:
            return 0
        heavier = self._heavier(at, load)
        return inf if heavier <= load + LOAD_NEAR else 1 + self._loads(at, heavier)

    def _loads_before(self, at: int, load: float) -> float:
        fewest, risen = inf, 0
        while risen < fewest:
            fewest = min(fewest, risen + self._after_change(load))
            heavier = self._heavier(at, load)
            if heavier <= load + LOAD_NEAR:
                break
            load, risen = heavier, risen + 1
        return fewest

    def _after_change(self, load: float) -> float:
        """The same once the original's exercise is taken up from a load [kg] in the other."""
        at = len(self.back) - 1
        loads = self.steps.lifts[at].loads
        entry = bisect_right(loads, self.steps.first_exposure(load) + LOAD_NEAR) - 1
        return self._loads(at if self.alone[at] else self.back.index(True), loads[max(0, entry)])

    def _heavier(self, at: int, load: float) -> float:
        """The heaviest load [kg] after one step; held to the peak where the load cannot rise in another form first."""
        lift = self.steps.lifts[at]
        ceiling = self.steps.heavier(lift, load)
        if at == len(self.back) - 1 or self.alone[at]:
            heaviest = lift.heaviest(min(lift.peak(load) + self.step, 1.0), ceiling)
            return load if heaviest is None else heaviest
        return self._within(lift.loads, load, min(ceiling, load + self.largest_rise[self.back[at]]))

    @staticmethod
    def _within(loads: Loads, load: float, ceiling: float) -> float:
        """The heaviest load [kg] up to a ceiling, at least the next one after a load."""
        place = max(bisect_right(loads, ceiling + LOAD_NEAR) - 1, bisect_right(loads, load + LOAD_NEAR))
        return loads[min(place, len(loads) - 1)]

    def _largest_rise(self, *, back: bool) -> float:
        """The most by which a load [kg] rises in one step with the peak within the step, in any form of an exercise."""
        slopes = [lift.slope for lift, is_back in zip(self.steps.lifts, self.back, strict=True) if is_back == back]
        return inf if min(slopes, default=0.0) <= 0 else self.step * _CURVED / min(slopes)

    def _short(self, volume: float) -> tuple[list[float], float]:
        """By how much of a step [1] the changes from each lift on, and a rise of the load, raise a session too little.

        volume: the most repetitions of a session, against the original's [1].
        """
        changes = _lightest_way(self.steps.follows, lambda before, new: self._short_by_change(before, new, volume))
        return changes, self._short_by_load(volume)

    def _short_by_load(self, volume: float) -> float:
        """Of one rise of the load in the original's exercise."""
        steps = self.steps
        loads = steps.lifts[-1].loads
        most = self.largest_rise[True]
        jump = max(
            self._within(loads, load, min(steps.heavier(steps.lifts[-1], load), load + most)) - load for load in loads
        )
        slopes = [lift.slope for lift, back in zip(steps.lifts, self.back, strict=True) if back]
        if min(slopes) <= 0:
            return 0.0
        return max(0.0, 1.0 - volume * _CURVED * max(slopes) * jump / self.step)

    def _short_by_change(self, place: int, following: int, volume: float) -> float:
        """Of one change of lift; to another exercise it may be a whole step."""
        before, new = self.steps.lifts[place], self.steps.lifts[following]
        if before.done.exercise != new.done.exercise or before.told != new.told:
            return 0.0
        rises = [new.peak(load) - before.peak(load) for load in (new.loads[0], new.loads[-1])]
        if not all(map(isfinite, rises)):
            return 0.0
        return min(1.0, max(0.0, 1.0 - volume * (max(0.0, *rises) + _SAG) / self.step))


def _one_scale(lifts: list[Lift], back: list[bool]) -> list[bool]:
    """For each lift whether every step from it on is held to the step."""
    all_told = all(lift.told for lift in lifts)
    alike = len({lift.told for lift, is_back in zip(lifts, back, strict=True) if is_back}) == 1
    return [all_told or (is_back and alike) for is_back in back]


def _most_volume(steps: Steps) -> float:
    """The most repetitions of a session on the way, against the original's [1]."""
    return max(steps.start.dose.sets, steps.goal.dose.sets) * max(steps.middles) / steps.normal_session


def _lightest_way(follows: list[list[int]], weight: Callable[[int, int], float]) -> list[float]:
    """For each lift the least sum of weights over the changes to the last one; infinite where none leads there."""
    last = len(follows) - 1
    sums = [inf] * last + [0.0]
    for before in range(last - 1, -1, -1):
        sums[before] = min((weight(before, new) + sums[new] for new in follows[before]), default=inf)
    return sums
