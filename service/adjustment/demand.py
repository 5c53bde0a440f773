"""What a prescription asks of each region against the present one.

Where the mechanics covers the lift, the peak moment of a repetition is computed. Presses and pulls have no planar
model: with posture kept, what shoulder, elbow and wrist hold rises in proportion to the load; between exercises only
what was published is said, most often a direction without a number. For a finer region the one that it is part of
stands; where the two cannot be told apart its number serves the search, and only the direction is said.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import Final

import msgspec

from service.adjustment.maximum import lifted_near, maximum_told
from service.adjustment.pace import ADDUCTORS, JOINTS, moment_of, paced, paces_of
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.region_effect import (
    HARDLY_LOADED,
    Effect,
    another_lift,
    computed,
    effect_of_cues,
    has_finding,
    held_otherwise,
    of_part,
    same_lift,
)
from service.intervals import Interval, exactly
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.mechanics.body import Body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.demand import peak_moments as joint_peaks
from service.mechanics.peaks import MOMENTS
from service.mechanics.seen import Departure
from service.mechanics.setups import Maximum
from service.mechanics.spinal_setups import load_at_lean
from service.mechanics.technique import Technique
from service.mechanics.uncertainty.comparison import at_pace, compare, verdict_of_ratio
from service.mechanics.uncertainty.intervals import is_certain
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand
from service.vocabulary import Direction

_SHOWN: Final = {
    exercise.id: tuple(region for region in exercise.regions if not REGIONS[region].finer)
    for exercise in EXERCISES.values()
}
"""What an exercise loads, without the finer regions, which are said only where a question names them."""


class _Setup(msgspec.Struct):
    """One way of doing a lift, which prescriptions of other repetitions, sets and days share.

    Attributes:
        moments: peak of a repetition by region, at rest [N·m]
        moved: what the lift moves against the present one [1], None for a load in the place of none
        paces: what its pace makes of them, by region, where it is another than the present one [1]
        effects: by region, as far as they were asked for
        compared: against the present, once it was asked for
        solved: posture and moments, once they were asked for
    """

    moments: dict[str, float]
    moved: float | None
    paces: dict[str, Interval] = {}
    effects: dict[str, Effect] = {}
    compared: ComparedDemand | None = None
    solved: Demand | None = None


class Present(msgspec.Struct, frozen=True):
    """The prescription that hurts and what it asks.

    Attributes:
        body: the lifter
        prescription: the present prescription
        moments: peak of a repetition by region, of lifts and regions that are computed [N·m]
        uncertain: the same with its uncertainty, None without a posture rule
        comparable: regions whose moment is sure enough of its sign to be compared with
        named: finer regions that the question names
        setups: the lifts looked at before in this consultation, by how they are done; a search comes by the same ones
            more than once
        maximum: of the present lift, as far as its set tells it; a lift near it is done in another posture
        sure_stances: techniques in other stances that are sure to ask a region for less, and the others, by region
        departure: how this lifter departs from the rule of the present lift, as far as that was seen
    """

    body: Body
    prescription: Prescription
    moments: dict[str, float]
    uncertain: UncertainDemand | None
    comparable: frozenset[str]
    named: tuple[str, ...] = ()
    setups: dict[Hashable, _Setup] = {}
    maximum: Maximum | None = None
    sure_stances: dict[str, tuple[list[Technique], list[Technique]]] = {}
    departure: Departure | None = None

    def as_lifted(self, new: Prescription) -> Prescription:
        """A prescription of the same lifter with what is known of them."""
        return lifted_near(self.maximum, new, self.departure)

    def setup_of(self, new: Prescription) -> _Setup:
        """A prescription of the same lifter as it is done; raises Refusal as peak_moments does."""
        key = (new.exercise, new.implement, new.load, new.depth, new.technique, new.tempo, new.hold, new.cues)
        setup = self.setups.get(key)
        if setup is None:
            moved = relative_load(new, self.prescription, self.body.mass)
            near = self.as_lifted(new)
            paces = paces_of(self.body, self.prescription, near)
            setup = self.setups[key] = _Setup(peak_moments(self.body, near), moved, paces)
        return setup

    def solved(self, new: Prescription) -> Demand:
        """Posture and moments of a prescription of the same lifter; raises Refusal as the mechanics does."""
        setup = self.setup_of(new)
        if setup.solved is None:
            setup.solved = solved(self.body, self.as_lifted(new))
        return setup.solved


class ComparedDemand(msgspec.Struct, frozen=True):
    """Demand of a prescription against the present, by region, with what is known of its uncertainty.

    Attributes:
        ratios: of the peak of a repetition, where a number is known [1]
        on_average: the same on average over repetitions, where the ratio has an interval [1]
        directions: of every region that either lift loads
        cautions: codes of knowledge/data/postures.toml
    """

    ratios: dict[str, Interval]
    on_average: dict[str, Interval]
    directions: dict[str, Direction]
    cautions: tuple[str, ...] = ()

    @property
    def with_interval(self) -> frozenset[str]:
        """Regions whose ratio has an interval."""
        return frozenset(self.on_average)


def _uncertain_demand(body: Body, prescription: Prescription) -> UncertainDemand | None:
    """Joint moments of the hardest repetition with their uncertainty, None without a posture rule.

    Raises Refusal as the mechanics does.
    """
    posture = prescription.posture
    if posture is None:
        return None
    return uncertain_demand(body, posture, prescription.load, prescription.depth, prescription.technique)


def solved(body: Body, prescription: Prescription) -> Demand:
    """Posture and moments of a prescription, as it is held; raises Refusal as the mechanics does."""
    posture = prescription.posture or prescription.exercise
    return setup_demand(body, posture, prescription.load, prescription.depth, prescription.technique)


def present_demand(body: Body, prescription: Prescription, *regions: str) -> Present:
    """What the present prescription asks; raises Refusal for a posture that cannot be had.

    Args:
        body: the lifter
        prescription: the present prescription
        regions: that the question names
    """
    named = tuple(dict.fromkeys(region for region in regions if REGIONS[region].finer))
    told = maximum_told(
        prescription.exercise, prescription.posture, prescription.load, prescription.reps.high, prescription.reserve
    )
    uncertain = _uncertain_demand(body, lifted_near(told, prescription))
    if uncertain is None:
        alone = peak_moments(body, prescription)
        return Present(body, prescription, alone, None, frozenset(alone), named)
    moments = _by_region({moment: getattr(uncertain.values, moment) for moment in MOMENTS})
    changes = uncertain.changes
    sure = frozenset(
        region for region, moment in moments.items() if is_certain(moment, changes[moment_of(region) or ""])
    )
    return Present(
        body,
        prescription,
        moments,
        uncertain,
        sure,
        named,
        maximum=told,
        departure=uncertain.demand.technique.departure,
    )


def _by_region(moments: Mapping[str, float]) -> dict[str, float]:
    """Peak moments by region [N·m], of the adductors where the legs are turned out."""
    by_region = {region: moments[joint] for region, joint in JOINTS.items()}
    if moments["hip_adductor"]:
        by_region[ADDUCTORS] = moments["hip_adductor"]
    return by_region


def peak_moments(body: Body, prescription: Prescription) -> dict[str, float]:
    """Peak moments of a repetition by region [N·m]; empty where nothing is computed.

    Raises Refusal for a posture that cannot be had.
    """
    exercise = EXERCISES[prescription.exercise]
    if (posture := prescription.posture) is not None:
        return _by_region(joint_peaks(body, posture, prescription.load, prescription.depth, prescription.technique))
    if exercise.carry == "hands" and exercise.lean_in_radians is not None:
        return {"low_back": load_at_lean(exercise, body, prescription.load, exercise.lean_in_radians).moment}
    return {}


def effects(present: Present, new: Prescription) -> dict[str, Effect]:
    """What a prescription asks of every region that either lift loads; raises Refusal as peak_moments does.

    Of the finer ones those that the question names.
    """
    setup, old = present.setup_of(new), present.prescription.exercise
    loaded = {*EXERCISES[old].regions, *EXERCISES[new.exercise].regions} if present.named else ()
    named = (region for region in present.named if region in loaded)
    regions = dict.fromkeys((*_SHOWN[old], *_SHOWN[new.exercise], *(setup.moments.keys() & JOINTS.keys()), *named))
    return {region: _effect(present, new, region, setup) for region in regions}


def region_ratio(present: Present, new: Prescription, region: str) -> float | None:
    """Demand of one region against the present [1], None where no number is known; raises as peak_moments does.

    For a part that cannot be told apart it is that of the whole: to search by, never to be said of the part.
    """
    return effect_on(present, new, region).searched


def effect_on(present: Present, new: Prescription, region: str) -> Effect:
    """What a prescription asks of one region; raises Refusal as peak_moments does."""
    return _effect(present, new, region, present.setup_of(new))


def compared_demand(present: Present, new: Prescription) -> ComparedDemand:
    """What a prescription asks of every region, with intervals where both lifts have a posture rule.

    Raises Refusal as peak_moments does.
    """
    setup = present.setup_of(new)
    if setup.compared is None:
        setup.compared = _compared(present, new)
    return setup.compared


def _compared(present: Present, new: Prescription) -> ComparedDemand:
    by_region, paces = effects(present, new), present.setup_of(new).paces
    ratios = {region: exactly(effect.ratio) for region, effect in by_region.items() if effect.ratio is not None}
    directions = {region: effect.direction for region, effect in by_region.items()}
    uncertain = None if present.uncertain is None else _uncertain_demand(present.body, present.as_lifted(new))
    if present.uncertain is None or uncertain is None:
        spans = paced(ratios, paces)
        verdicts: dict[str, Direction] = {region: verdict_of_ratio(span) for region, span in spans.items()}
        return ComparedDemand(ratios | spans, spans, directions | verdicts)
    joints = {
        region: joint for region in by_region if (joint := JOINTS.get(_stands_for(present, new, region))) is not None
    }
    if _stands_for(present, new, ADDUCTORS) == ADDUCTORS and ADDUCTORS in by_region:
        joints[ADDUCTORS] = "hip_adductor"
    by_joint = compare(uncertain, present.uncertain, tuple(dict.fromkeys(joints.values())))
    for region, joint in joints.items():
        if region in paces:
            by_joint[joint] = at_pace(by_joint[joint], paces[region])
    on_average = {}
    for region, joint in joints.items():
        ratio = by_joint[joint].ratio
        if region in ratios and ratio is not None:
            ratios[region], on_average[region] = ratio.one, ratio.on_average
    compared: dict[str, Direction] = {
        region: by_joint[joint].difference
        for region, joint in joints.items()
        if _seen_by_the_model(region, by_region[region])
    }
    return ComparedDemand(ratios, on_average, directions | compared, uncertain.cautions)


def _seen_by_the_model(region: str, effect: Effect) -> bool:
    """Whether the way a region's demand moves is the model's to say: not what a cue does or was found of a part."""
    if REGIONS[region].finer:
        return effect.searched is not None and not effect.sources
    return effect.evidence == "computed"


def _effect(present: Present, new: Prescription, region: str, setup: _Setup) -> Effect:
    """Demand of one region, as it was found before or now."""
    effect = setup.effects.get(region)
    if effect is None:
        effect = setup.effects[region] = _of_region(present, new, region, setup)
    return effect


def _of_region(present: Present, new: Prescription, region: str, setup: _Setup) -> Effect:
    old, moved = present.prescription, setup.moved
    cued = effect_of_cues(old, new, region, moved)
    if cued is not None:
        return cued
    entry = REGIONS[region]
    if not entry.finer:
        return _of_whole(present, new, region, region, setup)
    if region not in EXERCISES[new.exercise].regions:
        return HARDLY_LOADED
    effect = _of_whole(present, new, region, _stands_for(present, new, region), setup)
    if has_finding(old, new, region):  # which way is known of the part itself
        return msgspec.structs.replace(another_lift(old, new, region, moved), stand_in=effect.ratio)
    return effect if entry.measure == "number" else of_part(effect, old, new, region)


def _stands_for(present: Present, new: Prescription, region: str) -> str:
    """The region whose moment stands for one: its whole, or within one lift that turns the legs out the part itself."""
    within = region == ADDUCTORS and new.exercise == present.prescription.exercise
    return region if within and region in present.moments else REGIONS[region].whole


def _of_whole(present: Present, new: Prescription, region: str, whole: str, setup: _Setup) -> Effect:
    """Demand of the whole that stands for a region, else what is known of the region by loads and findings."""
    old, moments, moved = present.prescription, setup.moments, setup.moved
    if whole in moments and whole in present.moments:
        if whole not in present.comparable:
            return Effect(None, "unknown", "computed")
        ratio = moments[whole] / present.moments[whole]
        if whole in setup.paces:
            ratio *= setup.paces[whole].value
        # where the muscles of the other side take over, a ratio says nothing
        return computed(ratio) if ratio >= 0.0 else Effect(None, "unknown", "computed")
    if new.exercise == old.exercise:
        if new.held != old.held:
            return held_otherwise(old, new, region, moved)
        return same_lift(new, region, moved, setup.paces.get(region))
    return another_lift(old, new, region, moved)
