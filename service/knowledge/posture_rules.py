"""Posture rules: what a lifter does when nothing else is asked, and how far that varies."""

from __future__ import annotations

from math import radians
from typing import Final, Literal

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.loader import read_whole
from service.knowledge.records import ExerciseId, Known, Record, Sourced, SourcedRange, SourceId
from service.vocabulary import Implement

Family = Literal["squat", "hinge", "split"]
CarryKind = Literal["trunk", "pelvis", "hands_at_foot", "hands_at_shoulder", "hands_at_side"]


class Share(Record, frozen=True):
    """The lead leg's share of the weight of body and load.

    Attributes:
        value: usual share [1]
        low: lowest share [1]
        high: highest share [1]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    value: float
    low: float
    high: float
    source: SourceId
    known: Known
    note: str = ""


class PostureDefaults(Record, frozen=True):
    """Figures that hold for every exercise unless its own rule says otherwise.

    Attributes:
        balance: point over which body and load balance, from the heel, in foot lengths [1]
        ankle_limit: end of ankle dorsiflexion [deg]
        abduction_wide: thigh out of the sagittal plane in a wide squat [deg]
        wide_shin_reduction: by how much more upright the shin is in a wide squat [deg]
    """

    balance: Sourced
    ankle_limit: Sourced
    abduction_wide: Sourced
    wide_shin_reduction: Sourced


class PostureLimits(Record, frozen=True):
    """What the service accepts as a posture or technique.

    Attributes:
        balance: balance point, from the heel, in foot lengths [1]
        ankle_limit: end of ankle dorsiflexion [deg]
        hip_limit: smallest angle between trunk and thigh [deg]
        shin_angle: shin from the vertical [deg]
        thigh_angle: thigh above the horizontal [deg]
        trunk_lean: trunk from the vertical [deg]
        load_ratio: load over body mass [1]
        heel_lift: heel above the ball of the foot [m]
        bar_forward_of_midfoot: bar in front of the middle of the foot [m]
        box_height: height of a box [m]
    """

    balance: SourcedRange
    ankle_limit: SourcedRange
    hip_limit: SourcedRange
    shin_angle: SourcedRange
    thigh_angle: SourcedRange
    trunk_lean: SourcedRange
    load_ratio: SourcedRange
    heel_lift: SourcedRange
    bar_forward_of_midfoot: SourcedRange
    box_height: SourcedRange


class PostureSpread(Record, frozen=True):
    """One standard deviation of what a lifter does about the rule.

    Attributes:
        shin_angle: a lifter's habit, the same in all squats [deg]
        shin_angle_between_exercises: further difference between two exercises of one lifter [deg]
        balance: balance point, in foot lengths [1]
        bar_anterior: bar in front of the shoulder [m]
        trunk_lean: chosen lean of split stances [deg]
        abduction: thigh out of the sagittal plane [deg]
        thigh_angle: a lifter's habit about the depth asked for [deg]
        trunk_residual: trunk as seen about the lean that balance requires [deg]
    """

    shin_angle: Sourced
    shin_angle_between_exercises: Sourced
    balance: Sourced
    bar_anterior: Sourced
    trunk_lean: Sourced
    abduction: Sourced
    thigh_angle: Sourced
    trunk_residual: Sourced


class RepetitionScatter(Record, frozen=True):
    """One standard deviation from one repetition to the next of one lifter.

    Attributes:
        shin_angle: shin at the bottom [deg]
        thigh_angle: thigh about the depth asked for [deg]
        balance: balance point, in foot lengths [1]
        trunk_residual: trunk as seen about the lean that balance requires [deg]
        trunk_lean: chosen lean of split stances [deg]
        lead_share: lead leg's share in split stances [1]
    """

    shin_angle: Sourced
    thigh_angle: Sourced
    balance: Sourced
    trunk_residual: Sourced
    trunk_lean: Sourced
    lead_share: Sourced


class ShinShape(Record, frozen=True):
    """Shin angle against thigh angle of the high-bar squat.

    Attributes:
        thigh_angle: thigh above the horizontal, falling [deg]
        shin_angle: shin from the vertical at each of them [deg]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    thigh_angle: tuple[float, ...]
    shin_angle: tuple[float, ...]
    source: SourceId
    known: Known
    note: str = ""


