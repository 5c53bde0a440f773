"""A ranked candidate worked out in full: intervals, directions, what rises elsewhere, and which cautions apply.

The search goes by central values; only what is worth showing is given intervals.
"""

from __future__ import annotations

from functools import cached_property
from itertools import groupby
from math import sqrt
from typing import Final

import msgspec

from service.adjustment.compared import compared_demand
from service.adjustment.consultation import Candidate, Case
from service.adjustment.evaluation import below_published
from service.adjustment.options.faults import unloads
from service.adjustment.options.ramp import Ramp, ramp
from service.adjustment.options.ranking import RankGroup, rank_group
from service.adjustment.pace import JOINTS
from service.adjustment.region_effect import ComparedDemand
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.knowledge.implements import loads_compare
from service.mechanics.lift_demand import standing_lean
from service.vocabulary import SUMMED, Direction

_DECIMALS: Final = 3
_BOTH_FEET_CARRY: Final = ("split_squat", "rear_foot_elevated_split_squat", "lunge")


class Outcome(msgspec.Struct, frozen=True, dict=True, eq=False):
    """What is said about one option, worked out as far as it is asked for.

    Attributes:
        case: the consultation
        candidate: the option
    """

    case: Case
    candidate: Candidate

    @cached_property
    def rank_group(self) -> RankGroup:
        """What comes before every merit."""
        return rank_group(self.candidate, self.case)

    @cached_property
    def _compared(self) -> ComparedDemand:
        return compared_demand(self.case.present, self.candidate.prescription)

    @cached_property
    def demand(self) -> dict[str, Interval]:
        """By region against the present, where a number is known [1]."""
        return {region: _rounded(span) for region, span in self._compared.ratios.items()}

    @property
    def with_interval(self) -> frozenset[str]:
        """Regions whose demand has an interval of one standard deviation."""
        return self._compared.with_interval

    @property
    def of_arm(self) -> frozenset[str]:
        """Regions whose demand has its interval from the model of the arm."""
        return self._compared.of_arm

    @property
    def direction(self) -> dict[str, Direction]:
        """Which way the demand of every region moves."""
        return self._compared.directions

    @cached_property
    def risen(self) -> tuple[str, ...]:
        """Regions that are asked for more than the configured share above the present."""
        return tuple(
            region
            for region, interval in self.demand.items()
            if region != self.case.region and interval.value > CHOICES.adjustments.elsewhere_rise
        )

    @cached_property
    def caution_codes(self) -> tuple[str, ...]:
        """Codes of knowledge/data/cautions.toml."""
        return tuple(_codes(self.case, self.candidate, self.direction[self.case.region], self.risen))

    @property
    def model_cautions(self) -> tuple[str, ...]:
        """Codes of knowledge/data/postures.toml."""
        return self._compared.cautions

    @property
    def sources(self) -> tuple[str, ...]:
        """Ids of the sources of what is published."""
        of_effects = (source for effect in self.candidate.effects.values() for source in effect.sources)
        return tuple(dict.fromkeys((*self.candidate.trial.sources, *of_effects)))

    @cached_property
    def ramp(self) -> Ramp | None:
        """How the load of another lift is found."""
        return ramp(self.case, self.candidate)


def _rounded(span: Interval) -> Interval:
    """A ratio as it is said and shown; nothing of a demand is known to more decimals."""
    return Interval(*(round(end, _DECIMALS) for end in (span.value, span.low, span.high)))


def surest_first(outcomes: list[Outcome], most: int) -> list[Outcome]:
    """Ranked outcomes with those first, among their equals, whose relief does not reach to none within its interval.

    What unloads or has more faults comes after what does not, however sure: it is left as it is where enough comes
    before it.

    Args:
        outcomes: the first to be tried first
        most: options that are wanted [count]
    """
    order: list[Outcome] = []
    for _, group in groupby(outcomes, key=lambda one: one.rank_group[:2]):
        equals = list(group)
        order += sorted(equals, key=_place) if len(order) < most else equals
    return order


def _place(one: Outcome) -> tuple[object, ...]:
    return *one.rank_group, not _sure(one)


def _sure(one: Outcome) -> bool:
    return one.candidate.meets_by in (*SUMMED, "posture") or one.direction[one.case.region] == "lower"


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
        "relief_uncertain": one.meets_by in ("peak", "direction_only") and direction == "no_clear_difference",
        "posture_not_moment": one.meets_by == "posture",
        "direction_only_option": one.meets_by == "direction_only",
        "no_published_ratio": one.trial.untested and one.trial.program is None,
        "session_exposure_rises": one.exposure is not None and one.exposure > CHOICES.adjustments.other_region_caution,
        "stack_is_no_mass": one.effects[case.region].span is not None and _by_another_stack(case, one),
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
        "row_more_upright": _more_upright(case, one),
        "lean_disputed": case.region == "low_back" and one.trial.likeness != "same" and new.posture is not None,
        "other_region_rises": bool(risen),
    }
    return [code for code, holds in applies.items() if holds]


def _more_upright(case: Case, one: Candidate) -> bool:
    """Whether it is the present pull of a standing lifter with the trunk more upright."""
    leans = [standing_lean(lift.exercise, lift.technique) for lift in (one.prescription, case.now)]
    return one.prescription.exercise == case.now.exercise and leans[0] is not None and leans[0] < (leans[1] or 0.0)


def _by_another_stack(case: Case, one: Candidate) -> bool:
    """Whether one of two loads is that of a stack, and no mass that the hands hold; guided bars carry plates."""
    new, now = one.prescription, case.now
    stack = not (EXERCISES[new.exercise].bar and EXERCISES[now.exercise].bar)
    return stack and not loads_compare(now.held, new.held)
