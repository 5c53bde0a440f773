"""What one step of the way back may be: a change, the ceiling of the load after it, the heaviest within the step."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from enum import IntEnum
from itertools import pairwise

import msgspec

from service.adjustment.case import tempo_factor
from service.adjustment.prescription import lifts_the_body, total_load
from service.adjustment.return_case import CHOICE, DUST, TRIED, ReturnCase, heaviest_for_effort, weeks_at
from service.adjustment.return_dose import Dose, ladder, middle
from service.adjustment.return_lifts import LOAD_NEAR, followers, lifts
from service.knowledge.substitution import ratio_between


class Rung(IntEnum):
    """The return ladder from its foot: what comes first where two ways are equally short."""

    FIRST_LOAD = 0
    RANGE = 1
    LIFT = 2
    LOAD_AGAIN = 3
    MANNER = 4
    SETS = 5
    REPS = 6
    DAYS = 7
    LAST_LOAD = 8
    LESS = 9


class Place(msgspec.Struct, frozen=True):
    """Where the way back has come to, the load apart; manner: whether tempo and rest are the original's again."""

    lift: int
    manner: bool
    dose: Dose


class Steps:
    """The states of one return and what may follow each.

    lifts: the adjusted first, the original last; follows: for each lift the places of those that may come next; rungs:
    ranges of repetitions, fewest first; normal_session, normal_week: repetitions of the original.
    """

    def __init__(self, case: ReturnCase) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had."""
        self.case = case
        self.rungs = ladder(case)
        self.middles = tuple(middle(reps) for reps in self.rungs)
        self.efforts: dict[tuple[int, int, bool], float] = {}
        self.lifts = lifts(case)
        adjusted, original = case.adjusted, case.original
        self.normal_session = original.sets * middle(original.reps)
        self.normal_week = self.normal_session * (original.days or 1)
        same_manner = (adjusted.tempo, adjusted.rest) == (original.tempo, original.rest)
        self.follows = followers(self.lifts)
        self.slowed = {False: tempo_factor(original, adjusted), True: 1.0}
        end = Dose(original.sets, self.rungs.index(original.reps), original.days)
        self.goal = Place(lift=len(self.lifts) - 1, manner=True, dose=end)
        self.start = Place(0, same_manner, Dose(adjusted.sets, self.rungs.index(adjusted.reps), adjusted.days))
        gaps = [heavier - lighter for lighter, heavier in pairwise(self.lifts[-1].loads)]
        self.share_of_load = CHOICE.load_step * total_load(original, case.body_mass)
        self.load_step = max([self.share_of_load, *gaps])
        self.load_within_step = self.lifts[-1].steepest() * self.load_step <= case.step

    def demands(self, place: Place, load: float) -> tuple[float, float, float]:
        """Peak of a repetition, sum of a session and sum of a week, each against the original's [1]."""
        peak = self.lifts[place.lift].peak(load)
        reps = place.dose.sets * self.middles[place.dose.rung]
        return peak, peak * reps / self.normal_session, peak * reps * (place.dose.days or 1) / self.normal_week

    def comparable(self, place: Place, new: Place) -> bool:
        """Whether the demands before and after a change of lift are told on one scale."""
        before, after = self.lifts[place.lift], self.lifts[new.lift]
        return before.told == after.told and (before.told or before.done.exercise == after.done.exercise)

    def share(self, place: Place, load: float) -> float:
        """Share of the maximum in the lift of a place that a load [kg] is [1]."""
        lift = self.lifts[place.lift]
        return total_load(msgspec.structs.replace(lift.done, load=load), self.case.body_mass) / lift.most

    def moves(self, place: Place, load: float) -> Iterator[tuple[Place, float, Rung]]:
        """Places that one step may lead to, with the load's ceiling there [kg] and the rung of the ladder."""
        at, manner, now, end = place.lift, place.manner, place.dose, self.goal.dose
        heavier = self._heavier(place, load)
        exposed = self._first_exposure(load)
        for dose in self._lowered(now):
            yield Place(at, manner, dose), heavier, Rung.FIRST_LOAD
            if dose != now:
                yield Place(at, manner, dose), load, Rung.LESS
            for lift in self.follows[at]:
                changed = self.lifts[lift].done.exercise != self.lifts[at].done.exercise
                kept = self.lifts[lift].back == self.lifts[at].back
                yield Place(lift, manner, dose), exposed if changed else load, Rung.RANGE if kept else Rung.LIFT
            if not manner:
                yield Place(lift=at, manner=True, dose=dose), load, Rung.MANNER
            if now.sets < end.sets:
                for rung in range(self._least_rung(now), dose.rung + 1):
                    yield Place(at, manner, Dose(now.sets + 1, rung, dose.days)), load, Rung.SETS
            for rung in range(now.rung + 1, end.rung + 1):
                yield Place(at, manner, Dose(dose.sets, rung, dose.days)), load, Rung.REPS
            if self._days_may_rise(place):
                yield Place(at, manner, Dose(dose.sets, dose.rung, (dose.days or 0) + 1)), load, Rung.DAYS

    def heaviest(
        self, new: Place, ceiling: float, demands: tuple[float, float, float], *, bounded: bool
    ) -> float | None:
        """The heaviest load of a new place within the step, the effort and the ceiling [kg]."""
        lift, dose = self.lifts[new.lift], new.dose
        reps = dose.sets * self.middles[dose.rung]
        peak, exposure, weekly = demands
        step = self.case.step if bounded else 1.0
        most = min(
            peak + step,
            max(1.0, peak),
            min(exposure + step, max(1.0, exposure)) * self.normal_session / reps,
            max(1.0, weekly) * self.normal_week / (reps * (dose.days or 1)),
        )
        return lift.heaviest(most, min(ceiling, self._for_effort(new)))

    def _for_effort(self, place: Place) -> float:
        """The heaviest load [kg] that leaves the least reserve; at the goal the original's, whatever it leaves."""
        case, lift = self.case, self.lifts[place.lift]
        if place == self.goal:
            return case.original.load
        key = (place.lift, place.dose.rung, place.manner)
        if key not in self.efforts:
            body = case.body_mass if lifts_the_body(lift.done.exercise) else 0.0
            high = self.rungs[place.dose.rung].high
            self.efforts[key] = heaviest_for_effort(case, lift.most, high, self.slowed[place.manner]) - body
        return self.efforts[key]

    def rung_of(self, rung: Rung, place: Place, load: float) -> Rung:
        """The rung of the ladder; more load stands on several, by how far it has come and in which lift."""
        if rung != Rung.FIRST_LOAD:
            return rung
        lift = self.lifts[place.lift]
        if load >= CHOICE.load_before_others * lift.loads[-1] - LOAD_NEAR:
            return Rung.LAST_LOAD
        return Rung.FIRST_LOAD if lift.back == self.lifts[0].back else Rung.LOAD_AGAIN

    def _least_rung(self, dose: Dose) -> int:
        """The rung at which one more set makes no more repetitions than now; fewer would be given away."""
        same = dose.sets * self.middles[dose.rung] / (dose.sets + 1)
        return max(0, bisect_right(self.middles, same + DUST) - 1)

    def _days_may_rise(self, place: Place) -> bool:
        """Days are added once the rest of the dose and the lift are as in the original.

        Unless there are so few days that a step takes longer for it: then as early as may be.
        """
        dose, end = place.dose, self.goal.dose
        if dose.days is None or end.days is None or dose.days >= end.days:
            return False
        done = place.manner and place.lift == self.goal.lift and dose.sets >= end.sets and dose.rung >= end.rung
        return done or weeks_at(dose.days) > 1

    def _lowered(self, dose: Dose) -> Iterator[Dose]:
        """The dose as it is and with what is above the original's taken down: sets, repetitions, a day."""
        end = self.goal.dose
        for sets in dict.fromkeys((dose.sets, min(dose.sets, end.sets))):
            for rung in range(dose.rung, min(dose.rung, end.rung) - 1, -1):
                yield Dose(sets, rung, dose.days)
                if dose.days is not None and end.days is not None and dose.days > end.days:
                    yield Dose(sets, rung, dose.days - 1)

    def _heavier(self, place: Place, load: float) -> float:
        """The load to which one step may go [kg]: up by the configured share, or to the next load there is."""
        loads = self.lifts[place.lift].loads
        following = bisect_right(loads, load + LOAD_NEAR)
        return max(load + self.share_of_load, loads[following] if following < len(loads) else load)

    def _first_exposure(self, load: float) -> float:
        """The load [kg] at which the original lift is taken up again, by the stated start rule."""
        case = self.case
        body = case.body_mass
        before = load + (body if lifts_the_body(case.adjusted.exercise) else 0.0)
        after = body if lifts_the_body(case.original.exercise) else 0.0
        whole = case.original.load + after
        ratio = ratio_between(case.adjusted.exercise, case.original.exercise)
        margin = CHOICE.first_exposure_margin
        start = TRIED.untested_share * whole if ratio is None else margin * min(whole, before * ratio.ratio)
        return max(start - after, self.lifts[-1].loads[0])
