"""The shortest way back: the fewest weeks, a rise above the step counted as the steps it takes the place of and more.

States are looked at in the order of the weeks so far and the fewest that must still follow (the A* search of Hart,
Nilsson and Raphael, 1968). Among equally short ways those with the fewest changes come first, and then those that go
by the order of the return ladder: load towards its share of the original, range of motion, the original exercise,
technique, cues, tempo and rest, sets and repetitions, days, load to the full. Where not all ways can be looked at, each
step is the one from which the least seems to be left: a direct way, which may be longer.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property
from heapq import heappop, heappush
from itertools import count, pairwise
from math import ceil, inf
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.budget import Budget, BudgetExceeded
from service.adjustment.return_plan.dose import cut_to
from service.adjustment.return_plan.lift import LOAD_TOLERANCE
from service.adjustment.return_plan.moves import Moves
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase, load_of_first_test, weeks_at
from service.adjustment.return_plan.states import Move, State
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import strength_lost

_STEP_TOLERANCE: Final = 1e-4
"""Of a step [1]: what is missing by less than this needs no step more."""
_FIRST_WEIGHT: Final = 1000
"""Of a rung of the ladder in the first week; it falls by one a week."""


class Node(msgspec.Struct, frozen=True, gc=False):
    """A state reached.

    Attributes:
        state: what is done
        load: load that is used [kg]
        week: week in which it is first done, 0 for what is done now [count]
        cost: weeks so far, those that rises above the step stand for included [weeks]
        before: what led to it
        move: the step that led to it, None where it is done now or for a week more
        fall: squares of what sessions came to ask less, so that what is above the original's goes by and by [1]
        changes: changes on the way to it, two in a step with more load [count]
        ladder: weight of its rungs of the ladder, those of early weeks counted more [1]
    """

    state: State
    load: float
    week: int
    cost: float
    before: Node | None = None
    move: Move | None = None
    fall: float = 0.0
    changes: int = 0
    ladder: int = 0


class Search(Moves):
    """One search for the shortest way back.

    Attributes:
        first: where the way begins
    """

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Raises Refusal where one of the two prescriptions cannot be had, and BudgetExceeded."""
        super().__init__(case, budget)
        self.first = self._first()
        self._allowed_from = next(week for week in count(1) if self.allowed(self.goal, case.original.load, week))

    def path(self) -> list[Node]:
        """The steps of the way, the last of them the original."""
        try:
            return _steps(self.shortest())
        except BudgetExceeded:
            *_, end = self._directly()
            return _steps(end)

    def first_step(self) -> Node:
        """The first of these steps; where the direct way is taken the others are not looked for."""
        try:
            return _steps(self.shortest())[0]
        except BudgetExceeded:
            return next(node for node in self._directly() if _is_step(node))

    def asks_no_less(self) -> bool:
        """Whether the adjusted prescription asks as much as the original of a repetition, a session and a week.

        What is made easier by tempo, rest, cue or hold does not.
        """
        start, goal = self.start, self.goal
        adjusted, original = self.case.adjusted, self.case.original
        unaided = start.original_tempo and (adjusted.cues, adjusted.hold) == (original.cues, original.hold)
        demands = self.demands(start, adjusted.load)
        return unaided and self.comparable(start.form, goal.form) and min(demands) >= 1 - TOLERANCE

    def prescribed(self, node: Node) -> Prescription:
        """What is done at a node."""
        return self.prescription(node.state, node.load)

    def shortest(self) -> Node:
        """The end of the cheapest way; raises BudgetExceeded where not all ways can be looked at."""
        order = count()
        heap: list[tuple[tuple[float, ...], int, Node]] = [((0.0,), next(order), self.first)]
        reached: dict[State, list[tuple[int, float, float]]] = {}
        while True:
            node = heappop(heap)[-1]
            if self._is_goal(node) and node.week > 0:
                return node
            if not _waited(node) and self._no_better(node, reached.get(node.state, [])):
                continue
            reached.setdefault(node.state, []).append((node.week, node.cost, node.load))
            for new in self.after(node):
                heappush(heap, (self._turn(new), next(order), new))

    def _directly(self) -> Iterator[Node]:
        """The nodes of the way on which each step is the one from which the least seems to be left."""
        self.budget.lift_limits()
        self.direct = True
        node = self.first
        yield node
        while not (self._is_goal(node) and node.week > 0):
            node = min(self.after(node), key=self._straightest)
            yield node

    def _straightest(self, node: Node) -> tuple[float, ...]:
        """What comes first on the direct way: whence the least seems left, of what is above the original's dose too."""
        left, *others = self._turn(node)
        dose, end = node.state.dose, self.goal.dose
        above = max(0, dose.sets - end.sets) + max(0, dose.rung - end.rung) + max(0, (dose.days or 0) - (end.days or 7))
        return left, above, *others

    def _turn(self, node: Node) -> tuple[float, ...]:
        """What comes first: the shortest way, of equally short ones the fewest changes, then the ladder."""
        return node.cost + self._still(node), round(node.fall, 4), node.changes, -node.week, node.ladder

    def _no_better(self, node: Node, reached: list[tuple[int, float, float]]) -> bool:
        """Whether its state was looked at as early and as cheaply with as much load, if no more than may be asked."""
        state, lift = node.state, self.lift(node.state)
        wanted = self.case.original.load if state.form.original else inf
        return any(
            week <= node.week
            and cost <= node.cost
            and (
                abs(load - node.load) <= LOAD_TOLERANCE
                or (node.load < load <= wanted + LOAD_TOLERANCE and lift.peak(load) <= 1 + TOLERANCE)
            )
            for week, cost, load in reached
        )

    def after(self, node: Node) -> list[Node]:
        """Everything that the next step may be, and in the first weeks after a break the same for a week more."""
        state, load = node.state, node.load
        weeks = weeks_at(self._days(state)) if node.week else 1
        week = node.week + weeks
        new = [self._after(node, move, weeks) for move in self.onward(state, load, week)]
        if self.rule_of(week) is not None:
            new.append(
                Node(state, load, node.week + 1, node.cost + 1, node, None, node.fall, node.changes, node.ladder)
            )
        return new

    def _after(self, node: Node, move: Move, weeks: int) -> Node:
        cost: float = weeks
        if move.over_step and move.rise is not None:
            cost = weeks * max(1, ceil(move.rise / self.case.step - _STEP_TOLERANCE))
            cost += CHOICES.return_plan.over_step_costs * weeks
        week = node.week + weeks
        changes = node.changes + _changes(node, move)
        ladder = node.ladder + (_FIRST_WEIGHT - week) * self.rung_of(move)
        fall = node.fall + self._fall(node, move)
        return Node(move.state, move.load, week, node.cost + cost, node, move, fall, changes, ladder)

    def _fall(self, node: Node, move: Move) -> float:
        """The square of what a session of the same exercise asks less after a step [1]."""
        fewer = self.repetitions(move.state) < self.repetitions(node.state)
        if not fewer or not self.comparable(node.state.form, move.state.form):
            return 0.0
        before, after = (self.demands(one.state, one.load) for one in (node, move))
        return max(0.0, before.session - after.session) ** 2

    def _still(self, node: Node) -> float:
        """Weeks until the original at the least."""
        to_wait = max(0, self._allowed_from - node.week)
        if self._is_goal(node):
            return to_wait
        days, most = self._days(node.state), self._days(self.goal)
        quickest = weeks_at(None if days is None or most is None else max(days, most))
        first = weeks_at(days) if node.week else 1
        return max(first + (max(1, self._steps_from(node.state, node.load)) - 1) * quickest, to_wait)

    def _steps_from(self, state: State, load: float) -> int:
        """Steps until the original at the least: one for each change, but that load may join a change of the form."""
        form, goal, dose, end = state.form, self.goal.form, state.dose, self.goal.dose
        alone = (not state.original_tempo) + max(0, (end.days or 0) - (dose.days or 0))
        of_sets = bisect_right(self.sets, end.sets) - bisect_right(self.sets, dose.sets)
        of_dose = max(0, of_sets) + (dose.rung < end.rung)
        of_form, of_load = 1, 1
        if form.original:
            alone += goal.cues - form.cues + goal.kit - form.kit + (form.hold < goal.hold)
            deeper = ceil((goal.depth - form.depth) / CHOICES.return_plan.most_depth_steps)
            of_form = deeper + goal.technique - form.technique
            of_dose = 0 if form.hold < goal.hold else of_dose
            missing = self.case.original.load - load
            of_load = ceil(missing / self._largest_jump - _STEP_TOLERANCE) if missing > LOAD_TOLERANCE else 0
        if form.hold < goal.hold or not self.comparable(form, goal):
            return alone + of_dose + max(of_form, of_load)
        peak, session, _ = self.demands(state, load)
        of_demand = ceil((1.0 - min(peak, session)) / self.case.step - _STEP_TOLERANCE)
        return alone + max(of_dose + max(of_form, of_load), of_demand)

    @cached_property
    def _largest_jump(self) -> float:
        """Most that the load of the original lift rises in a step [kg], rounding to what can be put on included."""
        loads = self.lift(self.goal).loads
        gaps = (after - before for before, after in pairwise(loads))
        return self.largest_load_step + max(gaps, default=0.0)

    def _first(self) -> Node:
        """The adjusted prescription, in week 0 since it is done now; after a break cut down to the first week back."""
        load, lift = self.case.adjusted.load, self.lift(self.start)
        if not self.transition:
            return Node(self.start, load, 0, 0)
        easy = load_of_first_test(self.case, lift.most, self.case.adjusted, strength_lost(self.case.weeks_off))
        within = lift.heaviest(1.0, max(easy, lift.loads[0]))
        load = load if within is None else within
        dose = cut_to(self.start.dose, self.rungs, self.share(lift, load), self.normal_week, self.transition[0])
        return Node(msgspec.structs.replace(self.start, dose=dose), load, 1, 1)

    def _days(self, state: State) -> int | None:
        """Days of the week on which a state is done [count], None where they are not known."""
        return self.case.days if state.dose.days is None else state.dose.days

    def _is_goal(self, node: Node) -> bool:
        return node.state == self.goal and abs(node.load - self.case.original.load) <= LOAD_TOLERANCE


def _waited(node: Node) -> bool:
    """Whether a week after the break is spent with what was done before; the next may allow more."""
    return node.before is not None and node.move is None


def _changes(node: Node, move: Move) -> int:
    before, after = node.state, move.state
    return (
        sum(one != other for one, other in zip(before.form, after.form, strict=True))
        + (before.original_tempo != after.original_tempo)
        + (before.dose.sets != after.dose.sets)
        + (before.dose.rung != after.dose.rung)
        + (before.dose.days != after.dose.days)
        + (abs(node.load - move.load) > LOAD_TOLERANCE)
    )


def _is_step(node: Node) -> bool:
    return node.week > 0 and not _waited(node)


def _steps(end: Node) -> list[Node]:
    """The nodes from the first step to the end; a week in which the same was done again is part of the step before."""
    nodes: list[Node] = []
    node: Node | None = end
    while node is not None:
        if _is_step(node):
            nodes.append(node)
        node = node.before
    return nodes[::-1]
