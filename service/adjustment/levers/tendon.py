"""Two programs of their own for a sore tendon: heavy slow lifting and long holds.

Heavy slow resistance: kongsgaard_2009 (stages of 15 to 6 repetitions, 3 s down and 3 s up, three days a week). Holds:
five of 45 s at about 60 degrees of knee bend; the pain relief found in 6 people (rio_2015) was small in 21
(holden_2020), so it is optional and promises nothing. Both keep a few repetitions in reserve, for sets to failure have
no place in a sore region.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import exp, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.evaluation import assess, tempo_factor
from service.adjustment.levers.load import load_for_target
from service.adjustment.levers.tempo import has_tempo
from service.adjustment.prescription import Prescription, body_moved, total_load
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.mechanics.setups import Depth
from service.training.load_repetition import person_curve
from service.training.volume import Reps
from service.vocabulary import Lever

_SLOW: Final = CHOICES.adjustments.heavy_slow
_HOLD: Final = CHOICES.adjustments.isometric
_SLOW_LEVERS: Final[tuple[Lever, ...]] = ("load", "reps", "sets", "tempo")
_HOLD_LEVERS: Final[tuple[Lever, ...]] = ("load", "sets", "tempo", "range_of_motion")


def tendon_programs(case: Case) -> Iterator[Assessment]:
    """Heavy slow lifting and holds, where their levers are allowed and the present lift could be done slowly."""
    if not has_tempo(case.now):
        return
    if case.levers.issuperset(_SLOW_LEVERS) and total_load(case.now, case.present.body.mass) > 0:
        yield _heavy_slow(case)
    if case.levers.issuperset(_HOLD_LEVERS) and _can_hold(case):
        yield _isometric(case)


def _heavy_slow(case: Case) -> Assessment:
    """The heaviest stage whose load meets the target, by the loads that a lifter of the general curve manages."""
    now = case.now
    body = body_moved(now.exercise, case.present.body.mass)
    maximum = (now.load + body) / case.present_share
    curve = person_curve(now.exercise, 0)
    days = min(_SLOW.days, case.most_days) if now.days is not None and "days" in case.levers else now.days
    for reps in _SLOW.stages:
        slow = replace(
            now,
            sets=_SLOW.sets,
            reps=Reps(reps, reps),
            tempo=_SLOW.tempo,
            rest=_SLOW.rest if "rest" in case.levers else now.rest,
            days=days,
        )
        to_failure = (reps + _SLOW.reserve) / tempo_factor(now, slow)
        if to_failure > exp(curve.log_reps[-1]):
            continue
        wanted = min(now.load, curve.share_at(to_failure) * maximum - body)
        load = case.round_down(now.exercise, wanted, now.implement)
        if load is None:
            continue
        slow = replace(slow, load=load, reserve=_SLOW.reserve)
        levers = _with_rest_and_days(_SLOW_LEVERS, now, slow)
        assessment = assess(case, Trial(levers, slow, program="heavy_slow", sources=("kongsgaard_2009",)))
        if not isinstance(assessment, RuledOut):
            return assessment
    return RuledOut(_SLOW_LEVERS, "heavy_slow_has_no_stage")


def _with_rest_and_days(levers: tuple[Lever, ...], now: Prescription, new: Prescription) -> tuple[Lever, ...]:
    """The levers of a program, with rest and days where it changes those as well."""
    also: dict[Lever, bool] = {"rest": new.rest != now.rest, "days": new.days != now.days}
    return (*levers, *(lever for lever, changed in also.items() if changed))


def _can_hold(case: Case) -> bool:
    return case.now.posture is not None and EXERCISES[case.now.exercise].family != "hinge"


def _isometric(case: Case) -> Assessment:
    """Long holds of the present lift at a moderate knee bend."""
    now = case.now
    hold = replace(
        now,
        sets=_HOLD.sets,
        reps=Reps(1, 1),
        load=now.load * CHOICES.adjustments.untested_share,
        reserve=_HOLD.reserve,
        depth=Depth(knee_flexion=radians(_HOLD.knee_flexion)),
        tempo=None,
        rest=_HOLD.rest if "rest" in case.levers else now.rest,
        hold=_HOLD.seconds,
        cues=(),
    )
    levers = _with_rest_and_days(_HOLD_LEVERS, now, hold)
    try:
        load = load_for_target(case, hold)
        if load is None:
            return RuledOut(levers, "hold_has_no_load", hold)
        trial = Trial(
            levers,
            replace(hold, load=load),
            None,
            "range_of_motion",
            untested=True,
            program="isometric",
            sources=("rio_2015", "holden_2020"),
        )
        return assess(case, trial)
    except Refusal as refusal:
        return RuledOut(levers, "hold_refused", hold, {"detail": refusal.reason})
