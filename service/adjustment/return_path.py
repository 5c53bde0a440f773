"""The shortest way back: from lift, load and dose as adjusted to the original, one thing raised at a time.

States are a lift, its load, sets, repetitions and days; each step raises one of them, or changes the lift, and may take
load, repetitions or days down where that keeps the rise of the sore region's demand within the step. With all else
equal the heavier load has every way on that the lighter has, so only the heaviest is kept for each state. States are
looked at in the order of the weeks so far and the fewest that must still follow, so the first arrival is the shortest.
Of equally short ways the one with the fewest changes wins, a load taken down counting twice, and then the one that goes
by the order of the return ladder: load towards its share of the original, range of motion, the original variation,
tempo and rest, sets and repetitions, days, load to the full.
"""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush
from math import ceil
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription
from service.adjustment.return_case import CHOICE, DUST, ReturnCase, weeks_at
from service.adjustment.return_dose import allowed, cut_to
from service.adjustment.return_lifts import LOAD_NEAR
from service.adjustment.return_moves import Place, Rung, Steps
from service.refusals import Refusal
from service.training.progression import after_weeks_off

LATEST: Final = CHOICE.longest
_EARLY: Final = 2 * LATEST  # weight of a rung of the ladder in week 0; it falls by one a week


class Node(msgspec.Struct, frozen=True):
    """A place reached: load [kg], week in which it is first done, what led to it and what that cost."""

    place: Place
    load: float
    week: int
    before: Node | None
    cost: tuple[int, int]


