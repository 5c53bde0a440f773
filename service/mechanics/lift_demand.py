"""What a lift asks of every joint that takes part in it, and one lift against another of the same lifter.

Legs and back are those of a solved posture, the back of a pull without one that of its lean, and the arm that of
presses, pulls and raises.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Final, Literal, get_args

from msgspec import Struct

from service.intervals import Interval, exactly
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import posture_of
from service.mechanics.arm.directions import Direction, agreed, alike, directions_at, numbered
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.moments import ArmMoments
from service.mechanics.arm.repetition import ArmDemand, arm_demand
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.technique import asked_arm_setup
from service.mechanics.arm.uncertain import Quantity, UncertainArm, uncertain_arm
from service.mechanics.body import Body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.depth import Depth
from service.mechanics.dynamics import AT_TURN, Met, met_above, product
from service.mechanics.peaks import MOMENTS
from service.mechanics.spine import check_lean
from service.mechanics.technique import Technique, asked_lean
from service.mechanics.uncertainty.comparison import Comparison, at_pace, compare, compared, verdict_of_ratio
from service.mechanics.uncertainty.intervals import Changes, Ratio, interval_of
from service.mechanics.uncertainty.propagation import UncertainDemand, Variant, with_uncertainty
from service.mechanics.uncertainty.spine import LeanFrom, UncertainSpine, of_lean
from service.vocabulary import Difference, Implement

Joint = Literal["ankle", "knee", "hip", "hip_adductor", "hip_resultant", "lumbosacral", "shoulder", "elbow", "wrist"]
JOINTS: Final[tuple[Joint, ...]] = get_args(Joint)
ArmJoint = Literal["shoulder", "elbow", "wrist"]
ARM_JOINTS: Final[tuple[ArmJoint, ...]] = get_args(ArmJoint)

_OF_ARM: Final[dict[ArmJoint, Quantity]] = {"shoulder": "shoulder_net", "elbow": "elbow", "wrist": "wrist"}


class SolvedLift(Struct, frozen=True, dict=True):
    """What a lift asks of one lifter at rest, with all as assumed.

    Attributes:
        body: the lifter
        depth: as it was requested; None for the exercise's own
        legs: ankle, knee, hip and back of a solved posture; None where no planar model covers the lift
        back: of a pull that stands and leans without such a posture; None elsewhere
        arm: one arm, and how it does the lift; None where nothing says that
    """

    body: Body
    depth: Depth | None
    legs: Demand | None
    back: UncertainSpine | None
    arm: tuple[ArmSetup, ArmDemand] | None

    @cached_property
    def uncertain(self) -> LiftDemand:
        """The same with what is not known of it, worked out where it is asked for.

        Raises Refusal where with something moved the hand cannot be where the lift has it.
        """
        return LiftDemand(
            None if self.legs is None else with_uncertainty(self.legs, self.depth),
            self.back,
            None if self.arm is None else uncertain_arm(self.body, *self.arm),
        )


class LiftDemand(Struct, frozen=True, gc=False):
    """What a lift asks of one lifter, at rest.

    Attributes:
        legs: ankle, knee, hip and back of a solved posture; None where no planar model covers the lift
        back: of a pull that stands and leans without such a posture; None elsewhere
        arm: one arm; None where nothing says how the arms do the lift
    """

    legs: UncertainDemand | None
    back: UncertainSpine | None
    arm: UncertainArm | None

    @property
    def intervals(self) -> dict[Joint, Interval]:
        """Largest moments over the repetition, of the joints that take part [N·m].

        All are of one standard deviation; those of the arm are sizes, whatever their sign.
        """
        found: dict[Joint, Interval] = {}
        if self.legs is not None:
            found |= {moment: self.legs.intervals[moment] for moment in MOMENTS}
        if self.back is not None:
            found["lumbosacral"] = interval_of(self.back.central.moment, self.back.moment)
        if self.arm is not None:
            found |= {
                joint: self.arm.interval(_OF_ARM[joint]) for joint in _OF_ARM if joint in numbered(self.arm.setup)
            }
        return found

    def met(self, joint: Joint) -> Met:
        """Where on the way up the largest moment of a joint is met.

        Args:
            joint: one that takes part
        """
        if joint in ARM_JOINTS:
            return AT_TURN if self.arm is None else met_by_arm(self.arm.demand, joint)
        return AT_TURN if self.legs is None else self.legs.demand.met(joint)

    def against(
        self,
        reference: LiftDemand,
        joints: Sequence[Joint] = JOINTS,
        pace: Callable[[Met], Interval | None] | None = None,
    ) -> dict[Joint, Comparison]:
        """The moments against those of another lift of the same lifter, of the joints that take part in both.

        At the shoulder the ratio is of the moment weighed by relative strength, which is what is asked of it, and a
        difference is said only where the net moment agrees. Where neither lift leaves a number of an elbow or a wrist,
        the load stands for it between lifts that the arms do alike, and nothing is said of others.

        Args:
            reference: the other lift
            joints: asked about
            pace: what the pace of this lift makes of a moment against the reference's [1]; None at one pace
        """

        def factor(joint: Joint) -> Interval | None:
            return None if pace is None else pace(self.met(joint))

        found = self._at_rest(reference, joints)
        for joint, comparison in found.items():
            if (faster := factor(joint)) is not None:
                found[joint] = at_pace(comparison, faster)
        if self.arm is not None and reference.arm is not None:
            for joint in ARM_JOINTS:
                if joint in joints and (of_arm := _of_arm(self.arm, reference.arm, joint, factor(joint))) is not None:
                    found[joint] = of_arm
        return found

    def _at_rest(self, reference: LiftDemand, joints: Sequence[Joint]) -> dict[Joint, Comparison]:
        """Legs and back."""
        if self.legs is not None and reference.legs is not None:
            by_joint = compare(self.legs, reference.legs, tuple(joint for joint in MOMENTS if joint in joints))
            return {joint: by_joint[joint] for joint in MOMENTS if joint in joints}
        new, other = _lumbosacral(self), _lumbosacral(reference)
        if new is None or other is None or "lumbosacral" not in joints:
            return {}
        return {"lumbosacral": compared(*new[:2], *other[:2], same_exercise=new[2] == other[2])}


def lift_demand(
    body: Body,
    exercise: str,
    implement: Implement | None,
    load: float,
    depth: Depth | None = None,
    technique: Technique | None = None,
) -> LiftDemand:
    """What a lift asks of a lifter, with what is not known of it.

    Args:
        body: the lifter
        exercise: id of the exercise
        implement: what is lifted; None for what the exercise is usually done with
        load: mass of the implement, less assistance in lifts of the own body [kg]
        depth: None for the exercise's own
        technique: None for the usual one

    Raises:
        Refusal: as solved_lift
    """
    return solved_lift(body, exercise, implement, load, depth, technique).uncertain


def solved_lift(
    body: Body,
    exercise: str,
    implement: Implement | None,
    load: float,
    depth: Depth | None = None,
    technique: Technique | None = None,
) -> SolvedLift:
    """What a lift asks of a lifter.

    Args:
        body: the lifter
        exercise: id of the exercise
        implement: what is lifted; None for what the exercise is usually done with
        load: mass of the implement, less assistance in lifts of the own body [kg]
        depth: None for the exercise's own
        technique: None for the usual one

    Raises:
        Refusal: for values out of range and for a posture that cannot be had, with pointers under `technique` and
            `depth`
    """
    posture = posture_of(exercise, implement)
    setup = asked_arm_setup(body, exercise, implement, load, depth, technique)
    return SolvedLift(
        body,
        depth,
        None if posture is None else setup_demand(body, posture, load, depth, technique),
        standing_back(body, exercise, load, technique),
        None if setup is None else (setup, arm_demand(body, arm_of(body), setup)),
    )


def standing_back(
    body: Body, exercise: str, load: float, technique: Technique | None, lean_from: LeanFrom | None = None
) -> UncertainSpine | None:
    """The low back of a pull by its lean; None of lifts without a standing lean.

    Args:
        body: the lifter
        exercise: id of the exercise
        load: mass of the implement [kg]
        technique: None for the usual one
        lean_from: None for stated where the technique states it, else assumed

    Raises:
        Refusal: for a lean out of range
    """
    lean = standing_lean(exercise, technique)
    if lean is None:
        return None
    known: LeanFrom = "assumed" if asked_lean(technique) is None else "stated"
    return of_lean(body, EXERCISES[exercise], load, lean, lean_from or known)


def standing_lean(exercise: str, technique: Technique | None) -> float | None:
    """The lean of a pull without a posture rule whose load hangs in the hands of a standing lifter.

    Args:
        exercise: id of the exercise
        technique: None for the usual one

    Returns:
        as asked for, else the exercise's own [rad]; None of other lifts

    Raises:
        Refusal: for a lean out of range
    """
    usual = EXERCISES[exercise].lean_in_radians
    if EXERCISES[exercise].carry != "hands" or usual is None or posture_of(exercise, None) is not None:
        return None
    lean = asked_lean(technique)
    if lean is None:
        return usual
    check_lean(lean, "technique/trunk_lean")
    return lean


def _lumbosacral(lift: LiftDemand) -> tuple[float, Changes, Variant] | None:
    """The moment [N·m], its changes, and what two lifts have to have in common to share what is the exercise's own."""
    if lift.back is not None:
        return lift.back.central.moment, lift.back.moment, lift.back.variant
    if lift.legs is not None:
        return lift.legs.values.lumbosacral, lift.legs.changes["lumbosacral"], lift.legs.variant
    return None


