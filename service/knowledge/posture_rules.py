"""Posture rules: what a lifter does when nothing else is asked of them, and how far that varies."""

from __future__ import annotations

from math import radians, sqrt
from typing import Final, Literal

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.loader import read_whole
from service.knowledge.posture_figures import (
    Distribution,
    PostureCaution,
    PostureDefaults,
    PostureLimits,
    PostureSpread,
    PullPosture,
    ReadingErrors,
    ShinShape,
    StanceTable,
)
from service.knowledge.records import ExerciseId, Known, Record, SourceId
from service.vocabulary import Implement

Family = Literal["squat", "hinge", "pull", "split"]
CarryKind = Literal["trunk", "pelvis", "hands_at_foot", "hands_at_shoulder", "hands_at_side"]


class ExerciseRule(Record, frozen=True, kw_only=True):
    """How one exercise is done when nothing else is asked; the file has its angles in degrees.

    Attributes:
        family: squat (both feet, depth by the thigh), hinge (both feet, the lean kept), pull (both feet, load in
            hanging arms, depth by the grip) or split (lead leg)
        carry: where the load acts
        shin_angle: shin angle: at a level thigh in squats and split stances, at the bottom in hinges and pulls [rad]
        source: where the rule is from
        known: how far it is known
        note: what to mind in using it
        along: bar from the shoulder joint along the trunk for a stature of 1.75 m [m]
        anterior: bar in front of the shoulder joint for a stature of 1.75 m [m]
        line: where the load's plumb line meets the foot, from the heel; None for the balance point, or for a bar held
            before the shin, in foot lengths [1]
        thigh_angle: usual bottom position above the horizontal; None where the grip height decides [rad]
        grip_height: height of the hands at the bottom [m]
        grip_shank_fraction: height of the hands at the bottom, from ankle to knee [1]
        block_height: added to the grip height [m]
        accepts_box: whether a box height can be asked for
        abduction: thigh out of the sagittal plane [rad]
        stance_width: from ankle to ankle where the feet stand at one width, in statures; None elsewhere [1]
        balance: balance point, in foot lengths; None for the default [1]
        usual_load: load with which the rule's posture is usual, of body mass; None where it does not depend on it [1]
        lead_share: lead leg's share of the weight of body and load, split stances only [1]
        foot_spacing: between the centres of pressure of the feet of a split stance, in lengths from hip to floor [1]
        steps_up: whether the lead foot is on a box and the trail leg stands straight below the hip when the push begins
        rear_foot_raised: whether the rear foot is on a bench, so that the trail leg reaches further
        trunk_lean: trunk from the vertical, of split stances and hinges, and of a pull whose lean is known better
            than how far the shoulder is ahead of the load [rad]
    """

    family: Family
    carry: CarryKind
    shin_angle: Distribution
    source: SourceId
    known: Known
    note: str = ""
    along: float = 0.0
    anterior: float = 0.0
    line: float | None = None
    thigh_angle: float | None = None
    grip_height: float | None = None
    grip_shank_fraction: float | None = None
    block_height: float = 0.0
    accepts_box: bool = False
    abduction: float = 0.0
    stance_width: float | None = None
    balance: Distribution | None = None
    usual_load: float | None = None
    lead_share: Distribution | None = None
    foot_spacing: Distribution | None = None
    steps_up: bool = False
    rear_foot_raised: bool = False
    trunk_lean: Distribution | None = None

    @property
    def shin_of_lifter(self) -> float:
        """Standard deviation of the part of the shin's habit that a lifter has in every exercise [rad]."""
        return sqrt(self.shin_angle.between**2 - SHIN_OF_EXERCISE**2)

    def in_radians(self) -> ExerciseRule:
        """The same rule with its angles turned from degrees into radians."""
        return msgspec.structs.replace(
            self,
            shin_angle=self.shin_angle.in_radians(),
            thigh_angle=None if self.thigh_angle is None else radians(self.thigh_angle),
            abduction=radians(self.abduction),
            trunk_lean=None if self.trunk_lean is None else self.trunk_lean.in_radians(),
        )


