"""The lifts of a way back: as adjusted, at the depths in between and as originally, each with its demand and loads.

The peak of a repetition rises with the load nearly in a straight line, so two solutions tell which load to look at; the
load taken is always one whose peak was computed.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from math import ceil, floor, inf, isfinite, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription, lifts_the_body, total_load
from service.adjustment.return_plan.problem import CHOICE, DUST, TRIED, ReturnCase, maximum
from service.adjustment.return_plan.work import Work
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.demand import setup_demand
from service.mechanics.setups import Depth

_STEP: Final = radians(TRIED.depth_step)
_SHALLOWEST: Final = radians(TRIED.shallowest_thigh)
_UNSEEN: Final = 0.2
"""Of a step of depth: no eye tells two depths so near to each other, so no step of the way lies between them."""
_NEAR: Final = 1e-6
LOAD_NEAR: Final = 1e-4  # [kg]


Loads = tuple[float, ...]
"""Loads of one exercise [kg], lightest first."""


class Lift:
    """One way of lifting on the way back; remembers every peak it has computed.

    done: exercise, depth, technique and tempo of it, whatever the load; deep: how far down it goes, greater is deeper:
    the thigh below the horizontal [rad], or the height of blocks under the bar taken negative [m], None where neither
    is known; back: whether it is the original lift, the depth apart; loads: that the implement holds, lightest first
    [kg]; most: the maximum in it, body included [kg]; body: what of the lifter counts as load [kg]; slope: rise of the
    peak with the load from the lightest to the heaviest [1/kg], 0 where one of them cannot be held; told: whether a
    number is known for the region, else the effort against the original's stands for the demand.
    """

    def __init__(
        self, case: ReturnCase, work: Work, done: Prescription, loads: Loads, *, deep: float | None, back: bool
    ) -> None:
        self.case = case
        self.work = work
        self.done = done
        self.deep = deep
        self.back = back
        self.most = maximum(case, done)
        self.body = case.body_mass if lifts_the_body(done.exercise) else 0.0
        self.loads = loads
        self.told = bool(self.loads) and region_ratio(case.present, done, case.region) is not None
        self._peaks: dict[float, float] = {}
        self.slope = 0.0
        self._lowest = self.peak(self.loads[0]) if self.loads else inf
        if len(self.loads) > 1 and isfinite(self._lowest) and isfinite(self.peak(self.loads[-1])):
            lightest, heaviest = self.loads[0], self.loads[-1]
            self.slope = (self.peak(heaviest) - self._lowest) / (heaviest - lightest)

    def peak(self, load: float) -> float:
        """Peak demand of a repetition with a load [kg] against the original's [1]; infinite where it cannot be held."""
        found = self._peaks.get(load)
        if found is None:
            self.work.posture()
            try:
                found = self._computed(replace(self.done, load=load))
            except Refusal:
                found = inf
            self._peaks[load] = found
        return found

    def _computed(self, done: Prescription) -> float:
        case = self.case
        if self.told:
            ratio = region_ratio(case.present, done, case.region)
            if ratio is not None:
                return ratio
        original = case.original
        known = total_load(original, case.body_mass)
        if not known:  # nothing is lifted but the body's own parts, and nothing more will be
            return 1.0
        relative = total_load(done, case.body_mass) / known
        if done.exercise == original.exercise:
            return relative
        return relative * maximum(case, original) / self.most

    def heaviest(self, peak: float, ceiling: float) -> float | None:
        """The heaviest of its loads, not above a ceiling [kg], whose peak is not above the one given [1]."""
        loads, peaks, most = self.loads, self._peaks, peak + DUST
        top = place = bisect_right(loads, ceiling + _NEAR) - 1
        if place < 0:
            return None
        if self.slope > 0:
            guess = loads[0] + (peak - self._lowest) / self.slope
            place = min(place, max(0, bisect_right(loads, guess + _NEAR)))
        while place < top and (peaks.get(loads[place + 1]) or self.peak(loads[place + 1])) <= most:
            place += 1
        while place >= 0 and (peaks.get(loads[place]) or self.peak(loads[place])) > most:
            place -= 1
        return loads[place] if place >= 0 else None


class _Maker:
    """Makes the lifts of one return; looks up the loads of an exercise once, whatever the depth."""

    def __init__(self, case: ReturnCase, work: Work) -> None:
        self.case = case
        self.work = work
        self.loads: dict[str, Loads] = {}

    def lift(self, done: Prescription, *, deep: float | None, back: bool) -> Lift:
        """Raises Refusal where it cannot be had."""
        loads = self.loads.get(done.exercise)
        if loads is None:
            loads = self.loads[done.exercise] = _loads(self.case, done)
        return Lift(self.case, self.work, done, loads, deep=deep, back=back)


def lifts(case: ReturnCase, work: Work) -> list[Lift]:
    """The lifts between the adjusted and the original one, these two included, the adjusted first, the original last.

    Raises Refusal where the adjusted lift cannot be had; depths in between that cannot be had are left out.
    """
    adjusted, original, make = case.adjusted, case.original, _Maker(case, work)
    same_form = (adjusted.exercise, adjusted.technique) == (original.exercise, original.technique)
    start = make.lift(adjusted, deep=_deep(case, adjusted), back=same_form)
    end = make.lift(original, deep=_deep(case, original), back=True)
    # where the hips end the range, how deep a lift goes without a stated depth is another thing with each load
    if same_form and (adjusted.depth == original.depth or _as_deep(start, end)):
        return [end]
    found = [start]
    if _shares_depth(case):
        found += _between(make, start, end, same_form=same_form)
    if not same_form and adjusted.exercise == original.exercise:
        found += _between(make, start, end, same_form=True, from_start=True)
    elif not same_form and _squats(case):
        found += _partial(make, end)
    return [*found, end]