class ExerciseRule(Record, frozen=True, kw_only=True):
    """How one exercise is done when nothing else is asked; the file has its angles in degrees.

    Attributes:
        family: squat (both feet, depth by the thigh), hinge (both feet, depth by the grip) or split (lead leg)
        carry: where the load acts
        shin_angle: preferred shin angle: at a level thigh in squats and split stances, at the bottom in hinges [rad]
        source: where the rule is from
        known: how far it is known
        note: what to mind in using it
        along: bar from the shoulder joint along the trunk for a stature of 1.75 m [m]
        anterior: bar in front of the shoulder joint for a stature of 1.75 m [m]
        line: where the load's plumb line meets the foot, from the heel; None for the balance point, in foot lengths [1]
        thigh_angle: usual bottom position above the horizontal; None where the grip height decides [rad]
        grip_height: height of the hands at the bottom [m]
        grip_shank_fraction: height of the hands at the bottom, from ankle to knee [1]
        block_height: added to the grip height [m]
        accepts_box: whether a box height can be asked for
        abduction: thigh out of the sagittal plane [rad]
        balance: balance point where it differs from the default, in foot lengths [1]
        lead_share: lead leg's share, split stances only
        trunk_lean: trunk from the vertical, split stances only [rad]
    """

    family: Family
    carry: CarryKind
    shin_angle: float
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
    balance: float | None = None
    lead_share: Share | None = None
    trunk_lean: float = 0.0

    def in_radians(self) -> ExerciseRule:
        """The same rule with its angles turned from degrees into radians."""
        return msgspec.structs.replace(
            self,
            shin_angle=radians(self.shin_angle),
            thigh_angle=None if self.thigh_angle is None else radians(self.thigh_angle),
            abduction=radians(self.abduction),
            trunk_lean=radians(self.trunk_lean),
        )


class HeldOtherwise(Record, frozen=True, kw_only=True):
    """Where an exercise's load acts with another implement than the usual one; what is left out is as usual.

    Attributes:
        carry: where the load acts
        along: load from the shoulder joint along the trunk for a stature of 1.75 m [m]
        anterior: load in front of the shoulder joint for a stature of 1.75 m [m]
        grip_height: height of the hands at the bottom [m]
        how: code of the message that says how it is held, None where it goes without saying
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    carry: CarryKind | None = None
    along: float | None = None
    anterior: float | None = None
    grip_height: float | None = None
    how: Literal["held_at_sides", "held_before_chest", "held_on_shoulders"] | None = None
    source: SourceId = "design_choice"
    known: Known = "design_choice"
    note: str = ""

    def applied(self, rule: ExerciseRule) -> ExerciseRule:
        """The rule of the exercise with the load held so."""
        held = {
            name: value
            for name in ("carry", "along", "anterior", "grip_height")
            if (value := getattr(self, name)) is not None
        }
        return msgspec.structs.replace(rule, source=self.source, known=self.known, note=self.note, **held)


class PostureCaution(Record, frozen=True):
    """A reservation to show beside a result, where the model and published measurements part.

    Attributes:
        code: stable code of a message
        exercises: exercises that it always goes with
    """

    code: str
    exercises: tuple[ExerciseId, ...] = ()


class PostureTables(Record, frozen=True):
    """The whole of postures.toml.

    Attributes:
        defaults: for every exercise
        limits: what is accepted
        spread: what lifters do about the rules
        repetition: how one lifter's repetitions differ
        shin_shape: shin against thigh in the squat
        exercises: the rule of each exercise
        implements: of those, where the load acts with other implements
        cautions: reservations
    """

    defaults: PostureDefaults
    limits: PostureLimits
    spread: PostureSpread
    repetition: RepetitionScatter
    shin_shape: ShinShape
    exercises: dict[ExerciseId, ExerciseRule]
    implements: dict[ExerciseId, dict[Implement, HeldOtherwise]]
    cautions: tuple[PostureCaution, ...] = ()


def _named(exercise: str, implement: str) -> str:
    return f"{exercise}/{implement}"


POSTURES: Final = read_whole("postures.toml", PostureTables)
EXERCISE_RULES: Final = {name: rule.in_radians() for name, rule in POSTURES.exercises.items()}
"""The rule of each exercise with its usual implement."""
POSTURE_RULES: Final = EXERCISE_RULES | {
    _named(exercise, implement): held.applied(EXERCISE_RULES[exercise])
    for exercise, implements in POSTURES.implements.items()
    for implement, held in implements.items()
}
"""Every rule by its id: that of an exercise, or of an exercise with another implement."""


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
