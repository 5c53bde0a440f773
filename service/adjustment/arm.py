"""What presses and pulls ask of shoulder, elbow and wrist, by the model of one arm, and which postures they change.

A change of the moment is said only where it survives everything that is assumed of lifter and lift; the rest is no
clear difference. What floor press, partial presses and tucked elbows change is posture, which is never said as a
moment. Where the forearm is taken to lie along the load's line, as under a dumbbell, next to nothing is left at elbow
and wrist: that says which way their moments move, and no number.
"""

from __future__ import annotations

from collections.abc import Hashable
from math import radians
from typing import Final

import msgspec
from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.intervals import Interval
from service.knowledge.arm_figures import ARM
from service.knowledge.design_choices import CHOICES
from service.mechanics.arm.directions import JUDGED_BY, agreed, alike, direction, directions_at, numbered
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.repetition import ArmDemand, ArmPostures, arm_demand
from service.mechanics.arm.segments import Arm, arm_of
from service.mechanics.arm.technique import asked_arm_setup
from service.mechanics.arm.uncertain import Quantity, UncertainArm, amount, uncertain_arm
from service.mechanics.body import Body
from service.mechanics.depth import Depth
from service.mechanics.technique import Technique
from service.vocabulary import Difference, Implement

REGIONS_OF_ARM: Final[dict[str, Quantity]] = {region: by[0] for region, by in JUDGED_BY.items()}
"""The moment that stands for a region: the shoulder's weighed by the strength of its movements."""
_CHOICE: Final = CHOICES.arm
_NARROW_FROM: Final = radians(ARM.postures.elevation.low)
_NARROW_TO: Final = radians(ARM.postures.elevation.high)


class ArmComparison(msgspec.Struct, frozen=True):
    """A region of the arm in one lift against another.

    Attributes:
        ratio: of the largest moments, with what 68 % of lifters have [1]
        difference: where all that is assumed agrees
        highest: the ratio at the most over all that is assumed, of every moment that has to fall [1]
    """

    ratio: Interval
    difference: Difference
    highest: float


class PostureChange(msgspec.Struct, frozen=True):
    """What another lift changes in postures that provoke a shoulder, whatever the moment; below none it is more.

    Attributes:
        behind: upper arm less far behind the body at the most, as far as that is sure [rad]
        raised: upper arm raised less far into where the space under the acromion is narrowest [rad]
        turned: upper arm less far turned outward where it is raised so far [rad]
    """

    behind: float
    raised: float
    turned: float

    @property
    def eases(self) -> bool:
        """Whether one of them falls by as much as counts and none rises by as much."""
        counted = self.counted
        return bool(counted) and all(change > 0 for change in counted.values())

    @property
    def counted(self) -> dict[str, float]:
        """Those that change by as much as counts, by their names [rad]."""
        worth = _CHOICE.posture
        return {
            name: change
            for name, change, least in (
                ("behind", self.behind, worth.behind),
                ("raised", self.raised, worth.raised),
                ("turned", self.turned, worth.turned),
            )
            if abs(change) >= radians(least)
        }


