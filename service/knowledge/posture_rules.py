"""Posture rules: what a lifter does when nothing else is asked, and how far that varies."""

from __future__ import annotations

from math import radians, sqrt
from typing import Final, Literal

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.loader import read_whole
from service.knowledge.records import ExerciseId, Known, Record, Sourced, SourcedRange, SourceId
from service.vocabulary import Implement

Family = Literal["squat", "hinge", "pull", "split"]
CarryKind = Literal["trunk", "pelvis", "hands_at_foot", "hands_at_shoulder", "hands_at_side"]


class Distribution(Record, frozen=True, kw_only=True):
    """What lifters do about a rule: normal between lifters, and again within one lifter from repetition to repetition.

    Angles are in degrees in the file and in radians in a rule; fractions and lengths are the same in both.

    Attributes:
        mean: of lifters [any]
        between: standard deviation between lifters [any]
        within: standard deviation of one lifter from repetition to repetition [any]
        low: least that is published or plausible for the mean of a lifter [any]
        high: most [any]
        source: where it is from
        known: how far it is known
        slope: change of the mean with each tenth of the maximum that the load is above `slope_from` [any]
        note: what to mind in using it
    """

    mean: float
    between: float
    within: float
    low: float
    high: float
    source: SourceId
    known: Known
    slope: float = 0.0
    note: str = ""

    def __post_init__(self) -> None:
        """Raise ValueError where a spread is negative or the mean is outside its span."""
        if self.between < 0 or self.within < 0:
            raise ValueError("Expected spreads of at least 0")
        if not self.low <= self.mean <= self.high:
            raise ValueError("Expected low <= mean <= high")

    def in_radians(self) -> Distribution:
        """The same distribution with its angles turned from degrees into radians."""
        angles = ("mean", "between", "within", "low", "high", "slope")
        return msgspec.structs.replace(self, **{name: radians(getattr(self, name)) for name in angles})


class PullPosture(Record, frozen=True):
    """How a load is held in hanging arms.

    Attributes:
        shoulder_ahead: shoulder ahead of the load where nothing else is known, for a stature of 1.75 m [m]
        shoulder_drop: how far girdle and upper back let the shoulder down, for a stature of 1.75 m [m]
        shin_to_front: axis of the shank to its front, for a stature of 1.75 m [m]
        turning_height: how far above or below the usual height a pull turns that nothing ends, for a stature of 1.75 m
            [m]
        tipped: how far the shank tips about the ankle where a stated lean moves the turn of a pull [deg]
        bar_radius: radius of the bar's shaft [m]
        arm_spread: standard deviation of the length of the arm at one stature, as a fraction of it [1]
    """

    shoulder_ahead: Distribution
    shoulder_drop: Distribution
    shin_to_front: Distribution
    turning_height: Distribution
    tipped: SourcedRange
    bar_radius: Sourced
    arm_spread: Sourced


class PostureDefaults(Record, frozen=True):
    """Figures that hold for every exercise unless its own rule says otherwise.

    Attributes:
        balance: point over which body and load balance, from the heel, in foot lengths [1]
        depth_error: thigh above the level that was asked for [deg]
        trunk_residual: trunk as seen, beyond the lean that statics gives a straight one; it changes no moment [deg]
        slope_from: share of the maximum above which a posture changes with the load [1]
        slope_share: share of the maximum about which that slope was found [1]
        slope_strength: maximum of the lifters in whom that was found, of body mass [1]
        slope_spread: standard deviation between lifters of a shin's slope, where its rule has one [deg]
        wider_beyond: factor of the spread of habits where a lean is beyond the published ones [1]
        slope_unknown: standard deviation of a shin with such a slope where the share of the maximum is unknown [deg]
        lateral_gap: between the feet of a split stance to the side [m]
        misfit: departure of a split stance from the usual one, or of what was seen, that is said, in standard
            deviations [1]
        before_chest: load before the chest above which it is unusual [kg]
        ankle_limit: end of ankle dorsiflexion [deg]
    """

    balance: Distribution
    depth_error: Distribution
    trunk_residual: Distribution
    slope_from: Sourced
    slope_share: Sourced
    slope_strength: Sourced
    slope_spread: Sourced
    wider_beyond: Sourced
    slope_unknown: Sourced
    lateral_gap: Sourced
    misfit: Sourced
    before_chest: Sourced
    ankle_limit: Sourced


