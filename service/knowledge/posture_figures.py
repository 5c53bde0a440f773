"""Figures of postures that hold for every exercise: how a lifter's habits spread, what is accepted, how it is read."""

from __future__ import annotations

from math import radians

import msgspec

from service.knowledge.records import ExerciseId, Known, Record, Sourced, SourcedRange, SourceId


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
