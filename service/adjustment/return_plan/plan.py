"""The way back to the original prescription, step by step, each with its gate and its fallback.

No published rule says how fast the demand of a sore region may rise; the step a week is practice, stated by the caller
or our own choice. After weeks off the transition rule comes first (caterisano_2019).
"""

from __future__ import annotations

from math import ceil

import msgspec
from msgspec.structs import replace

from service.adjustment.changes import changes_between
from service.adjustment.compared import compared_demand
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.problem import (
    GOOD_SESSIONS,
    TOLERANCE,
    ReturnCase,
    share_of_maximum,
)
from service.adjustment.return_plan.search import Node, Search
from service.adjustment.return_plan.trial_set import TrialSet, trial_before
from service.adjustment.week.rise import WeekRatio
from service.errors import Refusal, into
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition, relative_volume, strength_lost
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


class ByTest(msgspec.Struct, frozen=True):
    """A load after a break, by what the first test gives.

    Attributes:
        share: of the test's load [1]
        load: that this comes to, body excluded, from the most that is taken to be lost to nothing lost [kg]
    """

    share: float
    load: Interval


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
        rise: largest of the rises of peak, exposure and, on as many days, weekly [1], None without a common scale
        over_step: whether that or the rise of the week is more than the step, for want of a smaller change
        of_week: the whole week against the one with the step before, None without a week, where a lift's moment is not
            known, and where nothing was done before
        over_week: whether that is more than the step
        test: a set that has to go well before, None where none is needed
        has_number: whether a number is known for the sore region
        has_scale: whether that, or loads, say what it asks against the original
        relative_volume: sets × repetitions × share of the maximum [1], None after the first weeks after a break
        by_test: the load by what the first test after a break gives, None without a break
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
    over_step: bool
    of_week: WeekRatio | None
    over_week: bool
    test: TrialSet | None
    has_number: bool
    has_scale: bool
    relative_volume: float | None
    by_test: ByTest | None
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
        direct: whether not all ways could be looked at and the direct one was taken
    """

    steps: tuple[Step, ...]
    fewest_weeks: int
    most_weeks: int
    asks_no_less: bool
    transition: tuple[Transition, ...]
    direct: bool


def plan(case: ReturnCase, longest: int | None = None) -> Plan:
    """The shortest way back within the step, and where a change needs more with the smallest there is.

    Args:
        case: the return
        longest: most time that the plan may take [weeks], None where it may take any

    Returns:
        the steps in order, the last of them the original prescription

    Raises:
        Refusal: where the plan would take longer, or the original or the adjusted posture cannot be had
    """
    search = Search(case, Budget())
    asks_no_less = _asks_no_less(search)
    nodes = [Node(search.goal, case.original.load, 1, 1)] if asks_no_less else search.path()
    if longest is not None and nodes[-1].week > longest:
        raise Refusal.one(
            "longest",
            f"The shortest way back with this step takes {nodes[-1].week} weeks.",
            f"at least {nodes[-1].week} weeks, or a larger step",
            change=into(longest, nodes[-1].week),
        )
    return _planned(case, search, nodes, asks_no_less=asks_no_less)


def next_step(case: ReturnCase) -> Step | None:
    """The next step alone, for whoever asks session by session.

    Args:
        case: the return, from what is done now

    Returns:
        the step; None where what is done now is the original, or asks no less than it

    Raises:
        Refusal: where the original or the adjusted posture cannot be had
    """
    if replace(case.adjusted, reserve=case.original.reserve) == case.original:
        return None
    search = Search(case, Budget())
    return None if _asks_no_less(search) else _step(case, search, _begin(search), search.first_step())


def _asks_no_less(search: Search) -> bool:
    """Whether the original may follow at once, for what is done now asks as much."""
    return not search.transition and search.asks_no_less()


def _begin(search: Search) -> Node:
    """What is done before the first step."""
    return search.first if search.transition else Node(search.start, search.case.adjusted.load, 0, 0)


def _planned(case: ReturnCase, search: Search, nodes: list[Node], *, asks_no_less: bool) -> Plan:
    before = _begin(search)
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
        search.direct,
    )


def _step(case: ReturnCase, search: Search, before: Node, node: Node) -> Step:
    lift, new = search.lift(node.state), search.as_prescribed(node.state, node.load)
    demands = search.demands(node.state, node.load)
    compared = compared_demand(case.present, new)
    in_transition = node.week <= len(search.transition)
    early = in_transition and search.transition[node.week - 1].irv_low is not None
    anew = bool(search.transition) and node.week == 1
    done = case.adjusted if before.week == 0 or anew else search.prescribed(before)
    tolerated = search.is_tolerated(before.state, node.state, node.load)
    rise = None if anew or tolerated else search.rise(before.state, before.load, node.state, node.load)
    of_week = None if anew else search.week_ratio(before.state, before.load, node.state, node.load)
    over_week = of_week is not None and of_week.is_above(case.step)
    over_step = over_week or (rise is not None and rise > case.step + TOLERANCE)
    return Step(
        week=node.week,
        prescription=new,
        changed=changes_between(done, new),
        demand=compared.ratios,
        with_interval=compared.with_interval,
        peak=demands.peak,
        exposure=demands.session,
        weekly=None if new.days is None else demands.week,
        rise=rise,
        over_step=over_step,
        of_week=of_week,
        over_week=over_week,
        test=None
        if tolerated and not (anew or over_week)
        else trial_before(done, new, rise, lift.loads, over_step=over_step, after_break=anew),
        has_number=lift.has_number,
        has_scale=lift.has_scale(node.load),
        relative_volume=relative_volume(new.sets, new.reps.high, share_of_maximum(case, lift.most, new))
        if early
        else None,
        by_test=_by_test(case, search, new),
        gate=_gate(case, new.counted_reserve if new.hold is None else 0.0),  # a hold has no repetitions left
        fallback=0 if anew else before.week,
    )


def _by_test(case: ReturnCase, search: Search, new: Prescription) -> ByTest | None:
    tested = total_load(search.prescribed(search.first), case.body_mass)
    if not search.transition or not tested:
        return None
    moved, body = total_load(new, case.body_mass), total_load(new, case.body_mass) - new.load
    kept = max(
        1.0, min(1 / (1 - strength_lost(case.weeks_off)), case.original.load / new.load if new.load > 0 else 1.0)
    )
    return ByTest(moved / tested, Interval(new.load, new.load, moved * kept - body))


def _gate(case: ReturnCase, reserve: float) -> Gate:
    return Gate(
        CHOICES.adjustments.green_up_to,
        CHOICES.review.morning_hold,
        CHOICES.adjustments.amber_up_to,
        CHOICES.adjustments.real_change,
        GOOD_SESSIONS,
        min(reserve, case.original.counted_reserve),
    )
