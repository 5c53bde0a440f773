"""What a prescription asks of each region against the present one.

Where the mechanics covers the lift, the peak moment of a repetition is computed. Presses and pulls have no planar
model: with posture kept, what shoulder, elbow and wrist hold rises in proportion to the load; between exercises only
what was published is said, most often a direction without a number.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription, relative_load
from service.intervals import Interval, exactly
from service.knowledge.catalogue import EXERCISES
from service.knowledge.cues import CUES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.substitutions import directions as published_directions
from service.mechanics.body import Body
from service.mechanics.demand import peak_moments as joint_peaks
from service.mechanics.spine import ARM, SpineSetup, spine_load
from service.mechanics.uncertainty.comparison import Quantity, compare
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand
from service.vocabulary import DemandEvidence, Direction

JOINTS: Final[dict[str, Quantity]] = {"low_back": "lumbosacral", "hip": "hip", "knee": "knee", "ankle": "ankle"}
UPPER_LIMB: Final = ("shoulder", "elbow", "wrist")
_RATIO_TOLERANCE: Final = 1e-9
"""Of two ratios [1]: what is less than this between them comes from rounding."""


class Effect(msgspec.Struct, frozen=True):
    """Demand of one region against the present.

    Attributes:
        ratio: of the peak of a repetition [1], None where only a direction is known
        direction: which way it moves
        evidence: on what that rests
        sources: ids of the sources of what is published
    """

    ratio: float | None
    direction: Direction
    evidence: DemandEvidence
    sources: tuple[str, ...] = ()


class Present(msgspec.Struct, frozen=True):
    """The prescription that hurts and what it asks.

    Attributes:
        body: the lifter
        prescription: the present prescription
        moments: peak of a repetition by region, of lifts and regions that are computed [N·m]
        uncertain: the same with its uncertainty, None without a posture rule
        comparable: regions whose moment is sure enough of its sign to be compared with
        moments_by_setup: moments of the lifts and loads looked at before in this consultation [N·m]; a search comes by
            the same ones more than once
    """

    body: Body
    prescription: Prescription
    moments: dict[str, float]
    uncertain: UncertainDemand | None
    comparable: frozenset[str]
    moments_by_setup: dict[Hashable, dict[str, float]] = {}

    def moments_of(self, new: Prescription) -> dict[str, float]:
        """Peak moments of a prescription of the same lifter [N·m]; as peak_moments."""
        setup = (new.exercise, new.load, new.depth, new.technique)
        moments = self.moments_by_setup.get(setup)
        if moments is None:
            moments = self.moments_by_setup[setup] = peak_moments(self.body, new)
        return moments


class ComparedDemand(msgspec.Struct, frozen=True):
    """Demand of a prescription against the present, by region, with what is known of its uncertainty.

    Attributes:
        ratios: of the peak of a repetition, where a number is known [1]
        with_interval: regions whose ratio has an interval
        directions: of every region that either lift loads
        cautions: codes of knowledge/data/postures.toml
    """

    ratios: dict[str, Interval]
    with_interval: frozenset[str]
    directions: dict[str, Direction]
    cautions: tuple[str, ...] = ()


def _uncertain_demand(body: Body, prescription: Prescription) -> UncertainDemand:
    """Joint moments of the hardest repetition with their uncertainty; raises Refusal as the mechanics does."""
    return uncertain_demand(body, prescription.exercise, prescription.load, prescription.depth, prescription.technique)


def present_demand(body: Body, prescription: Prescription) -> Present:
    """What the present prescription asks; raises Refusal for a posture that cannot be had."""
    if prescription.exercise not in EXERCISE_RULES:
        moments = peak_moments(body, prescription)
        return Present(body, prescription, moments, None, frozenset(moments))
    uncertain = _uncertain_demand(body, prescription)
    spans = {region: uncertain.intervals[joint] for region, joint in JOINTS.items()}
    sure = frozenset(region for region, span in spans.items() if span.low > 0.0 or span.high < 0.0)
    return Present(body, prescription, {region: span.value for region, span in spans.items()}, uncertain, sure)


def peak_moments(body: Body, prescription: Prescription) -> dict[str, float]:
    """Peak moments of a repetition by region [N·m]; empty where nothing is computed.

    Raises Refusal for a posture that cannot be had.
    """
    exercise = EXERCISES[prescription.exercise]
    if exercise.id in EXERCISE_RULES:
        peaks = joint_peaks(body, exercise.id, prescription.load, prescription.depth, prescription.technique)
        return {region: peaks[joint].moment for region, joint in JOINTS.items()}
    if exercise.carry == "hands" and exercise.lean_in_radians is not None:
        return {"low_back": _hanging_load(body, prescription.load, exercise.lean_in_radians)}
    return {}


def _hanging_load(body: Body, load: float, lean: float) -> float:
    """Lumbosacral moment [N·m] with a load [kg] hanging below the shoulders at an assumed lean [rad], as in rows."""
    joint = body.lumbosacral_level * body.trunk
    setup = SpineSetup(load, body.trunk - joint, 0.0, lean)
    height = body.above_centre_hanging * body.trunk - joint
    return spine_load(setup, body.above_mass, height, lean, ARM.value).moment


def effects(present: Present, new: Prescription) -> dict[str, Effect]:
    """What a prescription asks of every region that either lift loads; raises Refusal as peak_moments does."""
    moments = present.moments_of(new)
    regions = dict.fromkeys(
        (*EXERCISES[present.prescription.exercise].regions, *EXERCISES[new.exercise].regions, *moments)
    )
    moved = relative_load(new, present.prescription, present.body.mass)
    return {region: _effect(present, new, region, moments, moved) for region in regions}


def region_ratio(present: Present, new: Prescription, region: str) -> float | None:
    """Demand of one region against the present [1], None where no number is known; raises as peak_moments does."""
    return effect_on(present, new, region).ratio


def effect_on(present: Present, new: Prescription, region: str) -> Effect:
    """What a prescription asks of one region; raises Refusal as peak_moments does."""
    moved = relative_load(new, present.prescription, present.body.mass)
    return _effect(present, new, region, present.moments_of(new), moved)


def compared_demand(present: Present, new: Prescription) -> ComparedDemand:
    """What a prescription asks of every region, with intervals where both lifts have a posture rule.

    Raises Refusal as peak_moments does.
    """
    by_region = effects(present, new)
    ratios = {region: exactly(effect.ratio) for region, effect in by_region.items() if effect.ratio is not None}
    directions = {region: effect.direction for region, effect in by_region.items()}
    if present.uncertain is None or new.exercise not in EXERCISE_RULES:
        return ComparedDemand(ratios, frozenset(), directions)
    uncertain = _uncertain_demand(present.body, new)
    by_joint = compare(uncertain, present.uncertain)
    intervals = {
        region: interval
        for region, joint in JOINTS.items()
        if region in ratios and (interval := by_joint[joint].ratio) is not None
    }
    compared: dict[str, Direction] = {region: by_joint[joint].difference for region, joint in JOINTS.items()}
    return ComparedDemand(ratios | intervals, frozenset(intervals), directions | compared, uncertain.cautions)


def _effect(present: Present, new: Prescription, region: str, moments: dict[str, float], moved: float | None) -> Effect:
    """Demand of one region; moved: what the lift moves against the present one [1], None for a load for none."""
    old = present.prescription
    cued = _effect_of_cues(old, new, region, moved)
    if cued is not None:
        return cued
    if region in moments and region in present.moments:
        if region not in present.comparable:
            return Effect(None, "unknown", "computed")
        ratio = moments[region] / present.moments[region]
        # where the muscles of the other side take over, a ratio says nothing
        return _computed(ratio) if ratio >= 0.0 else Effect(None, "unknown", "computed")
    if new.exercise == old.exercise:
        return _same_lift(new, region, moved)
    return _another_lift(old, new, region, moved)


def _another_lift(old: Prescription, new: Prescription, region: str, moved: float | None) -> Effect:
    """Another exercise: what was published of it; one that does not load the region at all asks less of it.

    moved: what it moves against the present one [1], None for a load in the place of none.
    """
    published = published_directions(old.exercise, new.exercise).get(region)
    if published is None:
        if region in EXERCISES[new.exercise].regions:
            return Effect(None, "unknown", "direction_only")
        return Effect(None, "lower", "direction_only", ("design_choice",))
    if moved is None:
        return Effect(None, "unknown", "direction_only")
    if published.ratio is None:
        return Effect(None, published.direction, "direction_only", published.sources)
    ratio = published.ratio * moved
    return Effect(ratio, _direction(ratio), "published", published.sources)


def _computed(ratio: float) -> Effect:
    return Effect(ratio, _direction(ratio), "computed")


def _direction(ratio: float) -> Direction:
    if ratio < 1 - _RATIO_TOLERANCE:
        return "lower"
    return "higher" if ratio > 1 + _RATIO_TOLERANCE else "no_clear_difference"


def _effect_of_cues(old: Prescription, new: Prescription, region: str, moved: float | None) -> Effect | None:
    """What the cues that were added do to a region; no model sees them, so it is a direction only."""
    cues = [CUES[cue] for cue in new.cues if cue not in old.cues and region in CUES[cue].regions]
    if not cues:
        return None
    ways: set[Direction] = {cue.regions[region] for cue in cues}
    if moved is not None and moved < 1 - _RATIO_TOLERANCE:
        ways.add("lower")
    heavier = moved is None or moved > 1 + _RATIO_TOLERANCE
    direction = "unknown" if len(ways) > 1 or heavier else ways.pop()
    return Effect(None, direction, "direction_only", tuple(source for cue in cues for source in cue.sources))


def _same_lift(new: Prescription, region: str, moved: float | None) -> Effect:
    """The same lift with another load."""
    if moved is None:
        return Effect(None, "higher", "direction_only")
    if EXERCISES[new.exercise].family in ("press", "pull") and region in UPPER_LIMB:
        return _computed(moved)
    return Effect(None, _direction(moved), "direction_only")
