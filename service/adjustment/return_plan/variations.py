"""The lifts of a way back: as adjusted, at the depths in between and as originally, and which may follow which."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, inf, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.prescription import Prescription, lifts_the_body, total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift, Loads
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase, maximum
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.demand import setup_demand
from service.mechanics.setups import Depth

_STEP: Final = radians(CHOICES.adjustments.depth_step)
_SHALLOWEST: Final = radians(CHOICES.adjustments.shallowest_thigh)
_SMALLEST_PART: Final = 0.2
"""Of a step of depth [1]: no eye tells two depths so near to each other, so no step of the way lies between them."""
_DEPTH_TOLERANCE: Final = 1e-6
"""Difference below which two depths are one [rad or m]."""


class _LiftMaker:
    """Makes the lifts of one return; looks up the loads of an exercise once, whatever the depth."""

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        self.case = case
        self.budget = budget
        self.loads: dict[str, Loads] = {}

    def lift(self, prescription: Prescription, *, depth: float | None, is_original: bool) -> Lift:
        """Raises Refusal where it cannot be had."""
        loads = self.loads.get(prescription.exercise)
        if loads is None:
            loads = self.loads[prescription.exercise] = _loads(self.case, prescription)
        return Lift(self.case, self.budget, prescription, loads, depth=depth, is_original=is_original)


def lifts(case: ReturnCase, budget: Budget) -> list[Lift]:
    """The lifts between the adjusted and the original one, these two included, the adjusted first, the original last.

    Depths in between that cannot be had are left out.

    Args:
        case: the return
        budget: of postures

    Raises:
        Refusal: where the adjusted lift cannot be had
        BudgetExceeded: where more would have to be looked at than is allowed
    """
    adjusted, original, maker = case.adjusted, case.original, _LiftMaker(case, budget)
    same_form = (adjusted.exercise, adjusted.technique) == (original.exercise, original.technique)
    start = maker.lift(adjusted, depth=_depth_of(case, adjusted), is_original=same_form)
    end = maker.lift(original, depth=_depth_of(case, original), is_original=True)
    # where the hips end the range, how deep a lift goes without a stated depth is another thing with each load
    if same_form and (adjusted.depth == original.depth or _equally_deep(start, end)):
        return [end]
    sequence = [start]
    if _shares_depth(case):
        sequence += _between(maker, start, end, original_form=same_form)
    if not same_form and adjusted.exercise == original.exercise:
        sequence += _between(maker, start, end, original_form=True, from_start=True)
    elif not same_form and _squats(case):
        sequence += _partial(maker, end)
    return [*sequence, end]


def _equally_deep(one: Lift, other: Lift) -> bool:
    if one.depth is None or other.depth is None:
        return one.depth is other.depth
    return abs(one.depth - other.depth) <= _DEPTH_TOLERANCE


def followers(sequence: list[Lift]) -> list[list[int]]:
    """For each lift those that one step may lead to: a little deeper, or the original no deeper.

    Args:
        sequence: lifts from the adjusted to the original

    Returns:
        Their positions in the sequence [count].
    """
    return [[index for index, new in enumerate(sequence) if _may_follow(sequence, before, new)] for before in sequence]


def _may_follow(sequence: list[Lift], before: Lift, new: Lift) -> bool:
    if new is before or (before.is_original and not new.is_original):
        return False
    if before.depth is None or new.depth is None:
        return new.is_original
    if before.is_original != new.is_original:
        return not _shares_depth(new.case) or new.depth <= before.depth + _DEPTH_TOLERANCE
    if new.depth < before.depth:
        return new is sequence[-1]
    between = [
        lift
        for lift in sequence
        if lift.is_original == new.is_original and before.depth < (lift.depth or 0.0) <= new.depth
    ]
    return len(between) <= CHOICES.return_plan.most_depth_steps


def _squats(case: ReturnCase) -> bool:
    return all(_has_thigh(one) and EXERCISES[one.exercise].family == "squat" for one in (case.adjusted, case.original))


def _shares_depth(case: ReturnCase) -> bool:
    """Whether the adjusted lift is taken to the original's depth before it is changed for the original."""
    return case.adjusted.exercise == case.original.exercise or (_squats(case) and case.adjusted.depth is not None)


def _has_thigh(prescription: Prescription) -> bool:
    """Whether the depth of a lift is that of its thigh, and not the height of its start."""
    rule = EXERCISE_RULES.get(prescription.exercise)
    return rule is not None and rule.grip_height is None


