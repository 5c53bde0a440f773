"""A ranked candidate worked out in full: intervals, directions, what rises elsewhere, and which cautions apply.

The search goes by central values; only what is worth showing is given intervals.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.adjustment.consultation import CHOICE, Candidate, Case, below_published
from service.adjustment.demand import JOINTS, swept
from service.adjustment.options.ranking import rank_group
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.uncertainty.comparison import compare
from service.vocabulary import Direction, Region

_BOTH_FEET_CARRY: Final = ("split_squat", "rear_foot_elevated_split_squat", "lunge")


class Outcome(msgspec.Struct, frozen=True):
    """What is said about one option.

    demand: by region against the present, where a number is known; swept: regions whose demand has a span; direction:
    of every region; risen: regions that are asked for more than the configured share above the present; caution_codes
    of knowledge/cautions.toml, model_cautions of knowledge/postures.toml; sources: of what is published.
    """

    candidate: Candidate
    demand: dict[str, Interval]
    swept: frozenset[str]
    direction: dict[str, Direction]
    risen: tuple[str, ...]
    caution_codes: tuple[str, ...]
    model_cautions: tuple[str, ...]
    sources: tuple[str, ...]


def outcome(case: Case, one: Candidate) -> Outcome:
    """Everything to be said about a candidate."""
    demand = {
        region: Interval(effect.ratio, effect.ratio, effect.ratio)
        for region, effect in one.effects.items()
        if effect.ratio is not None
    }
    direction = {region: effect.direction for region, effect in one.effects.items()}
    spans, verdicts, model_cautions = _swept(case, one)
    demand |= {region: span for region, span in spans.items() if region in demand}
    direction |= verdicts
    risen = tuple(
        region for region, span in demand.items() if region != case.region and span.value > CHOICE.other_region_caution
    )
    sources = dict.fromkeys(
        (*one.trial.sources, *(source for effect in one.effects.values() for source in effect.sources))
    )
    return Outcome(
        one,
        demand,
        frozenset(spans),
        direction,
        risen,
        tuple(_codes(case, one, direction[case.region], risen)),
        model_cautions,
        tuple(sources),
    )


def surest_first(outcomes: list[Outcome], region: Region) -> list[Outcome]:
    """Ranked outcomes with those first, among their equals, whose relief does not reach to none within its span."""
    return sorted(outcomes, key=lambda found: (*rank_group(found.candidate), not _sure(found, region)))


def _sure(found: Outcome, region: Region) -> bool:
    return found.candidate.meets_by != "peak" or found.direction[region] == "lower"


def _swept(case: Case, one: Candidate) -> tuple[dict[str, Interval], dict[str, Direction], tuple[str, ...]]:
    """Spans and verdicts by region, and the model's cautions; empty where either lift has no posture rule."""
    reference = case.present.swept
    if reference is None or one.prescription.exercise not in EXERCISE_RULES:
        return {}, {}, ()
    found = swept(case.present.body, one.prescription)
    against = compare(found, reference)
    compared = {region: against[joint] for region, joint in JOINTS.items()}
    spans = {region: verdict.ratio for region, verdict in compared.items() if verdict.ratio is not None}
    return spans, {region: verdict.difference for region, verdict in compared.items()}, found.cautions


def hardly_loaded(case: Case, region: str) -> bool:
    """Whether what the present lift asks of a region is so near nil that a ratio to it says little."""
    if case.present.swept is None or region not in JOINTS:
        return False
    span = case.present.swept.intervals[JOINTS[region]]
    most = CHOICE.uncertain_base
    return (span.high - span.low) / 2 > most * abs(span.value)


def _codes(case: Case, one: Candidate, verdict: Direction, risen: tuple[str, ...]) -> list[str]:
    new = one.prescription
    said = {
        "session_exposure_only": one.meets_by == "session_exposure",
        "relief_uncertain": one.meets_by == "peak" and verdict == "no_clear_difference",
        "direction_only_option": one.meets_by == "direction_only",
        "no_published_ratio": one.trial.untested and one.trial.program is None,
        "session_exposure_rises": one.exposure is not None and one.exposure > CHOICE.other_region_caution,
        "retest_variation": one.trial.likeness != "same",
        "partial_range": "range_of_motion" in one.levers and one.trial.program is None,
        "another_leg_share": EXERCISES[new.exercise].family == "split",
        "rear_leg_works": EXERCISES[new.exercise].stance in _BOTH_FEET_CARRY,
        "effort_out_of_range": below_published(case, one.stimulus.relative_load) and one.trial.program is None,
        "easy_set": one.stimulus.reserve > CHOICES.effort.hard_set_reserve,
        "slow_tempo_rough": "tempo" in one.levers and one.trial.program is None,
        "heavy_slow_from_memory": one.trial.program == "heavy_slow",
        "holds_disputed": one.trial.program == "isometric",
        "lean_disputed": case.region == "low_back" and one.trial.likeness != "same" and new.exercise in EXERCISE_RULES,
        "other_region_rises": bool(risen),
    }
    return [code for code, holds in said.items() if holds]