def _as_deep(one: Lift, other: Lift) -> bool:
    if one.deep is None or other.deep is None:
        return one.deep is other.deep
    return abs(one.deep - other.deep) <= _NEAR


def followers(found: list[Lift]) -> list[list[int]]:
    """For each lift the places of those that one step may lead to: a little deeper, or the original lift no deeper."""
    return [[place for place, new in enumerate(found) if _may_follow(found, before, new)] for before in found]


def _may_follow(found: list[Lift], before: Lift, new: Lift) -> bool:
    if new is before or (before.back and not new.back):
        return False
    if before.deep is None or new.deep is None:
        return new.back
    if before.back != new.back:
        return not _shares_depth(new.case) or new.deep <= before.deep + _NEAR
    if new.deep < before.deep:
        return new is found[-1]
    between = [lift for lift in found if lift.back == new.back and before.deep < (lift.deep or 0.0) <= new.deep]
    return len(between) <= CHOICE.most_depth_steps


def _squats(case: ReturnCase) -> bool:
    return all(_has_thigh(one) and EXERCISES[one.exercise].family == "squat" for one in (case.adjusted, case.original))


def _shares_depth(case: ReturnCase) -> bool:
    """Whether the adjusted lift is taken to the original's depth before it is changed for the original."""
    return case.adjusted.exercise == case.original.exercise or (_squats(case) and case.adjusted.depth is not None)


def _has_thigh(done: Prescription) -> bool:
    rule = EXERCISE_RULES.get(done.exercise)
    return rule is not None and rule.grip_height is None


def _deep(case: ReturnCase, done: Prescription) -> float | None:
    """How far down a lift goes; raises Refusal for a posture that cannot be had."""
    rule = EXERCISE_RULES.get(done.exercise)
    if rule is None:
        return None
    found = setup_demand(case.present.body, done.exercise, done.load, done.depth, done.technique)
    if rule.grip_height is None:
        return -found.setup.thigh_angle
    if done.depth is None:
        return -rule.block_height
    return None if done.depth.box_height is None else -done.depth.box_height


def _between(make: _Maker, start: Lift, end: Lift, *, same_form: bool, from_start: bool = False) -> Iterator[Lift]:
    """The lift deeper than at the start up to the original's depth, in the adjusted or in the original form.

    from_start: the starting depth as well.
    """
    if start.deep is None or end.deep is None:
        return
    case = make.case
    base = case.original if same_form else case.adjusted
    if from_start:
        yield from _at(make, base, case.adjusted.depth, start.deep, back=same_form)
    for depth, deep in _depths(base, start.deep, end.deep):
        yield from _at(make, base, depth, deep, back=same_form)
    if not same_form and end.deep > start.deep + _NEAR:
        yield from _at(make, base, _stated(base, end.deep), end.deep, back=False)


def _partial(make: _Maker, end: Lift) -> Iterator[Lift]:
    """The original lift with less range than it will have, for a first exposure that has to ask little."""
    if end.deep is None:
        return
    for depth, deep in _depths(make.case.original, -_SHALLOWEST - _NEAR, end.deep):
        yield from _at(make, make.case.original, depth, deep, back=True)


def _at(make: _Maker, base: Prescription, depth: Depth | None, deep: float, *, back: bool) -> Iterator[Lift]:
    """The lift at a depth, unless this lifter cannot get there in balance."""
    done = replace(base, depth=depth)
    try:
        lift = make.lift(done, deep=deep, back=back)
    except Refusal:
        return
    if lift.loads:
        yield lift


def _stated(base: Prescription, deep: float) -> Depth:
    return Depth(thigh_below_horizontal=deep) if _has_thigh(base) else Depth(box_height=-deep)


def _depths(base: Prescription, above: float, below: float) -> list[tuple[Depth, float]]:
    """The configured depths strictly between two, shallowest first."""
    if _has_thigh(base):
        steps = range(floor(above / _STEP + _UNSEEN) + 1, ceil(below / _STEP - _UNSEEN))
        found = [step * _STEP for step in steps]
    else:
        found = sorted(-height for height in TRIED.block_heights if above + _NEAR < -height < below - _NEAR)
    return [(_stated(base, deep), deep) for deep in found]


def _loads(case: ReturnCase, done: Prescription) -> tuple[float, ...]:
    """The loads [kg] that may be used in a lift, lightest first; the two prescriptions' own loads belong to them."""
    original, adjusted = case.original, case.adjusted
    own = [one.load for one in (original, adjusted) if one.exercise == done.exercise]
    top = original.load if done.exercise == original.exercise else _most_in_substitute(case, done)
    top = max([top, *own])
    least = TRIED.lightest_share * total_load(original, case.body_mass) - case.body_mass
    lightest = least if lifts_the_body(done.exercise) else DUST
    apart_by = max(LOAD_NEAR, (top - lightest) / CHOICE.most_loads)
    found: list[float] = []
    load = case.round_down(done.exercise, top)
    while load is not None and load >= lightest:
        found.append(load)
        below = case.round_down(done.exercise, load - apart_by)
        load = None if below is None or below >= load else below
    apart = [load for load in found if all(abs(load - mine) > LOAD_NEAR for mine in own)]
    return tuple(sorted([*apart, *dict.fromkeys(own)]))


def _most_in_substitute(case: ReturnCase, done: Prescription) -> float:
    """The share of the load that would match the original to which a substitute is taken [kg]."""
    most, known = maximum(case, done), maximum(case, case.original)
    if most == inf or not known:
        return case.adjusted.load
    matching = most / known * total_load(case.original, case.body_mass)
    body = case.body_mass if lifts_the_body(done.exercise) else 0.0
    return CHOICE.load_before_change * matching - body
