"""The prescription that hurts, what it asks, and how it and others of the same lifter are done.

Where the mechanics covers the lift, the peak moment of a repetition is computed. A consultation comes by the same ways
of doing a lift more than once, so each is solved once.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import msgspec

from service.adjustment.maximum import lifted_near, maximum_told
from service.adjustment.pace import ADDUCTORS, JOINTS, moment_of, paces_of
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.region_effect import ComparedDemand, Effect
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.mechanics.body import Body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.demand import peak_moments as joint_peaks
from service.mechanics.peaks import MOMENTS
from service.mechanics.seen import Departure
from service.mechanics.setups import Maximum
from service.mechanics.spinal_setups import load_at_lean
from service.mechanics.technique import Technique
from service.mechanics.uncertainty.intervals import is_certain
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand


class Execution(msgspec.Struct):
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
    setups: dict[Hashable, Execution] = {}
    maximum: Maximum | None = None
    sure_stances: dict[str, tuple[list[Technique], list[Technique]]] = {}
    departure: Departure | None = None

    def as_lifted(self, new: Prescription) -> Prescription:
        """A prescription of the same lifter with what is known of them."""
        return lifted_near(self.maximum, new, self.departure)

    def setup_of(self, new: Prescription) -> Execution:
        """A prescription of the same lifter as it is done; raises Refusal as peak_moments does."""
        key = (new.exercise, new.implement, new.load, new.depth, new.technique, new.tempo, new.hold, new.cues)
        setup = self.setups.get(key)
        if setup is None:
            moved = relative_load(new, self.prescription, self.body.mass)
            near = self.as_lifted(new)
            paces = paces_of(self.body, self.prescription, near)
            setup = self.setups[key] = Execution(peak_moments(self.body, near), moved, paces)
        return setup

    def solved(self, new: Prescription) -> Demand:
        """Posture and moments of a prescription of the same lifter; raises Refusal as the mechanics does."""
        setup = self.setup_of(new)
        if setup.solved is None:
            setup.solved = solved(self.body, self.as_lifted(new))
        return setup.solved


def uncertain_of(body: Body, prescription: Prescription) -> UncertainDemand | None:
    """Joint moments of the hardest repetition with their uncertainty, None without a posture rule.

    Args:
        body: the lifter
        prescription: as it is lifted

    Raises:
        Refusal: as the mechanics does
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
    uncertain = uncertain_of(body, lifted_near(told, prescription))
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
