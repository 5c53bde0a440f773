"""The way back to the original prescription, step by step, each with its gate and its fallback.

No published rule says how fast the demand of a sore region may rise; the step a week is practice, stated by the caller
or our own choice. After weeks off the transition rule comes first (caterisano_2019).
"""

from __future__ import annotations

from math import ceil

import msgspec
from msgspec.structs import replace

from service.adjustment.changes import changes_between
from service.adjustment.demand import compared_demand
from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.budget import Budget, BudgetExceeded
from service.adjustment.return_plan.problem import (
    GOOD_SESSIONS,
    TOLERANCE,
    ReturnCase,
    expected_reserve,
    share_of_maximum,
)
from service.adjustment.return_plan.refusals import no_way_back, too_far_apart
from service.adjustment.return_plan.search import Node, Search
from service.adjustment.return_plan.states import Demands
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition, relative_volume
from service.vocabulary import Change


class Gate(msgspec.Struct, frozen=True):
    """What must hold before the next step.

    Attributes:
        pain_in_session: most pain in a session, from 0 to 10 [points]
        pain_above_usual_next_morning: pain the next morning is less than this above the usual [points]
        stop_above: pain above which the lift is stopped for the day, from 0 to 10 [points]
        step_back_from: rise next morning from which a step back is taken [points]
        sessions: good sessions in a row [count]
        reserve: fewest repetitions left [count]
    """

    pain_in_session: float
    pain_above_usual_next_morning: float
    stop_above: float
    step_back_from: float
    sessions: int
    reserve: float


class Step(msgspec.Struct, frozen=True):
    """One step; demands are stated against the original's.

    Attributes:
        week: week in which it is first done if every gate before was passed the first time [count]
        prescription: what is done
        changed: everything that changes against the step before
        demand: of the peak of a repetition, by region with a known number [1]
        with_interval: regions whose demand has an interval
        peak: the sore region's demand of a repetition [1]
        exposure: the same summed over a session [1]
        weekly: the same summed over a week [1], None where days are not stated
        rise: larger of the rises of peak and exposure [1], None where they are not on one scale
        has_number: whether a number is known for the sore region
        relative_volume: sets × repetitions × share of the maximum [1], None after the first weeks after a break
        gate: what must hold before the next step
        fallback: week of the step to go back to, 0 for the adjusted prescription [count]
    """

    week: int
    prescription: Prescription
    changed: tuple[Change, ...]
    demand: dict[str, Interval]
    with_interval: frozenset[str]
    peak: float
    exposure: float
    weekly: float | None
    rise: float | None
    has_number: bool
    relative_volume: float | None
    gate: Gate
    fallback: int


class Plan(msgspec.Struct, frozen=True):
    """The way back.

    Attributes:
        steps: the last of them the original prescription
        fewest_weeks: time until the original with every gate passed the first time [weeks]
        most_weeks: the same with a share of the weeks done twice [weeks]
        asks_no_less: whether the adjusted prescription asked as much to begin with
        transition: rule of each of the first weeks after a break, empty without one
    """

    steps: tuple[Step, ...]
    fewest_weeks: int
    most_weeks: int
    asks_no_less: bool
    transition: tuple[Transition, ...]


def plan(case: ReturnCase, longest: int) -> Plan:
    """The shortest way back within the step.

    Args:
        case: the return
        longest: most time that the plan may take [weeks]

    Returns:
        the steps in order, the last of them the original prescription

    Raises:
        Refusal: where a jump that cannot be avoided is larger than the step, or the plan would be too long
    """
    budget = Budget()
    try:
        search = Search(case, budget)
        if not search.transition and search.asks_no_less():
            return _planned(case, search, [Node(search.goal, case.original.load, 1)], asks_no_less=True)
        nodes = search.path()
    except BudgetExceeded:
        raise too_far_apart() from None
    if nodes is None:
        raise no_way_back(case, search)
    if nodes[-1].week > longest:
        raise Refusal.one(
            "longest",
            f"The shortest way back with this step takes {nodes[-1].week} weeks.",
            f"at least {nodes[-1].week} weeks, or a larger step",
        )
    return _planned(case, search, nodes, asks_no_less=False)


def next_step(case: ReturnCase) -> Step | None:
    """The next step alone, for whoever asks session by session.

    Args:
        case: the return, from what is done now

    Returns:
        the step; None where what is done now is the original, or asks no less than it

    Raises:
        Refusal: as plan does, however long the way
    """
    if case.adjusted == case.original:
        return None
    way = plan(case, CHOICES.return_plan.longest)
    return None if way.asks_no_less else way.steps[0]


def _planned(case: ReturnCase, search: Search, nodes: list[Node], *, asks_no_less: bool) -> Plan:
    before = Node(search.start, case.adjusted.load, 0)
    steps = []
    for node in nodes:
        steps.append(_step(case, search, before, node))
        before = node
    fewest = steps[-1].week
    return Plan(
        tuple(steps),
        fewest,
        fewest + ceil(CHOICES.return_plan.repeated_share * fewest - TOLERANCE),
        asks_no_less,
        search.transition,
    )


def _step(case: ReturnCase, search: Search, before: Node, node: Node) -> Step:
    lift, new = search.lifts[node.state.lift], search.prescription(node)
    demands, demand_before = (search.demands(one.state, one.load) for one in (node, before))
    reserve = max(expected_reserve(case, lift.most, new), case.least_reserve)
    if new is not case.original:
        new = replace(new, reserve=reserve)
    compared = compared_demand(case.present, new)
    in_transition = node.week <= len(search.transition)
    early = in_transition and search.transition[node.week - 1].irv_low is not None
    one_scale = search.comparable(before.state, node.state) and not (search.transition and before.week == 0)
    return Step(
        week=node.week,
        prescription=new,
        changed=changes_between(search.prescription(before) if before.week else case.adjusted, new),
        demand=compared.ratios,
        with_interval=compared.with_interval,
        peak=demands.peak,
        exposure=demands.session,
        weekly=None if new.days is None else demands.week,
        rise=_rise(demand_before, demands) if one_scale else None,
        has_number=lift.has_number,
        relative_volume=relative_volume(new.sets, new.reps.high, share_of_maximum(case, lift.most, new))
        if early
        else None,
        gate=_gate(case, new.counted_reserve),
        fallback=before.week,
    )


def _rise(before: Demands, after: Demands) -> float:
    return max(after.peak - before.peak, after.session - before.session)


def _gate(case: ReturnCase, reserve: float) -> Gate:
    return Gate(
        CHOICES.adjustments.green_up_to,
        CHOICES.review.morning_hold,
        CHOICES.adjustments.amber_up_to,
        CHOICES.adjustments.real_change,
        GOOD_SESSIONS,
        min(reserve, case.original.counted_reserve),
    )
