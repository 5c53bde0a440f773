"""The way back to the original prescription, step by step, each with its gate and its fallback.

No published rule says how fast the demand of a sore region may rise; the step a week is practice, stated by the caller
or our own choice. After weeks off the transition rule comes first (caterisano_2019).
"""

from __future__ import annotations

from bisect import bisect_left
from math import ceil, floor

import msgspec
from msgspec.structs import replace

from service.adjustment.demand import JOINTS, effects, uncertain_demand_of
from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.problem import (
    CHOICE,
    DUST,
    GOOD_SESSIONS,
    LARGEST_STEP,
    ReturnCase,
    expected_reserve,
    share_of_maximum,
)
from service.adjustment.return_plan.search import Node, Search
from service.adjustment.return_plan.work import TooMuchWork, Work
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.substitutions import SUBSTITUTES
from service.mechanics.uncertainty.comparison import compare
from service.training.return_to_training import Transition, relative_volume
from service.vocabulary import Lever


class Gate(msgspec.Struct, frozen=True):
    """What must hold before the next step.

    pain_in_session: at most, from 0 to 10; pain_above_usual_next_morning: below this; stop_above: pain above which the
    lift is stopped for the day; back_above_usual: rise next morning from which a step back is taken; sessions: in a
    row; reserve: repetitions left.
    """

    pain_in_session: float
    pain_above_usual_next_morning: float
    stop_above: float
    back_above_usual: float
    sessions: int
    reserve: float


class Step(msgspec.Struct, frozen=True):
    """One step.

    week: in which it is first done if every gate before was passed the first time; changed: levers against the step
    before; demand: of every region with a known number against the original's; swept: regions whose demand has a span;
    peak, exposure, weekly: of the sore region, of a repetition, a session and a week, against the original's; rise: the
    larger of the rises of the first two, None where they are not on one scale; told: whether a number is known for the
    region; relative_volume: sets × repetitions × share of the maximum in the first weeks after a break; fallback: week
    of the step to go back to, 0 for the adjusted prescription.
    """

    week: int
    prescription: Prescription
    changed: tuple[Lever, ...]
    demand: dict[str, Interval]
    swept: frozenset[str]
    peak: float
    exposure: float
    weekly: float | None
    rise: float | None
    told: bool
    relative_volume: float | None
    gate: Gate
    fallback: int


class Plan(msgspec.Struct, frozen=True):
    """The way back.

    fewest_weeks, most_weeks: until the original; asks_no_less: the adjusted prescription asked as much to begin with;
    transition: the rule for each of the first weeks after a break, empty without one.
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
        longest: most weeks that the plan may take

    Returns:
        the steps in order, the last of them the original prescription

    Raises:
        Refusal: where a jump that cannot be avoided is larger than the step, or the plan would be too long
    """
    work = Work()
    try:
        search = Search(case, work)
        if not search.transition and search.asks_no_less():
            return _planned(case, search, [Node(search.goal, case.original.load, 1)], asks_no_less=True)
        nodes = search.path()
    except TooMuchWork:
        raise _too_far_apart() from None
    if nodes is None:
        raise _refusal(case, search)
    if nodes[-1].week > longest:
        raise Refusal.one(
            "longest",
            f"The shortest way back with this step takes {nodes[-1].week} weeks.",
            f"at least {nodes[-1].week} weeks, or a larger step",
        )
    return _planned(case, search, nodes, asks_no_less=False)


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
        fewest + ceil(CHOICE.repeated_share * fewest - DUST),
        asks_no_less,
        search.transition,
    )


def _step(case: ReturnCase, search: Search, before: Node, node: Node) -> Step:
    lift, new = search.lifts[node.place.lift], search.prescription(node)
    demands, demand_before = (search.demands(one.place, one.load) for one in (node, before))
    reserve = max(expected_reserve(case, lift.most, new), case.least_reserve)
    if new is not case.original:
        new = replace(new, reserve=reserve)
    demand, spans = _demand(case, new)
    in_transition = node.week <= len(search.transition)
    early = in_transition and search.transition[node.week - 1].irv_low is not None
    one_scale = search.comparable(before.place, node.place) and not (search.transition and before.week == 0)
    return Step(
        week=node.week,
        prescription=new,
        changed=_changed(search.prescription(before) if before.week else case.adjusted, new),
        demand=demand,
        swept=spans,
        peak=demands[0],
        exposure=demands[1],
        weekly=None if new.days is None else demands[2],
        rise=_rise(demand_before, demands) if one_scale else None,
        told=lift.told,
        relative_volume=relative_volume(new.sets, new.reps.high, share_of_maximum(case, lift.most, new))
        if early
        else None,
        gate=_gate(case, new.reserve),
        fallback=before.week,
    )


def _rise(before: tuple[float, float, float], after: tuple[float, float, float]) -> float:
    return max(after[0] - before[0], after[1] - before[1])