def met_by_arm(demand: ArmDemand, joint: ArmJoint) -> Met:
    """Where on the way up the largest moment of a joint of the arm is met.

    Args:
        demand: of one arm
        joint: of it
    """
    states = demand.states
    sizes = [_size(state.moments, joint) for state in states]
    largest = max(sizes)
    there = sizes.index(largest)
    if there == 0 or largest == 0.0:
        return AT_TURN
    below = ((size / largest, state.part) for size, state in zip(sizes[1:there], states[1:there], strict=True))
    return met_above(sizes[0] / largest, states[there].part, below)


def _size(moments: ArmMoments, joint: ArmJoint) -> float:
    if joint == "elbow":
        return abs(moments.elbow_extension or 0.0)
    return moments.shoulder if joint == "shoulder" else moments.wrist


def _of_arm(new: UncertainArm, reference: UncertainArm, joint: ArmJoint, pace: Interval | None) -> Comparison | None:
    """A joint of the arm against that of another lift; None where nothing is known of it."""
    has, had = (joint in numbered(arm.setup) for arm in (new, reference))
    if not (has or had):
        return _by_load(new, reference, pace)
    if not (has and had):
        way: Difference = "higher" if has else "lower"
        return Comparison(None, way if pace is None else "no_clear_difference")
    found = directions_at(new, reference, joint)
    verdict = agreed([one.difference if pace is None else _at_pace(one, pace) for one in found])
    ratio = found[0].ratio
    if ratio is not None and pace is not None:
        ratio = product(ratio, pace)
    return Comparison(None if ratio is None else Ratio(ratio, ratio), verdict)


def _by_load(new: UncertainArm, reference: UncertainArm, pace: Interval | None) -> Comparison | None:
    """A joint without a number, where both lifts are one but for the load; None elsewhere."""
    if not alike(new.setup, reference.setup) or reference.setup.load <= 0.0:
        return None
    ratio = exactly(new.setup.load / reference.setup.load)
    if pace is not None:
        ratio = product(ratio, pace)
    return Comparison(Ratio(ratio, ratio), verdict_of_ratio(ratio))


def _at_pace(one: Direction, pace: Interval) -> Difference:
    """The verdict on a repetition at another pace: it has to survive each assumption and the ends of the pace."""
    return "no_clear_difference" if one.extremes is None else verdict_of_ratio(one.extremes.times(pace))