class HeldOtherwise(Record, frozen=True, kw_only=True):
    """Where an exercise's load acts with another implement than the usual one; what is left out is as usual.

    Attributes:
        carry: where the load acts
        along: load from the shoulder joint along the trunk for a stature of 1.75 m [m]
        anterior: load in front of the shoulder joint for a stature of 1.75 m [m]
        line: where the load's plumb line meets the foot, in foot lengths [1]
        grip_height: height of the hands at the bottom [m]
        how: code of the message that says how it is held, None where it goes without saying
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    carry: CarryKind | None = None
    along: float | None = None
    anterior: float | None = None
    line: float | None = None
    grip_height: float | None = None
    how: Literal["held_at_sides", "held_before_chest", "held_on_shoulders"] | None = None
    source: SourceId = "design_choice"
    known: Known = "design_choice"
    note: str = ""

    def applied(self, rule: ExerciseRule) -> ExerciseRule:
        """The rule of the exercise with the load held so."""
        held = {
            name: value
            for name in ("carry", "along", "anterior", "line", "grip_height")
            if (value := getattr(self, name)) is not None
        }
        return msgspec.structs.replace(rule, source=self.source, known=self.known, note=self.note, **held)


class PostureTables(Record, frozen=True):
    """The whole of postures.toml.

    Attributes:
        defaults: for every exercise
        stance: where the feet stand in a squat
        limits: what is accepted
        spread: what lifters do about the rules
        shin_shape: shin against thigh in the squat
        seen_by: errors of reading, by how an angle was seen
        pull: how a load is held in hanging arms
        exercises: the rule of each exercise
        implements: of those, where the load acts with other implements
        cautions: reservations
    """

    defaults: PostureDefaults
    stance: StanceTable
    limits: PostureLimits
    spread: PostureSpread
    shin_shape: ShinShape
    seen_by: dict[str, ReadingErrors]
    pull: PullPosture
    exercises: dict[ExerciseId, ExerciseRule]
    implements: dict[ExerciseId, dict[Implement, HeldOtherwise]]
    cautions: tuple[PostureCaution, ...] = ()


def _named(exercise: str, implement: str) -> str:
    return f"{exercise}/{implement}"


POSTURES: Final = read_whole("postures.toml", PostureTables)
SHIN_OF_EXERCISE: Final = radians(POSTURES.spread.shin_angle_own.value)
"""Standard deviation of the part of the shin's habit that a lifter has in one exercise alone [rad]."""
EXERCISE_RULES: Final = {name: rule.in_radians() for name, rule in POSTURES.exercises.items()}
"""The rule of each exercise with its usual implement."""
POSTURE_RULES: Final = EXERCISE_RULES | {
    _named(exercise, implement): held.applied(EXERCISE_RULES[exercise])
    for exercise, implements in POSTURES.implements.items()
    for implement, held in implements.items()
}
"""Every rule by its id: that of an exercise, or of an exercise with another implement."""


HELD_BEFORE_CHEST: Final = frozenset(
    {
        name
        for name, rule in POSTURE_RULES.items()
        if rule.carry == "trunk" and rule.anterior >= EXERCISE_RULES["goblet_squat"].anterior
    }
)
"""The rules whose load is held before the chest in the arms."""


def posture_of(exercise: str, implement: Implement | None) -> str | None:
    """The id of the rule of an exercise done with an implement.

    Args:
        exercise: id of the exercise
        implement: what is lifted, None for what the exercise is usually done with

    Returns:
        An id of POSTURE_RULES, None where nothing says where the load acts.
    """
    usual = implement is None or implement == EXERCISES[exercise].implements[0]
    rule = exercise if usual else _named(exercise, implement or "")
    return rule if rule in POSTURE_RULES else None


def exercise_of(rule: str) -> str:
    """The exercise of a rule by its id."""
    return rule.partition("/")[0]
