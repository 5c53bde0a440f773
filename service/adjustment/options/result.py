"""A ranked candidate worked out in full: intervals, directions, what rises elsewhere, and which cautions apply.

The search goes by central values; only what is worth showing is given intervals.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

import msgspec

from service.adjustment.compared import compared_demand
from service.adjustment.consultation import Candidate, Case
from service.adjustment.evaluation import below_published
from service.adjustment.options.ramp import Ramp
from service.adjustment.options.ranking import rank_group, unloads
from service.adjustment.pace import JOINTS
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.vocabulary import SUMMED, Direction, Region

_DECIMALS: Final = 3
_BOTH_FEET_CARRY: Final = ("split_squat", "rear_foot_elevated_split_squat", "lunge")


class Outcome(msgspec.Struct, frozen=True):
    """What is said about one option.

    Attributes:
        candidate: the option
        demand: by region against the present, where a number is known [1]
        with_interval: regions whose demand has an interval
        direction: of every region
        risen: regions that are asked for more than the configured share above the present
        caution_codes: codes of knowledge/data/cautions.toml
        model_cautions: codes of knowledge/data/postures.toml
        sources: ids of the sources of what is published
        ramp: how the load of another lift is found
    """

    candidate: Candidate
    demand: dict[str, Interval]
    with_interval: frozenset[str]
    direction: dict[str, Direction]
    risen: tuple[str, ...]
    caution_codes: tuple[str, ...]
    model_cautions: tuple[str, ...]
    sources: tuple[str, ...]
    ramp: Ramp | None = None


def outcome(case: Case, candidate: Candidate) -> Outcome:
    """Everything to be said about a candidate."""
    compared = compared_demand(case.present, candidate.prescription)
    demand = {region: _rounded(span) for region, span in compared.ratios.items()}
    risen = tuple(
        region
        for region, interval in demand.items()
        if region != case.region and interval.value > CHOICES.adjustments.elsewhere_rise
    )
    sources = dict.fromkeys(
        (*candidate.trial.sources, *(source for effect in candidate.effects.values() for source in effect.sources))
    )
    return Outcome(
        candidate,
        demand,
        compared.with_interval,
        compared.directions,
        risen,
        tuple(_codes(case, candidate, compared.directions[case.region], risen)),
        compared.cautions,
        tuple(sources),
    )


def _rounded(span: Interval) -> Interval:
    """A ratio as it is said and shown; nothing of a demand is known to more decimals."""
    return Interval(*(round(end, _DECIMALS) for end in (span.value, span.low, span.high)))


def surest_first(outcomes: list[Outcome], case: Case) -> list[Outcome]:
    """Ranked outcomes with those first, among their equals, whose relief does not reach to none within its interval."""
    return sorted(outcomes, key=lambda one: (*rank_group(one.candidate, case), not _sure(one, case.region)))


def _sure(one: Outcome, region: Region) -> bool:
    return one.candidate.meets_by in SUMMED or one.direction[region] == "lower"


def hardly_loaded(case: Case, region: str) -> bool:
    """Whether what the present lift asks of a region is so near nil that a ratio to it says little."""
    joint = JOINTS.get(REGIONS[region].whole)
    if case.present.uncertain is None or joint is None:
        return False
    deviation = sqrt(case.present.uncertain.changes[joint].variance)
    return deviation > CHOICES.adjustments.uncertain_base * abs(case.present.uncertain.intervals[joint].value)


def _codes(case: Case, one: Candidate, direction: Direction, risen: tuple[str, ...]) -> list[str]:
    new = one.prescription
    applies = {
        "session_exposure_only": one.meets_by == "session_exposure",
        "week_exposure_only": one.meets_by == "week_exposure",
        "relief_uncertain": one.meets_by not in SUMMED and direction == "no_clear_difference",
        "direction_only_option": one.meets_by == "direction_only",
        "no_published_ratio": one.trial.untested and one.trial.program is None,
        "session_exposure_rises": one.exposure is not None and one.exposure > CHOICES.adjustments.other_region_caution,
        "retest_variation": one.trial.likeness != "same",
        "partial_range": "range_of_motion" in one.levers and one.trial.program is None,
        "another_leg_share": EXERCISES[new.exercise].family == "split",
        "rear_leg_works": EXERCISES[new.exercise].stance in _BOTH_FEET_CARRY,
        "reserve_is_a_bound": below_published(case, one.stimulus.relative_load) and one.trial.program is None,
        "easy_set": one.stimulus.reserve > CHOICES.effort.hard_set_reserve,
        "unloading": unloads(one),
        "slow_tempo_rough": "tempo" in one.levers and one.trial.program is None,
        "heavy_slow_from_memory": one.trial.program == "heavy_slow",
        "holds_disputed": one.trial.program == "isometric",
        "lean_disputed": case.region == "low_back" and one.trial.likeness != "same" and new.posture is not None,
        "other_region_rises": bool(risen),
    }
    return [code for code, holds in applies.items() if holds]
