"""A slow tempo: less force at the turn of each repetition, and as much less load as the repetitions that it costs.

The force at the turn falls by the factor of service.mechanics.dynamics; the repetitions are those that slow lifting was
measured to cost. What is lifted as fast as a swing, carried, pushed along, or held, has no tempo.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import exp, floor
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.evaluation import assess, tempo_factor
from service.adjustment.levers.load import load_by_practice, load_for_target
from service.adjustment.prescription import Prescription, total_load
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve
from service.training.tempo import phase_seconds, seconds_per_rep
from service.training.volume import Reps
from service.vocabulary import Lever

_SLOW: Final = CHOICES.adjustments.slow_tempo


def slower(case: Case) -> Iterator[Assessment]:
    """The present lift with the slow tempo, where that is slower than now."""
    now = case.now
    if "load" not in case.levers:
        yield RuledOut(("tempo",), "tempo_alone")
        return
    if not has_tempo(now) or not _is_slower(now):
        return
    slow = replace(now, tempo=_SLOW)
    heaviest = _heaviest(case, slow)
    if heaviest is not None and heaviest >= case.lightest:
        yield _with_load_for_effort(case, replace(slow, load=heaviest))
    elif not now.load:  # nothing that could come off
        yield RuledOut(("tempo",), "tempo_alone")


def has_tempo(prescription: Prescription) -> bool:
    """Whether a lift has a lowering and a lifting that could be done slowly."""
    lift = EXERCISES[prescription.exercise]
    return prescription.hold is None and lift.carry != "swung" and lift.family != "carry"


def _is_slower(now: Prescription) -> bool:
    slow, stated = seconds_per_rep(phase_seconds(_SLOW)), now.tempo
    return stated is None or seconds_per_rep(phase_seconds(stated)).value < slow.value


def _heaviest(case: Case, slow: Prescription) -> float | None:
    """The heaviest load that meets the target [kg], where no demand is computed a first step by practice."""
    if region_ratio(case.present, slow, case.region) is None:
        return load_by_practice(case)
    return load_for_target(case, slow)


def _with_load_for_effort(case: Case, slow: Prescription) -> Assessment:
    """The slow tempo with as much less load as leaves the repetitions that it costs.

    Where even the least reserve would need a load below all of which repetitions are published, there are fewer, though
    not so few that a set would no more count as a whole one.
    """
    mass, now, curve = case.present.body.mass, case.now, person_curve(case.now.exercise, 0)
    least, left = CHOICES.adjustments.least_reserve, tempo_factor(now, slow)
    reserve = max(now.counted_reserve, least)
    levers: tuple[Lever, ...] = ("load", "tempo")
    known = exp(curve.log_reps[-1]) * left
    fewer = floor(known - reserve)
    if now.reps.high + least > known and "reps" in case.levers:
        if fewer < CHOICES.dose.whole_set_reps:
            return RuledOut((*levers, "reps"), "slow_tempo_leaves_few_reps", slow)
        slow = replace(slow, reps=Reps(max(1, now.reps.low - now.reps.high + fewer), fewer))
        levers = (*levers, "reps")
    share = min(1.0, curve.share_at((slow.reps.high + reserve) / left) / case.present_share)
    body = total_load(now, mass) - now.load
    load = case.round_down(now.exercise, min(slow.load, share * total_load(now, mass) - body), now.implement)
    if load is None or load < case.lightest:
        return RuledOut(levers, "slow_tempo_needs_too_little_load", slow)
    if load >= now.load:
        levers = tuple(lever for lever in levers if lever != "load")
    return assess(case, Trial(levers, replace(slow, load=load)))
