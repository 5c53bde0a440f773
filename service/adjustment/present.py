"""The prescription that hurts, what it asks, and how it and others of the same lifter are done.

Where the mechanics covers the lift, the peak moment of a repetition is computed. A consultation comes by the same ways
of doing a lift more than once, so each is solved once.
"""

from __future__ import annotations

from collections.abc import Hashable
from functools import cached_property

import msgspec

from service.adjustment.arm import REGIONS_OF_ARM, Arms, arms_of
from service.adjustment.arm_effect import asks_more_at_rest
from service.adjustment.maximum import lifted_near, maximum_of
from service.adjustment.pace import ADDUCTORS, JOINTS, moment_of, paces_of, places_by_arm, places_by_posture
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.region_effect import ComparedDemand, Effect
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.mechanics.body import Body
from service.mechanics.demand import Demand, Solved, demand_of, solve
from service.mechanics.dynamics import Met
from service.mechanics.lift_demand import standing_lean
from service.mechanics.seen import Departure
from service.mechanics.setups import Depth, Maximum
from service.mechanics.spinal_setups import load_at_lean
from service.mechanics.technique import Technique
from service.mechanics.uncertainty.intervals import is_certain
from service.mechanics.uncertainty.propagation import UncertainDemand, with_uncertainty


class Posture(msgspec.Struct, frozen=True, dict=True):
    """How a lifter holds a load, as far as it was asked for.

    Attributes:
        solved: at the bottom
        depth: as it was requested; None for the exercise's own
        moments: peaks of a repetition by region, of the adductors where the legs are turned out [N·m]
    """

    solved: Solved
    depth: Depth | None
    moments: dict[str, float]

    @cached_property
    def demand(self) -> Demand:
        """Posture and moments."""
        return demand_of(self.solved)

    @cached_property
    def uncertain(self) -> UncertainDemand:
        """The same with its uncertainty."""
        return with_uncertainty(self.demand, self.depth)