def _gate(case: ReturnCase, reserve: float) -> Gate:
    return Gate(
        CHOICES.adjustments.green_up_to,
        CHOICES.review.morning_hold,
        CHOICES.adjustments.amber_up_to,
        CHOICES.adjustments.real_change,
        GOOD_SESSIONS,
        min(reserve, case.original.reserve),
    )


def _demand(case: ReturnCase, new: Prescription) -> tuple[dict[str, Interval], frozenset[str]]:
    """Demand by region against the original's where a number is known, and the regions whose number has a span."""
    found = {
        region: Interval(effect.ratio, effect.ratio, effect.ratio)
        for region, effect in effects(case.present, new).items()
        if effect.ratio is not None
    }
    reference = case.present.uncertain
    if reference is None or new.exercise not in EXERCISE_RULES:
        return found, frozenset()
    against = compare(uncertain_demand_of(case.present.body, new), reference)
    spans = {
        region: span
        for region, joint in JOINTS.items()
        if region in found and (span := against[joint].ratio) is not None
    }
    return found | spans, frozenset(spans)


def _changed(before: Prescription, after: Prescription) -> tuple[Lever, ...]:
    """The levers by which two prescriptions differ."""
    found: list[Lever] = []
    if before.exercise != after.exercise:
        found.append(_lever(before.exercise, after.exercise))
    elif before.technique != after.technique:
        found.append("technique")
    if before.depth != after.depth:
        found.append("range_of_motion")
    differing: dict[Lever, bool] = {
        "load": abs(before.load - after.load) > _SAME_LOAD,
        "sets": before.sets != after.sets,
        "reps": before.reps != after.reps,
        "tempo": before.tempo != after.tempo,
        "rest": before.rest != after.rest,
        "days": before.days != after.days,
    }
    return (*found, *(lever for lever, differs in differing.items() if differs))


_SAME_LOAD = 1e-6  # [kg]


def _lever(before: str, after: str) -> Lever:
    for one, other in ((after, before), (before, after)):
        for substitute in SUBSTITUTES.get(one, ()):
            if substitute.exercise == other:
                return substitute.lever
    return "exercise"


def _too_long(case: ReturnCase) -> Refusal:
    return Refusal.one(
        "step",
        f"With a step of {100 * case.step:.3g} % a week no way of {CHOICE.longest} weeks leads back.",
        "a larger step, or an adjusted prescription nearer to the original",
    )


def _refusal(case: ReturnCase, search: Search) -> Refusal:
    """Why there is no way."""
    peak, _, _ = search.demands(search.start, case.adjusted.load)
    if search.begins_too_hard() or (peak > 1 + DUST and search.comparable(search.start, search.goal)):
        return _asks_more(case, peak)
    return _too_long(case) if search.too_long else _stuck(case, search)


def _asks_more(case: ReturnCase, peak: float) -> Refusal:
    region = REGIONS[case.region].name.lower()
    return Refusal.one(
        "adjusted",
        f"A repetition asks {100 * peak:.0f} % of what the original asks of the {region}, and no way leads back from "
        "there on which none asks more than the original.",
        "an adjusted prescription of which a repetition asks no more than one of the original",
    )


def _too_far_apart() -> Refusal:
    return Refusal.one(
        "adjusted",
        "The two prescriptions differ in so many things that the ways between them cannot all be looked at.",
        "an adjusted prescription nearer to the original (in sets, repetitions, days, depth or lift), or a larger step",
    )


def _stuck(case: ReturnCase, search: Search) -> Refusal:
    """Why there is no way: the smallest step that would be enough, and whether finer plates would do."""
    region, lift = REGIONS[case.region].name.lower(), EXERCISES[case.original.exercise].name.lower()
    detail = (
        f"On every way back to {lift} one change raises what the {region} must carry by more than "
        f"{100 * case.step:.3g} % of the original in a week."
    )
    try:
        finer = Search(replace(case, round_down=case.finer), search.work).reaches(case.step)
        enough = _enough(case, search)
    except (Refusal, TooMuchWork):
        return Refusal.one("step", detail, "a larger step, or an adjusted prescription nearer to the original")
    if enough is not None:
        allowed = f"a step of at least {enough:.2f}"
    else:
        allowed = f"no step up to {LARGEST_STEP:.2f} is enough: an adjusted prescription nearer to the original"
    return Refusal.one("step", detail, allowed + (", or finer plates or steps of load" if finer else ""))


def _enough(case: ReturnCase, search: Search) -> float | None:
    """The smallest step in whole per cent within which some way leads back, None up to the largest."""
    tried = [percent / 100 for percent in range(floor(100 * case.step) + 1, round(100 * LARGEST_STEP) + 1)]
    place = bisect_left(tried, 1, key=lambda step: int(search.reaches(step)))
    return tried[place] if place < len(tried) else None
