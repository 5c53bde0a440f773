"""The shortest way back: from lift, load and dose as adjusted to the original, one thing raised at a time.

States are a lift, its load, sets, repetitions and days; each step raises one of them, or changes the lift, and may take
load, repetitions or days down where that keeps the rise of the sore region's demand within the step. With all else
equal the heavier load has every way on that the lighter has, so only the heaviest is kept for each state. States are
looked at in the order of the weeks so far and the fewest that must still follow, so the first arrival is the shortest
(the A* search of Hart, Nilsson and Raphael, 1968). Among equally short ways those with the fewest changes come first, a
load taken down counting twice, and then those that go by the order of the return ladder: load towards its share of the
original, range of motion, the original variation, tempo and rest, sets and repetitions, days, load to the full.
"""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush
from itertools import count
from math import inf
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.bound import Remaining
from service.adjustment.return_plan.dose import cut_to
from service.adjustment.return_plan.problem import CHOICE, DUST, ReturnCase, weeks_at
from service.adjustment.return_plan.transitions import Place, Rung, Steps
from service.adjustment.return_plan.variations import LOAD_NEAR
from service.adjustment.return_plan.work import Work

LATEST: Final = CHOICE.longest
_EARLY: Final = 2 * LATEST  # weight of a rung of the ladder in week 0; it falls by one a week


class Node(msgspec.Struct, frozen=True, gc=False):
    """A place reached: load [kg], week in which it is first done, what led to it and what that cost."""

    place: Place
    load: float
    week: int
    before: Node | None = None
    changes: int = 0
    ladder: int = 0


class Search(Steps):
    """One search for the shortest way back.

    remaining: the fewest weeks that must follow; first: where the way begins; heap: nodes in the order of their turn,
    serial where that is the same; waiting: the best of them by week and place; reached: weeks and loads [kg] in which a
    place was looked at; too_long: whether a way was left because
    it would take more weeks than are planned.
    """

    def __init__(self, case: ReturnCase, work: Work) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had, and TooMuchWork."""
        super().__init__(case, work)
        self.remaining = Remaining(self)
        self.first = self._first()
        self.too_long = False
        self.serial = count()
        self.heap: list[tuple[tuple[float, ...], int, Node]] = []
        self.waiting: dict[tuple[int, Place], Node] = {}
        self.reached: dict[Place, list[tuple[int, float]]] = {}

    def path(self) -> list[Node] | None:
        """The steps of the shortest way, the last of them the original; None where no way stays within the step.

        Raises TooMuchWork where there are more ways than can be looked at.
        """
        if not self.begins_too_hard():
            self._await(self.first)
        while self.heap:
            node = heappop(self.heap)[-1]
            if self.waiting.get((node.week, node.place)) is not node:
                continue
            if self._is_goal(node) and node.week > 0:
                return _steps(node)
            if self._no_better(node):
                continue
            self.reached.setdefault(node.place, []).append((node.week, node.load))
            for new in self._onward(node):
                self._await(new)
        return None

    def reaches(self, step: float) -> bool:
        """Whether some way, however long, stays within a step [1]; the nearest to the original is looked at first.

        Raises TooMuchWork where there are more ways than can be looked at.
        """
        heap = [(0.0, next(self.serial), self.first)]
        heaviest = {self.first.place: self.first.load}
        after_the_break = len(self.transition) + 1
        while heap:
            node = heappop(heap)[-1]
            if self._is_goal(node):
                return True
            if node.load < heaviest[node.place]:
                continue
            for place, load, _ in self.onward(node.place, node.load, step, after_the_break):
                if load > heaviest.get(place, -inf) + LOAD_NEAR:
                    heaviest[place] = load
                    new = Node(place, load, after_the_break)
                    heappush(heap, (self.remaining.steps_from(place, load), next(self.serial), new))
        return False

    def begins_too_hard(self) -> bool:
        """Whether the first week after a break would ask more of a repetition than the original does."""
        peak, _, _ = self.demands(self.first.place, self.first.load)
        return self.first.week > 0 and peak > 1 + DUST

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
        load, lift = self.case.adjusted.load, self.lifts[self.start.lift]
        if not self.transition:
            return Node(self.start, load, 0)
        held = lift.heaviest(1.0, load)
        load = load if held is None else held
        dose = cut_to(self.start.dose, self.rungs, self.share(lift, load), self.normal_week, self.transition[0])
        return Node(msgspec.structs.replace(self.start, dose=dose), load, 1)

    def _is_goal(self, node: Node) -> bool:
        return node.place == self.goal and node.load >= self.case.original.load - LOAD_NEAR

    def _await(self, node: Node) -> None:
        """Put a node where it will be looked at in its turn, unless one no worse is known or it comes too late."""
        if not _better(node, self.waiting.get((node.week, node.place))) or self._no_better(node):
            return
        still = self.remaining.weeks(node.place, node.load, node.week)
        self.too_long = self.too_long or LATEST < node.week + still < inf
        if node.week + still <= LATEST:
            self.waiting[node.week, node.place] = node
            turn = (node.week + still, node.changes + still, -node.week, node.ladder)
            heappush(self.heap, (turn, next(self.serial), node))

    def _no_better(self, node: Node) -> bool:
        """Whether its place was looked at as early with as much load; what waited a week may do more in the next."""
        return not _waited(node) and any(
            week <= node.week and load >= node.load - LOAD_NEAR for week, load in self.reached.get(node.place, ())
        )

    def _onward(self, node: Node) -> Iterator[Node]:
        """Everything that the next step may be, and in the first weeks after a break the same for a week more."""
        place, load = node.place, node.load
        week = node.week + (weeks_at(place.dose.days) if node.week else 1)
        for new, heaviest, rung in self.onward(place, load, self.case.step, week):
            changes = node.changes + _changes(place, load, new, heaviest)
            if heaviest < load - LOAD_NEAR and rung is not Rung.LIFT:
                changes += 1
            ladder = node.ladder + (_EARLY - week) * self.rung_of(rung, place, load)
            yield Node(new, heaviest, week, node, changes, ladder)
        if self.rule_of(week) is not None:
            yield Node(place, load, node.week + 1, node, node.changes, node.ladder)


def _waited(node: Node) -> bool:
    """Whether a week after the break is spent with what was done before; the next may allow more."""
    return node.before is not None and (node.before.place, node.before.load) == (node.place, node.load)


def _changes(place: Place, load: float, new: Place, heaviest: float) -> int:
    before, after = place.dose, new.dose
    return (
        (place.lift != new.lift)
        + (place.manner != new.manner)
        + (before.sets != after.sets)
        + (before.rung != after.rung)
        + (before.days != after.days)
        + (abs(heaviest - load) > LOAD_NEAR)
    )


def _better(new: Node, known: Node | None) -> bool:
    if known is None or new.load > known.load + LOAD_NEAR:
        return True
    return new.load > known.load - LOAD_NEAR and (new.changes, new.ladder) < (known.changes, known.ladder)


def _steps(end: Node) -> list[Node]:
    """The nodes from the first step to the end; a week in which the same was done again is part of the step before."""
    nodes: list[Node] = []
    node: Node | None = end
    while node is not None:
        if node.week > 0:
            nodes.append(node)
        node = node.before
    ordered = nodes[::-1]
    return [
        node
        for place, node in enumerate(ordered)
        if place == 0 or (node.place, node.load) != (ordered[place - 1].place, ordered[place - 1].load)
    ]
