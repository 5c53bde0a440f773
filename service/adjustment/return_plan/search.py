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
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.dose import cut_to
from service.adjustment.return_plan.lift import LOAD_TOLERANCE
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase, weeks_at
from service.adjustment.return_plan.states import Rung, State
from service.adjustment.return_plan.transitions import StateSpace
from service.knowledge.design_choices import CHOICES

LATEST: Final = CHOICES.return_plan.longest
_WEIGHT_IN_WEEK_0: Final = 2 * LATEST
"""Of a rung of the ladder; it falls by one a week."""


class Node(msgspec.Struct, frozen=True, gc=False):
    """A state reached.

    Attributes:
        state: what is done
        load: load that is used [kg]
        week: week in which it is first done, 0 for what is done now [count]
        before: what led to it
        changes: changes on the way to it, a load taken down counted twice [count]
        ladder: weight of its rungs of the ladder, those of early weeks counted more [1]
    """

    state: State
    load: float
    week: int
    before: Node | None = None
    changes: int = 0
    ladder: int = 0


class Search(StateSpace):
    """One search for the shortest way back.

    Attributes:
        remaining: the fewest weeks that must follow a state
        first: where the way begins
        too_long: whether a way was left because it would take more weeks than are planned
        serial: order of nodes whose turn is the same
        heap: nodes in the order of their turn
        waiting: the best of them by week and state
        reached: weeks [count] and loads [kg] in which a state was looked at
    """

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Solves the lifts on the way; raises Refusal where the adjusted one cannot be had, and BudgetExceeded."""
        super().__init__(case, budget)
        self.remaining = Remaining(self)
        self.first = self._first()
        self.too_long = False
        self.serial = count()
        self.heap: list[tuple[tuple[float, ...], int, Node]] = []
        self.waiting: dict[tuple[int, State], Node] = {}
        self.reached: dict[State, list[tuple[int, float]]] = {}

    def path(self) -> list[Node] | None:
        """The steps of the shortest way, the last of them the original; None where no way stays within the step.

        Raises BudgetExceeded where there are more ways than can be looked at.
        """
        if not self.begins_too_hard():
            self._await(self.first)
        while self.heap:
            node = heappop(self.heap)[-1]
            if self.waiting.get((node.week, node.state)) is not node:
                continue
            if self._is_goal(node) and node.week > 0:
                return _steps(node)
            if self._no_better(node):
                continue
            self.reached.setdefault(node.state, []).append((node.week, node.load))
            for new in self._onward(node):
                self._await(new)
        return None

    def reaches(self, step: float) -> bool:
        """Whether some way, however long, stays within a step; the nearest to the original is looked at first.

        Args:
            step: largest rise in a week, of the original's demand [1]

        Raises:
            BudgetExceeded: where there are more ways than can be looked at
        """
        heap = [(0.0, next(self.serial), self.first)]
        heaviest = {self.first.state: self.first.load}
        after_the_break = len(self.transition) + 1
        while heap:
            node = heappop(heap)[-1]
            if self._is_goal(node):
                return True
            if node.load < heaviest[node.state]:
                continue
            for state, load, _ in self.onward(node.state, node.load, step, after_the_break):
                if load > heaviest.get(state, -inf) + LOAD_TOLERANCE:
                    heaviest[state] = load
                    new = Node(state, load, after_the_break)
                    heappush(heap, (self.remaining.steps_from(state, load), next(self.serial), new))
        return False

    def begins_too_hard(self) -> bool:
        """Whether the first week after a break would ask more of a repetition than the original does."""
        peak, _, _ = self.demands(self.first.state, self.first.load)
        return self.first.week > 0 and peak > 1 + TOLERANCE

    def asks_no_less(self) -> bool:
        """Whether the adjusted prescription already asks as much as the original, of a repetition and of a session."""
        peak, session, _ = self.demands(self.start, self.case.adjusted.load)
        return self.comparable(self.start, self.goal) and peak >= 1 - TOLERANCE and session >= 1 - TOLERANCE

    def prescription(self, node: Node) -> Prescription:
        """What is done at a node; the original itself at the end."""
        case, state = self.case, node.state
        if state == self.goal and abs(node.load - case.original.load) < LOAD_TOLERANCE:
            return case.original
        prescription = self.lifts[state.lift].prescription
        timing = case.original if state.original_tempo else case.adjusted
        return msgspec.structs.replace(
            prescription,
            sets=state.dose.sets,
            reps=self.rungs[state.dose.rung],
            load=node.load,
            days=state.dose.days,
            tempo=timing.tempo,
            rest=timing.rest,
        )

    def _first(self) -> Node:
        """The adjusted prescription, in week 0 since it is done now; after a break cut down to the first week back."""
        load, lift = self.case.adjusted.load, self.lifts[self.start.lift]
        if not self.transition:
            return Node(self.start, load, 0)
        within = lift.heaviest(1.0, load)
        load = load if within is None else within
        dose = cut_to(self.start.dose, self.rungs, self.share(lift, load), self.normal_week, self.transition[0])
        return Node(msgspec.structs.replace(self.start, dose=dose), load, 1)

    def _is_goal(self, node: Node) -> bool:
        return node.state == self.goal and node.load >= self.case.original.load - LOAD_TOLERANCE

    def _await(self, node: Node) -> None:
        """Put a node where it will be looked at in its turn, unless one no worse is known or it comes too late."""
        if not _better(node, self.waiting.get((node.week, node.state))) or self._no_better(node):
            return
        still = self.remaining.weeks(node.state, node.load, node.week)
        self.too_long = self.too_long or LATEST < node.week + still < inf
        if node.week + still <= LATEST:
            self.waiting[node.week, node.state] = node
            turn = (node.week + still, node.changes + still, -node.week, node.ladder)
            heappush(self.heap, (turn, next(self.serial), node))

    def _no_better(self, node: Node) -> bool:
        """Whether its state was looked at as early with as much load; what waited a week may do more in the next."""
        return not _waited(node) and any(
            week <= node.week and load >= node.load - LOAD_TOLERANCE for week, load in self.reached.get(node.state, ())
        )

    def _onward(self, node: Node) -> Iterator[Node]:
        """Everything that the next step may be, and in the first weeks after a break the same for a week more."""
        state, load = node.state, node.load
        week = node.week + (weeks_at(state.dose.days) if node.week else 1)
        for new, heaviest, rung in self.onward(state, load, self.case.step, week):
            changes = node.changes + _changes(state, load, new, heaviest)
            if heaviest < load - LOAD_TOLERANCE and rung is not Rung.LIFT:
                changes += 1
            ladder = node.ladder + (_WEIGHT_IN_WEEK_0 - week) * self.rung_of(rung, state, load)
            yield Node(new, heaviest, week, node, changes, ladder)
        if self.rule_of(week) is not None:
            yield Node(state, load, node.week + 1, node, node.changes, node.ladder)


def _waited(node: Node) -> bool:
    """Whether a week after the break is spent with what was done before; the next may allow more."""
    return node.before is not None and (node.before.state, node.before.load) == (node.state, node.load)


def _changes(state: State, load: float, new: State, heaviest: float) -> int:
    before, after = state.dose, new.dose
    return (
        (state.lift != new.lift)
        + (state.original_tempo != new.original_tempo)
        + (before.sets != after.sets)
        + (before.rung != after.rung)
        + (before.days != after.days)
        + (abs(heaviest - load) > LOAD_TOLERANCE)
    )


def _better(new: Node, known: Node | None) -> bool:
    if known is None or new.load > known.load + LOAD_TOLERANCE:
        return True
    return new.load > known.load - LOAD_TOLERANCE and (new.changes, new.ladder) < (known.changes, known.ladder)


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
        for index, node in enumerate(ordered)
        if index == 0 or (node.state, node.load) != (ordered[index - 1].state, ordered[index - 1].load)
    ]
