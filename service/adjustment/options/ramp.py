"""How the load of another lift is found: from a careful start in steps, up to what the sore region should tolerate."""

from __future__ import annotations

from math import floor
from typing import Final

import msgspec
from msgspec.structs import replace

from service.adjustment.consultation import Candidate, Case
from service.adjustment.levers.load import load_for_target, surely_lower_load
from service.adjustment.prescription import body_moved, total_load
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import ratio_between

_CHOICE: Final = CHOICES.adjustments
_SMALLEST: Final = 1e-6
"""Of two loads [kg]: what is less than this between them comes from rounding."""


class Ramp(msgspec.Struct, frozen=True):
    """Sets of rising load in a lift that is new, each with the reserve at which to stop.

    Attributes:
        start: first load [kg]
        step: from one set to the next [kg], None where nothing heavier is to be tried
        at_most: heaviest load to be tried: what the sore region is taken to tolerate, never more than the present [kg]
        reserve: repetitions in reserve at which to stop [count]
        expected: load expected by the published ratio for the same repetitions and effort [kg], None without a ratio
        sources: ids of the sources of that ratio
    """

    start: float
    step: float | None
    at_most: float
    reserve: float
    expected: Interval | None
    sources: tuple[str, ...]


def ramp(case: Case, candidate: Candidate) -> Ramp | None:
    """The ramp of an option; None where the lift stays, or nothing is loaded."""
    new = candidate.prescription
    same = (new.exercise, new.held) == (case.now.exercise, case.now.held)
    if same or candidate.trial.program is not None or new.load == 0:
        return None
    expected, sources = _expected(case, new.exercise)
    at_most = max(new.load, _tolerated(case, candidate, expected))
    if candidate.trial.untested:
        reserve = max(case.now.counted_reserve, _CHOICE.untested_reserve)
    else:
        reserve = max(_CHOICE.least_reserve, floor(new.counted_reserve))
    reserve = min(reserve, _CHOICE.most_reserve)  # a set is stopped by a number that can be told
    return Ramp(new.load, _step(case, candidate, at_most), at_most, reserve, expected, sources)


def _expected(case: Case, exercise: str) -> tuple[Interval | None, tuple[str, ...]]:
    """The load that stands for the present one by the published ratio, with its spread between people [kg]."""
    ratio = ratio_between(case.now.exercise, exercise)
    if ratio is None:
        return None, ()
    mass = case.present.body.mass
    load, body = total_load(case.now, mass), body_moved(exercise, mass)
    spread = ratio.sd if ratio.sd is not None else ratio.ratio * _CHOICE.ratio_spread
    ends = (load * one - body for one in (ratio.ratio, ratio.ratio - spread, ratio.ratio + spread))
    return Interval(*ends), ratio.sources


def _tolerated(case: Case, candidate: Candidate, expected: Interval | None) -> float:
    """The heaviest load at which the target is met, by what is computed or published, else by the load itself [kg]."""
    new, mass = candidate.prescription, case.present.body.mass
    body = body_moved(new.exercise, mass)
    ceiling = total_load(case.now, mass) - body
    if expected is not None:
        ceiling = min(ceiling, expected.value)
    if candidate.trial.intended is not None:
        ceiling = min(ceiling, candidate.trial.intended)
    heaviest = replace(new, load=max(new.load, ceiling))
    sore = candidate.effects[case.region]
    if sore.highest is not None:
        wanted = min(heaviest.load, surely_lower_load(case, sore, new))
        return max(new.load, case.round_down(new.exercise, wanted, new.implement) or new.load)
    if sore.searched is not None:
        try:
            return load_for_target(case, heaviest) or new.load
        except Refusal:
            return new.load
    by_load = case.round_down(new.exercise, case.target * (max(new.load, ceiling) + body) - body, new.implement)
    return new.load if by_load is None else by_load


def _step(case: Case, candidate: Candidate, at_most: float) -> float | None:
    """The configured share of the start, or the least that can be added; None where that is above the most [kg]."""
    new, mass = candidate.prescription, case.present.body.mass
    whole = total_load(new, mass)
    for part in range(1, 11):
        wanted = min(at_most, new.load + part * _CHOICE.ramp_step * whole)
        heavier = case.round_down(new.exercise, wanted, new.implement)
        if heavier is not None and heavier > new.load + _SMALLEST:
            return heavier - new.load
    return None