class StanceTable(Record, frozen=True):
    """Where the feet stand in a squat, and what goes with it.

    Attributes:
        shoulder_width: usual stance, in breadths between the acromia [1]
        wide_width: wide stance, likewise [1]
        narrow_toe_out: least toe-out that goes with a width [deg]
        shoulder_toe_out: toe-out of the usual stance [deg]
        wide_toe_out: toe-out of the wide stance [deg]
        furthest_toe_out: largest toe-out that goes with a width [deg]
        wide_from: width from which a stance is called wide, in breadths between the acromia [1]
        shin_upright_from: width beyond which shins are more upright, in breadths between the acromia [1]
        shin_upright_per_width: by how much for one such breadth [deg]
        steepest_thigh: thigh above the horizontal beyond which its azimuth does not follow the width [deg]
        usual_azimuth_limit: furthest azimuth of the thigh where the lifter states none [deg]
        ask_toe_out: toe-out beyond which there is a caution [deg]
        largest_knee_twist: azimuth of the thigh against the shank's beyond which there is a caution [deg]
    """

    shoulder_width: Sourced
    wide_width: Sourced
    narrow_toe_out: Sourced
    shoulder_toe_out: Sourced
    wide_toe_out: Sourced
    furthest_toe_out: Sourced
    wide_from: Sourced
    shin_upright_from: Sourced
    shin_upright_per_width: Sourced
    steepest_thigh: Sourced
    usual_azimuth_limit: Sourced
    ask_toe_out: Sourced
    largest_knee_twist: Sourced


class PostureLimits(Record, frozen=True):
    """What the service accepts as a posture or technique.

    Attributes:
        balance: balance point, from the heel, in foot lengths [1]
        ankle_limit: end of ankle dorsiflexion [deg]
        hip_limit: smallest angle between trunk and thigh [deg]
        shin_angle: shin from the vertical [deg]
        thigh_angle: thigh above the horizontal [deg]
        stance_width: from ankle to ankle [m]
        toe_out: feet from straight ahead [deg]
        thigh_azimuth: thigh from straight ahead, about the vertical [deg]
        hip_abduction: furthest such angle that a lifter may state [deg]
        hip_external_rotation: furthest toe-out that a lifter may state [deg]
        trunk_lean: trunk from the vertical [deg]
        pull_lean: the same in a pull [deg]
        published_lean: trunk from the vertical in published squats [deg]
        hinge_knee: knee flexion that balances a hinge with a stated shin [deg]
        seen_lean: trunk from the vertical as it was seen [deg]
        misfit: how far an angle that was seen may lie from what is expected, in standard deviations [1]
        load_ratio: load over body mass [1]
        heel_lift: heel above the ball of the foot [m]
        bar_forward_of_midfoot: bar in front of the middle of the foot [m]
        foot_spacing: between the centres of pressure of the feet of a split stance [m]
        box_height: height of a box [m]
    """

    balance: SourcedRange
    ankle_limit: SourcedRange
    hip_limit: SourcedRange
    shin_angle: SourcedRange
    thigh_angle: SourcedRange
    stance_width: SourcedRange
    toe_out: SourcedRange
    thigh_azimuth: SourcedRange
    hip_abduction: SourcedRange
    hip_external_rotation: SourcedRange
    trunk_lean: SourcedRange
    pull_lean: SourcedRange
    published_lean: SourcedRange
    hinge_knee: SourcedRange
    seen_lean: SourcedRange
    misfit: SourcedRange
    load_ratio: SourcedRange
    heel_lift: SourcedRange
    bar_forward_of_midfoot: SourcedRange
    foot_spacing: SourcedRange
    box_height: SourcedRange


class PostureSpread(Record, frozen=True):
    """One standard deviation of what has no distribution of its own.

    Attributes:
        shin_angle_own: part of a lifter's shin habit that is of one exercise alone; the rest is of all [deg]
        bar_anterior: bar in front of the shoulder [m]
        abduction: thigh out of the sagittal plane [deg]
        hip_centres: between the hip joints [m]
    """

    shin_angle_own: Sourced
    bar_anterior: Sourced
    abduction: Sourced
    hip_centres: Sourced


class ShinShape(Record, frozen=True):
    """How far the shin has gone forward on the way down.

    Attributes:
        thigh_angle: thigh above the horizontal, falling [deg]
        fraction: shin from the vertical at each of them, of what it is at a level thigh [1]
        between: standard deviation of that fraction between lifters [1]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    thigh_angle: tuple[float, ...]
    fraction: tuple[float, ...]
    between: tuple[float, ...]
    source: SourceId
    known: Known
    note: str = ""


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


class PostureCaution(Record, frozen=True):
    """A reservation to show beside a result, where the model and published measurements part.

    Attributes:
        code: stable code of a message
        exercises: exercises that it always goes with
    """

    code: str
    exercises: tuple[ExerciseId, ...] = ()


class ReadingErrors(Record, frozen=True):
    """Standard error of angles that were seen in one way.

    Attributes:
        shin_angle: shin from the vertical [deg]
        trunk_lean: trunk from the vertical [deg]
        thigh_angle: thigh above the horizontal [deg]
        source: where they are from
        known: how far they are known
        note: what to mind in using them
    """

    shin_angle: float
    trunk_lean: float
    thigh_angle: float
    source: SourceId
    known: Known
    note: str = ""

    def in_radians(self) -> ReadingErrors:
        """The same errors in radians."""
        angles = {name: radians(getattr(self, name)) for name in ("shin_angle", "trunk_lean", "thigh_angle")}
        return msgspec.structs.replace(self, **angles)


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