class Search(Steps):
    """One search for the shortest way back.

    transition: the rule of each of the first weeks after a break; too_long: whether a way was left because it would
    take more weeks than are planned.
    """

    def __init__(self, case: ReturnCase) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had."""
        super().__init__(case)
        self.lifts_still = _distances(self.follows)
        self.transition = after_weeks_off(case.weeks_off)
        self.too_long = self._still(self._first()) > LATEST

    def path(self) -> list[Node] | None:
        """The steps of the shortest way, the last of them the original; None where no way stays within the step.

        Raises Refusal where there are more ways than can be looked at.
        """
        first = self._first()
        known: dict[tuple[int, Place], Node] = {(first.week, first.place): first}
        heap = [(first.week + self._still(first), first.week, 0, first)]
        best: dict[Place, list[tuple[int, float]]] = {}
        serial = looked_at = 0
        while heap:
            _, week, _, node = heappop(heap)
            if known.get((week, node.place)) is not node:
                continue
            if node.place == self.goal and node.load >= self.case.original.load - LOAD_NEAR and week > 0:
                return _steps(node)
            reached = best.setdefault(node.place, [])
            if any(when <= week and load >= node.load - LOAD_NEAR for when, load in reached) and not self._waiting(
                node
            ):
                continue
            looked_at += 1
            if looked_at > CHOICE.most_states:
                raise _too_far_apart()
            reached.append((week, node.load))
            for new in self._onward(node):
                expected = new.week + self._still(new)
                self.too_long = self.too_long or expected > LATEST
                if expected <= LATEST and _better(new, known.get((new.week, new.place))):
                    known[new.week, new.place] = new
                    serial += 1
                    heappush(heap, (expected, new.week, serial, new))
        return None

    def asks_no_less(self) -> bool:
        """Whether the adjusted prescription already asks as much as the original, of a repetition and of a session."""
        peak, exposure, _ = self.demands(self.start, self.case.adjusted.load)
        return self.comparable(self.start, self.goal) and peak >= 1 - DUST and exposure >= 1 - DUST

    def prescription(self, node: Node) -> Prescription:
        """What is done at a node; the original itself at the end."""
        case, place = self.case, node.place
        if place == self.goal and abs(node.load - case.original.load) < LOAD_NEAR:
            return case.original
        done = self.lifts[place.lift].done
        manner = case.original if place.manner else case.adjusted
        return msgspec.structs.replace(
            done,
            sets=place.dose.sets,
            reps=self.rungs[place.dose.rung],
            load=node.load,
            days=place.dose.days,
            tempo=manner.tempo,
            rest=manner.rest,
        )

    def _first(self) -> Node:
        """The adjusted prescription, in week 0 since it is done now; after a break cut down to the first week back."""
        load = self.case.adjusted.load
        if not self.transition:
            return Node(self.start, load, 0, None, (0, 0))
        dose = cut_to(self.start.dose, self.rungs, self.share(self.start, load), self.normal_week, self.transition[0])
        return Node(msgspec.structs.replace(self.start, dose=dose), load, 1, None, (0, 0))

    def _onward(self, node: Node) -> Iterator[Node]:
        """Everything that the next step may be."""
        place, load = node.place, node.load
        week = node.week + (weeks_at(place.dose.days) if node.week else 1)
        demands = self.demands(place, load)
        rule = self.transition[week - 1] if 0 < week <= len(self.transition) else None
        for new, ceiling, rung in self.moves(place, load):
            found = self.heaviest(new, ceiling, demands, bounded=self.comparable(place, new))
            if found is None or (new == place and found <= load + LOAD_NEAR):
                continue
            dose = new.dose
            if rule and not allowed(dose, self.rungs[dose.rung], self.share(new, found), self.normal_week, rule):
                continue
            changes = (
                _changes(place, new)
                + (abs(found - load) > LOAD_NEAR)
                + (found < load - LOAD_NEAR and rung is not Rung.LIFT)
            )
            ranked = _EARLY - week
            cost = (node.cost[0] + changes, node.cost[1] + ranked * self.rung_of(rung, place, load))
            yield Node(new, found, week, node, cost)
        if rule is not None:
            yield msgspec.structs.replace(node, week=node.week + 1, before=node)

    def _waiting(self, node: Node) -> bool:
        """Whether a week of the transition is spent with what was done before."""
        return node.before is not None and node.before.place == node.place and node.before.load == node.load

    def _still(self, node: Node) -> int:
        """The fewest weeks that must follow.

        Each week raises one thing. Sets, repetitions, days and manner raise no peak, so what the peak still has to rise
        needs weeks of its own; the session's sum needs as many weeks as the step asks for. In the original lift, where
        a load's rise stays within the step, what the sum lacks beyond the peak is left to weeks of sets and
        repetitions: a load taken down to win room for them costs at least the weeks that it wins.
        """
        place, end = node.place, self.goal.dose
        dose = place.dose
        apart = max(0, (end.days or 0) - (dose.days or 0)) + (not place.manner)
        of_dose = max(0, end.sets - dose.sets) + (dose.rung < end.rung)
        of_lift = self.lifts_still[place.lift] + self._loads_still(node)
        if not self.comparable(place, self.goal):
            return apart + of_dose + ceil(of_lift - LOAD_NEAR)
        step = self.case.step
        peak, exposure, _ = self.demands(place, node.load)
        of_lift = max(of_lift, (1.0 - peak) / step)
        if place.lift == self.goal.lift and self.load_within_step:
            return apart + ceil(of_lift + max(of_dose, (peak - exposure) / step) - LOAD_NEAR)
        return max(apart + of_dose + ceil(of_lift - LOAD_NEAR), ceil((1.0 - exposure) / step - LOAD_NEAR))

    def _loads_still(self, node: Node) -> float:
        """The fewest weeks in which the load goes up, parts of weeks counted; before a change of exercise one."""
        original, step = self.case.original, self.load_step
        if self.lifts[node.place.lift].done.exercise != original.exercise:
            return 1.0
        return max(0.0, (original.load - node.load) / step)


def _too_far_apart() -> Refusal:
    return Refusal.one(
        "adjusted",
        "The two prescriptions differ in so many things that the ways between them cannot all be looked at.",
        "an adjusted prescription nearer to the original, or a larger step",
    )


def _distances(follows: list[list[int]]) -> list[int]:
    """Fewest changes from each lift to the last one."""
    goal = len(follows) - 1
    found = {goal: 0}
    for place in range(goal - 1, -1, -1):
        found[place] = 1 + min((found[new] for new in follows[place] if new in found), default=len(follows))
    return [found[place] for place in range(len(follows))]


def _changes(place: Place, new: Place) -> int:
    before, after = place.dose, new.dose
    return sum(
        (
            place.lift != new.lift,
            place.manner != new.manner,
            before.sets != after.sets,
            before.rung != after.rung,
            before.days != after.days,
        )
    )


def _better(new: Node, known: Node | None) -> bool:
    if known is None or new.load > known.load + LOAD_NEAR:
        return True
    return new.load > known.load - LOAD_NEAR and new.cost < known.cost


def _steps(end: Node) -> list[Node]:
    """The nodes from the first step to the end; a week in which the same was done again is part of the step before."""
    found: list[Node] = []
    node: Node | None = end
    while node is not None:
        if node.week > 0:
            found.append(node)
        node = node.before
    ordered = found[::-1]
    return [
        node
        for place, node in enumerate(ordered)
        if place == 0 or (node.place, node.load) != (ordered[place - 1].place, ordered[place - 1].load)
    ]
