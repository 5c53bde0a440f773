"""What one step of the way back may be: a change, the ceiling of the load after it, the heaviest within the step."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from enum import IntEnum
from math import inf
from typing import NamedTuple

import msgspec

from service.adjustment.evaluation import tempo_factor
from service.adjustment.prescription import lifts_the_body, total_load
from service.adjustment.return_plan.dose import Dose, heaviest_share, ladder, middle
from service.adjustment.return_plan.problem import (
    CHOICE,
    DUST,
    TRIED,
    ReturnCase,
    heaviest_for_effort,
    share_of_maximum,
    weeks_at,
)
from service.adjustment.return_plan.variations import LOAD_NEAR, Lift, followers, lifts
from service.adjustment.return_plan.work import Work
from service.knowledge.substitutions import ratio_between
from service.training.return_to_training import Transition, after_weeks_off


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


class Place(msgspec.Struct, frozen=True, gc=False):
    """Where the way back has come to, the load apart; manner: whether tempo and rest are the original's again."""

    lift: int
    manner: bool
    dose: Dose


class Limits(NamedTuple):
    """What the sore region may carry after a step: peak [1], and peak times repetitions of a session and of a week."""

    peak: float
    session: float
    week: float


class Steps:
    """The states of one return and what may follow each.

    lifts: the adjusted first, the original last; follows: for each lift the places of those that may come next; rungs:
    ranges of repetitions, fewest first; normal_session, normal_week: repetitions of the original; transition: the rule
    of each of the first weeks after a break.
    """

    def __init__(self, case: ReturnCase, work: Work) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had, and TooMuchWork."""
        self.case = case
        self.work = work
        self.rungs = ladder(case)
        self.middles = tuple(middle(reps) for reps in self.rungs)
        self.efforts: dict[tuple[int, int, bool], float] = {}
        self.lifts = lifts(case, work)
        adjusted, original = case.adjusted, case.original
        self.normal_session = original.sets * middle(original.reps)
        self.normal_week = self.normal_session * (original.days or 1)
        same_manner = (adjusted.tempo, adjusted.rest) == (original.tempo, original.rest)
        self.follows = followers(self.lifts)
        self.slowed = {False: tempo_factor(original, adjusted), True: 1.0}
        end = Dose(original.sets, self.rungs.index(original.reps), original.days)
        self.goal = Place(lift=len(self.lifts) - 1, manner=True, dose=end)
        self.start = Place(0, same_manner, Dose(adjusted.sets, self.rungs.index(adjusted.reps), adjusted.days))
        self.share_of_load = CHOICE.load_step * total_load(original, case.body_mass)
        self.transition = after_weeks_off(case.weeks_off)

    def demands(self, place: Place, load: float) -> tuple[float, float, float]:
        """Peak of a repetition, sum of a session and sum of a week, each against the original's [1]."""
        peak = self.lifts[place.lift].peak(load)
        reps = place.dose.sets * self.middles[place.dose.rung]
        return peak, peak * reps / self.normal_session, peak * reps * (place.dose.days or 1) / self.normal_week

    def comparable(self, place: Place, new: Place) -> bool:
        """Whether the demands before and after a change of lift are told on one scale."""
        before, after = self.lifts[place.lift], self.lifts[new.lift]
        return before.told == after.told and (before.told or before.done.exercise == after.done.exercise)

    def onward(self, place: Place, load: float, step: float, week: int) -> Iterator[tuple[Place, float, Rung]]:
        """Everything that the next step may be, each with the heaviest load [kg] that it allows, and its rung.

        step: the most that the demand may rise [1]; week: in which it would first be done.
        """
        rule = self.rule_of(week)
        demands = self.demands(place, load)
        on_one_scale, apart = self.limits(demands, step), self.limits(demands, 1.0)
        end = self.goal.dose.rung
        most: dict[tuple[Rung, int, int, int | None], float] = {}
        for new, ceiling, rung in self.moves(place, load):
            self.work.move()
            limits = on_one_scale if new.lift == place.lift or self.comparable(place, new) else apart
            heaviest = self.heaviest(new, ceiling, limits, rule)
            if heaviest is None or (new == place and heaviest <= load + LOAD_NEAR):
                continue
            dose = new.dose
            if dose.rung >= end:  # fewer repetitions are worth looking at for more load, or as many as in the original
                kind = (rung, new.lift, dose.sets, dose.days)
                if dose.rung > end and heaviest <= most.get(kind, -inf) + LOAD_NEAR:
                    continue
                most[kind] = max(heaviest, most.get(kind, -inf))
            yield new, heaviest, rung

    def rule_of(self, week: int) -> Transition | None:
        """The rule of a week after a break, None where there is none."""
        return self.transition[week - 1] if 0 < week <= len(self.transition) else None

    def allowed(self, place: Place, load: float, week: int) -> bool:
        """Whether a week after a break allows a dose with a load [kg]."""
        rule = self.rule_of(week)
        if rule is None:
            return True
        most = heaviest_share(place.dose, self.rungs[place.dose.rung], self.normal_week, rule)
        return most is not None and self.share(self.lifts[place.lift], load) <= most + DUST

    def share(self, lift: Lift, load: float) -> float:
        """Share of the maximum in a lift that a load [kg] is [1]."""
        return share_of_maximum(self.case, lift.most, msgspec.structs.replace(lift.done, load=load))

    def moves(self, place: Place, load: float) -> Iterator[tuple[Place, float, Rung]]:
        """Places that one step may lead to, with the load's ceiling there [kg] and the rung of the ladder."""
        at, manner, now, end = place.lift, place.manner, place.dose, self.goal.dose
        heavier = self.heavier(self.lifts[at], load)
        exposed = self.first_exposure(load)
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
            for rung in range(now.rung + 1, end.rung + 1):
                yield Place(at, manner, Dose(dose.sets, rung, dose.days)), load, Rung.REPS
            if self._days_may_rise(place):
                yield Place(at, manner, Dose(dose.sets, dose.rung, (dose.days or 0) + 1)), load, Rung.DAYS
        if now.sets < end.sets:
            for rung in range(now.rung, self._least_rung(now) - 1, -1):
                for days in self._days_lowered(now.days):
                    yield Place(at, manner, Dose(now.sets + 1, rung, days)), load, Rung.SETS

    def limits(self, demands: tuple[float, float, float], step: float) -> Limits:
        """The most that may be asked after a step: of a repetition never more than the original asks."""
        peak, exposure, weekly = demands
        return Limits(
            min(peak + step, 1.0),
            min(exposure + step, max(1.0, exposure)) * self.normal_session,
            max(1.0, weekly) * self.normal_week,
        )

    def heaviest(self, new: Place, ceiling: float, limits: Limits, rule: Transition | None) -> float | None:
        """The heaviest load of a place within the limits, the effort, the week after a break and the ceiling [kg]."""
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

    def effort_ceiling(self, place: Place) -> float:
        """The heaviest load [kg] that leaves the least reserve; at the goal the original's, whatever it leaves."""
        case, lift = self.case, self.lifts[place.lift]
        if place == self.goal:
            return case.original.load
        key = (place.lift, place.dose.rung, place.manner)
        if key not in self.efforts:
            high = self.rungs[place.dose.rung].high
            self.efforts[key] = heaviest_for_effort(case, lift.most, high, self.slowed[place.manner]) - lift.body
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
                for days in self._days_lowered(dose.days):
                    yield Dose(sets, rung, days)

    def _days_lowered(self, days: int | None) -> tuple[int | None, ...]:
        """The days as they are and one fewer where they are above the original's."""
        end = self.goal.dose.days
        return (days, days - 1) if days is not None and end is not None and days > end else (days,)

    def heavier(self, lift: Lift, load: float) -> float:
        """The load to which one step may go [kg]: up by the configured share, or to the next load there is."""
        following = bisect_right(lift.loads, load + LOAD_NEAR)
        return max(load + self.share_of_load, lift.loads[following] if following < len(lift.loads) else load)

    def first_exposure(self, load: float) -> float:
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