class Execution(msgspec.Struct):
    """One way of doing a lift, which prescriptions of other repetitions, sets and days share.

    Attributes:
        moments: peak of a repetition by region, at rest [N·m]
        moved: what the lift moves against the present one [1], None for a load in the place of none
        paces: what its pace makes of them, by region, where it is another than the present one [1]
        effects: by region, as far as they were asked for
        in_all: those of every region that either lift loads, once they were asked for
        compared: against the present, once it was asked for
    """

    moments: dict[str, float]
    moved: float | None
    paces: dict[str, Interval] = {}
    effects: dict[str, Effect] = {}
    in_all: dict[str, Effect] | None = None
    compared: ComparedDemand | None = None


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
        postures: the same by how they are held, whatever their pace
        maximum: of the present lift, as far as its set tells it; a lift near it is done in another posture
        sure_stances: techniques in other stances that are sure to ask a region for less, and the others, by region
        departure: how this lifter departs from the rule of the present lift, as far as that was seen
        arms: one arm of the lifter in the lifts looked at, None beside a posture rule
        by_load: regions that the question names and the lift asks for next to nothing, or is not known to load: what is
            less of the lift is taken to ask less of them, by practice
    """

    body: Body
    prescription: Prescription
    moments: dict[str, float]
    uncertain: UncertainDemand | None
    comparable: frozenset[str]
    named: tuple[str, ...] = ()
    setups: dict[Hashable, Execution] = {}
    postures: dict[Hashable, Posture] = {}
    maximum: Maximum | None = None
    sure_stances: dict[str, tuple[list[Technique], list[Technique]]] = {}
    departure: Departure | None = None
    arms: Arms | None = None
    by_load: frozenset[str] = frozenset()

    @property
    def covers_arm(self) -> bool:
        """Whether the model of one arm covers the lift."""
        return not self.moments.keys().isdisjoint(REGIONS_OF_ARM)

    def asks_more_at_rest(self, new: Prescription, region: str) -> float | None:
        """What another press or pull asks of a region, where that is more with all as it is assumed [1]; else None."""
        if self.arms is None or region not in REGIONS_OF_ARM:
            return None
        return asks_more_at_rest(self.arms, self.prescription, new, region)

    def as_lifted(self, new: Prescription) -> Prescription:
        """A prescription of the same lifter with what is known of them."""
        return lifted_near(self.maximum, new, self.departure)

    def setup_of(self, new: Prescription) -> Execution:
        """A prescription of the same lifter as it is done; raises Refusal as peak_moments does."""
        key = (new.exercise, new.implement, new.load, new.depth, new.technique, new.tempo, new.hold, new.cues)
        setup = self.setups.get(key)
        if setup is None:
            moved = relative_load(new, self.prescription, self.body.mass)
            posture = self.posture_of(new)
            moments = _moments_of(self.body, new, posture, self.arms)
            paces = {}
            if new.pace != self.prescription.pace:
                paces = paces_of(self.body, self.prescription, new, self._places(new, posture))
            setup = self.setups[key] = Execution(moments, moved, paces)
        return setup

    def _places(self, new: Prescription, posture: Posture | None) -> dict[str, Met]:
        """Where the largest moment of each region is met."""
        if posture is not None:
            return places_by_posture(posture.demand)
        arm = None if self.arms is None else self.arms.demand(new)
        return {} if arm is None else places_by_arm(arm)

    def posture_of(self, new: Prescription) -> Posture | None:
        """How the lifter holds a prescription, None without a posture rule; raises Refusal as the mechanics does."""
        if (rule := new.posture) is None:
            return None
        key = _held(rule, new)
        posture = self.postures.get(key)
        if posture is None:
            posture = self.postures[key] = _posture_of(self.body, rule, self.as_lifted(new))
        return posture

    def solved(self, new: Prescription) -> Demand:
        """Posture and moments of a prescription of the same lifter; raises Refusal as the mechanics does."""
        posture = self.posture_of(new)
        return solved(self.body, new) if posture is None else posture.demand


def _held(rule: str, prescription: Prescription) -> Hashable:
    return rule, prescription.load, prescription.depth, prescription.technique


def _posture_of(body: Body, rule: str, prescription: Prescription) -> Posture:
    solved = solve(body, rule, prescription.load, prescription.depth, prescription.technique)
    peaks = solved.peak_moments()
    moments = {region: peaks[joint] for region, joint in JOINTS.items()}
    if peaks["hip_adductor"]:
        moments[ADDUCTORS] = peaks["hip_adductor"]
    return Posture(solved, prescription.depth, moments)


def solved(body: Body, prescription: Prescription) -> Demand:
    """Posture and moments of a prescription, as it is held; raises Refusal as the mechanics does."""
    return _posture_of(body, prescription.posture or prescription.exercise, prescription).demand


def present_demand(body: Body, prescription: Prescription, *regions: str, sore: str | None = None) -> Present:
    """What the present prescription asks; raises Refusal for a posture that cannot be had.

    Args:
        body: the lifter
        prescription: the present prescription
        sore: region that the question is about, whether or not the lift is known to load it
        regions: that the question names besides
    """
    regions = regions if sore is None else (sore, *regions)
    known = EXERCISES[prescription.exercise].regions
    not_known = set[str]() if sore is None else {sore}.difference(known)
    named = tuple(dict.fromkeys(region for region in regions if REGIONS[region].finer))
    told = maximum_of(prescription)
    if (rule := prescription.posture) is None:
        arms = arms_of(body)
        alone = _moments_of(body, prescription, None, arms)
        return Present(
            body, prescription, alone, None, frozenset(alone), named, arms=arms, by_load=frozenset(not_known)
        )
    posture = _posture_of(body, rule, lifted_near(told, prescription))
    moments, changes = posture.moments, posture.uncertain.changes
    sure = frozenset(
        region for region, moment in moments.items() if is_certain(moment, changes[moment_of(region) or ""])
    )
    return Present(
        body,
        prescription,
        moments,
        posture.uncertain,
        sure,
        named,
        postures={_held(rule, prescription): posture},
        maximum=told,
        departure=posture.demand.technique.departure,
        by_load=frozenset(not_known.union(one for one in regions if REGIONS[one].whole in moments.keys() - sure)),
    )


def peak_moments(body: Body, prescription: Prescription) -> dict[str, float]:
    """Peak moments of a repetition by region [N·m]; empty where nothing is computed.

    Raises Refusal for a posture that cannot be had.
    """
    rule = prescription.posture
    return _moments_of(body, prescription, None if rule is None else _posture_of(body, rule, prescription))


def _moments_of(
    body: Body, prescription: Prescription, posture: Posture | None, arms: Arms | None = None
) -> dict[str, float]:
    if posture is not None:
        return posture.moments
    moments = (arms or arms_of(body)).moments(prescription)
    exercise = EXERCISES[prescription.exercise]
    if (lean := standing_lean(exercise.id, prescription.technique)) is not None:
        moments["low_back"] = load_at_lean(exercise, body, prescription.load, lean).moment
    return moments