class Arms(msgspec.Struct, frozen=True):
    """One arm of a lifter in the lifts of a consultation, each solved once; every method raises Refusal likewise.

    Attributes:
        body: the lifter
        arm: one arm of the lifter
        setups: how the arms do a lift, by how it is asked for
        solved: each with its moments
        uncertain: the same with what is assumed moved
    """

    body: Body
    arm: Arm
    setups: dict[Hashable, ArmSetup | None] = {}
    solved: dict[Hashable, ArmDemand] = {}
    uncertain: dict[Hashable, UncertainArm] = {}

    def setup(self, prescription: Prescription) -> ArmSetup | None:
        """How the arms do a prescription; None where nothing says so.

        Raises Refusal for what the lift does not have, is out of range or where the hand cannot be.
        """
        asked = _asked(prescription)
        if asked not in self.setups:
            self.setups[asked] = asked_arm_setup(self.body, *asked)
        return self.setups[asked]

    def has_number(self, prescription: Prescription, region: str) -> bool | None:
        """Whether the model has a moment of a region in a lift; None where it does not cover the lift."""
        setup = self.setup(prescription)
        return None if setup is None else region in numbered(setup)

    def alike(self, one: Prescription, other: Prescription) -> bool:
        """Whether the arms do two prescriptions in one way, whatever their loads."""
        setup, another = self.setup(one), self.setup(other)
        return setup is not None and another is not None and alike(setup, another)

    def demand(self, prescription: Prescription) -> ArmDemand | None:
        """What a prescription asks of one arm at rest, None where the model does not cover the lift."""
        setup = self.setup(prescription)
        return None if setup is None else self._demand(prescription, setup)

    def moments(self, prescription: Prescription) -> dict[str, float]:
        """Largest moments of a repetition at rest by region, of those that have a number [N·m]."""
        setup = self.setup(prescription)
        if setup is None:
            return {}
        demand = self._demand(prescription, setup)
        sizes = {region: amount(demand, REGIONS_OF_ARM[region]) for region in numbered(setup)}
        return {region: size for region, size in sizes.items() if size >= _CHOICE.least_moment}

    def ratio_at_rest(self, new: Prescription, reference: Prescription, region: str) -> float | None:
        """A region's largest moment over that of another lift, all as assumed; None to next to nothing [1]."""
        before, after = self.moments(reference).get(region), self.moments(new).get(region, 0.0)
        return None if before is None else after / before

    def own_share(self, prescription: Prescription, half: Prescription, region: str) -> float:
        """Share of a moment that the arm holds of itself, by the moments with all that is lifted and half of it [1].

        Negative where it is the arm's weight that helps, as in pulldowns.
        """
        whole, less = (self.moments(one).get(region, 0.0) for one in (prescription, half))
        return 2 * less / whole - 1.0 if whole else 0.0

    def compared(self, new: Prescription, reference: Prescription, region: str) -> ArmComparison | None:
        """A region in one lift against another; None where one of the two has no number."""
        after, before = self._with_assumptions(new), self._with_assumptions(reference)
        if after is None or before is None:
            return None
        found = directions_at(after, before, region)
        ratio, extremes = found[0].ratio, found[0].extremes
        if ratio is None or extremes is None:
            return None
        if _is_part_of(after.setup, before.setup):  # between the stops of a way a peak may be met by another part of it
            ratio = ratio.at_most(1.0)
        highest = max(one.extremes.high for one in found if one.extremes is not None)
        return ArmComparison(ratio, agreed([one.difference for one in found]), highest)

    def posture(self, new: Prescription, reference: Prescription) -> PostureChange | None:
        """What a lift changes in the shoulder's postures; None where one of the two is not covered."""
        after, before = self._with_assumptions(new), self._with_assumptions(reference)
        if after is None or before is None:
            return None
        behind = direction(after, before, "behind_the_body")
        sure = {"lower": -behind.change.high, "higher": -behind.change.low}
        then, now = after.demand.postures, before.demand.postures
        return PostureChange(
            sure.get(behind.difference, 0.0), _raised(now) - _raised(then), _turned(now) - _turned(then)
        )

    def eases_at_rest(self, new: Prescription, reference: Prescription) -> bool:
        """Whether a lift takes the upper arm less far behind the body, by as much as counts, with all as assumed."""
        setups = self.setup(new), self.setup(reference)
        then, now = (
            0.0 if setup is None else self._demand(one, setup).behind_the_body
            for one, setup in zip((new, reference), setups, strict=True)
        )
        return now - then >= radians(_CHOICE.posture.behind)

    def _demand(self, prescription: Prescription, setup: ArmSetup) -> ArmDemand:
        asked = _asked(prescription)
        demand = self.solved.get(asked)
        if demand is None:
            demand = self.solved[asked] = arm_demand(self.body, self.arm, setup)
        return demand

    def _with_assumptions(self, prescription: Prescription) -> UncertainArm | None:
        asked = _asked(prescription)
        moved = self.uncertain.get(asked)
        if moved is None and (setup := self.setup(prescription)) is not None:
            moved = self.uncertain[asked] = uncertain_arm(self.body, setup, self._demand(prescription, setup))
        return moved


def _asked(prescription: Prescription) -> tuple[str, Implement | None, float, Depth | None, Technique | None]:
    """What of a prescription the arms have to do with."""
    one = prescription
    return one.exercise, one.implement, one.load, one.depth, one.technique


def arms_of(body: Body) -> Arms:
    """One arm of a lifter, in no lift so far."""
    return Arms(body, arm_of(body))


def _is_part_of(new: ArmSetup, reference: ArmSetup) -> bool:
    """Whether one lift is a part of the way of another with no more load, which asks no more than the whole way."""
    shorter = new.technique.left_out > reference.technique.left_out
    whole = replace(new, load=reference.load, technique=replace(new.technique, left_out=reference.technique.left_out))
    return shorter and new.load <= reference.load and whole == reference


def _raised(postures: ArmPostures) -> float:
    """How far the upper arm is raised into where the space under the acromion is narrowest [rad]."""
    return min(max(postures.elevation_high, _NARROW_FROM), _NARROW_TO) - _NARROW_FROM


def _turned(postures: ArmPostures) -> float:
    return max(0.0, postures.outward_rotation or 0.0)