def _depth_of(case: ReturnCase, prescription: Prescription) -> float | None:
    """How far down a lift goes, as Lift.depth; raises Refusal for a posture that cannot be had."""
    rule = EXERCISE_RULES.get(prescription.exercise)
    if rule is None:
        return None
    demand = setup_demand(
        case.present.body, prescription.exercise, prescription.load, prescription.depth, prescription.technique
    )
    if rule.grip_height is None:
        return -demand.setup.thigh_angle
    if prescription.depth is None:
        return -rule.block_height
    return None if prescription.depth.box_height is None else -prescription.depth.box_height


def _between(
    maker: _LiftMaker, start: Lift, end: Lift, *, original_form: bool, from_start: bool = False
) -> Iterator[Lift]:
    """The lift deeper than at the start up to the original's depth, in the adjusted or in the original form.

    from_start: the starting depth as well.
    """
    if start.depth is None or end.depth is None:
        return
    case = maker.case
    base = case.original if original_form else case.adjusted
    if from_start:
        yield from _at(maker, base, case.adjusted.depth, start.depth, is_original=original_form)
    for depth in _depths(base, start.depth, end.depth):
        yield from _at(maker, base, _stated(base, depth), depth, is_original=original_form)
    if not original_form and end.depth > start.depth + _DEPTH_TOLERANCE:
        yield from _at(maker, base, _stated(base, end.depth), end.depth, is_original=False)


def _partial(maker: _LiftMaker, end: Lift) -> Iterator[Lift]:
    """The original lift with less range than it will have, for a first exposure that has to ask little."""
    if end.depth is None:
        return
    original = maker.case.original
    for depth in _depths(original, -_SHALLOWEST - _DEPTH_TOLERANCE, end.depth):
        yield from _at(maker, original, _stated(original, depth), depth, is_original=True)


def _at(
    maker: _LiftMaker, base: Prescription, stated: Depth | None, depth: float, *, is_original: bool
) -> Iterator[Lift]:
    """The lift at a depth, unless this lifter cannot get there in balance."""
    prescription = replace(base, depth=stated)
    try:
        lift = maker.lift(prescription, depth=depth, is_original=is_original)
    except Refusal:
        return
    if lift.loads:
        yield lift


def _stated(base: Prescription, depth: float) -> Depth:
    return Depth(thigh_below_horizontal=depth) if _has_thigh(base) else Depth(box_height=-depth)


def _depths(base: Prescription, above: float, below: float) -> list[float]:
    """The configured depths strictly between two, shallowest first, as Lift.depth."""
    if _has_thigh(base):
        steps = range(floor(above / _STEP + _SMALLEST_PART) + 1, ceil(below / _STEP - _SMALLEST_PART))
        return [step * _STEP for step in steps]
    heights = CHOICES.adjustments.block_heights
    return sorted(-height for height in heights if above + _DEPTH_TOLERANCE < -height < below - _DEPTH_TOLERANCE)


def _loads(case: ReturnCase, prescription: Prescription) -> Loads:
    """The loads that may be used in a lift; the two prescriptions' own loads belong to them."""
    original, adjusted = case.original, case.adjusted
    own = [one.load for one in (original, adjusted) if one.exercise == prescription.exercise]
    top = original.load if prescription.exercise == original.exercise else _most_in_substitute(case, prescription)
    top = max([top, *own])
    least = CHOICES.adjustments.lightest_share * total_load(original, case.body_mass) - case.body_mass
    lightest = least if lifts_the_body(prescription.exercise) else TOLERANCE
    apart_by = max(LOAD_TOLERANCE, (top - lightest) / CHOICES.return_plan.most_loads)
    loads: list[float] = []
    load = case.round_down(prescription.exercise, top)
    while load is not None and load >= lightest:
        loads.append(load)
        below = case.round_down(prescription.exercise, load - apart_by)
        load = None if below is None or below >= load else below
    others = [load for load in loads if all(abs(load - mine) > LOAD_TOLERANCE for mine in own)]
    return tuple(sorted([*others, *dict.fromkeys(own)]))


def _most_in_substitute(case: ReturnCase, prescription: Prescription) -> float:
    """The share of the load that would match the original to which a substitute is taken [kg]."""
    most, known = maximum(case, prescription), maximum(case, case.original)
    if most == inf or not known:
        return case.adjusted.load
    matching = most / known * total_load(case.original, case.body_mass)
    body = case.body_mass if lifts_the_body(prescription.exercise) else 0.0
    return CHOICES.return_plan.load_before_change * matching - body
