"""The figures of the mechanics: body segments with their spread, and the posture rules, read once at import.

Angles are degrees in the files, because people read and correct them there, and radians in the structs.
"""

from __future__ import annotations

import csv
from math import radians
from pathlib import Path
from typing import Literal

import msgspec

from service.knowledge.loader import Known

Sex = Literal["female", "male"]
Family = Literal["squat", "hinge", "split"]
CarryKind = Literal["trunk", "pelvis", "hands_at_foot", "hands_at_shoulder", "hands_at_side"]

_HERE = Path(__file__).parent / "data"


class Sourced(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A figure with where it comes from and how well it is known."""

    value: float
    source: str
    known: Known
    note: str = ""


class SourcedRange(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A range with where it comes from and how well it is known."""

    low: float
    high: float
    source: str
    known: Known
    note: str = ""

    def allowed(self, unit: str) -> str:
        """The range in words, for a refusal."""
        return f"{self.low:g} to {self.high:g} {unit}".strip()


class Share(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The lead leg's share of the system weight: usual value and the range it is met in [1]."""

    value: float
    low: float
    high: float
    source: str
    known: Known
    note: str = ""


class LengthTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Segment lengths as fractions of stature [1]."""

    shank: Sourced
    thigh: Sourced
    trunk: Sourced
    foot: Sourced
    ankle_height: Sourced
    arm_to_grip: Sourced


class FootTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Places on the foot as fractions of its length from the heel [1]."""

    ankle_from_heel: Sourced
    ball_from_heel: Sourced


class SegmentTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Masses as fractions of body mass and centres as fractions of the segment, for one sex [1]."""

    thighs_mass: Sourced
    thigh_centre: Sourced
    shanks_mass: Sourced
    shank_centre: Sourced
    feet_mass: Sourced
    feet_centre: Sourced
    upper_centre_arms_at_bar: Sourced
    upper_centre_arms_hanging: Sourced
    arms_mass: Sourced
    arms_centre: Sourced
    lumbosacral_level: Sourced
    above_lumbosacral_mass: Sourced
    above_lumbosacral_centre: Sourced
    seat_to_hip: Sourced


class BodySpread(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """How far the figures of the lumbosacral joint may be off [1]."""

    above_lumbosacral_mass_low: Sourced
    above_lumbosacral_mass_high: Sourced
    lumbosacral_level: Sourced


class BodyRanges(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the service accepts as a lifter: mass [kg], stature [m], measured over usual length [1]."""

    mass: SourcedRange
    stature: SourcedRange
    usual_length_ratio: SourcedRange
    accepted_length_ratio: SourcedRange


class BodyTables(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole of body/segments.toml."""

    lengths: LengthTable
    foot: FootTable
    female: SegmentTable
    male: SegmentTable
    spread: BodySpread
    ranges: BodyRanges


class LengthSpread(msgspec.Struct, frozen=True):
    """Standard deviation of each segment length between people of one stature, as a fraction of the length [1]."""

    shank: float
    thigh: float
    trunk: float
    foot: float


class PostureDefaults(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Figures that hold for every exercise unless its own rule says otherwise."""

    balance: Sourced
    ankle_limit: Sourced
    abduction_wide: Sourced
    wide_shin_reduction: Sourced


class PostureLimits(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the service accepts as a posture or technique."""

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


class PostureSpread(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One standard deviation of what a lifter does about the rule."""

    shin_angle: Sourced
    shin_angle_between_exercises: Sourced
    balance: Sourced
    bar_anterior: Sourced
    trunk_lean: Sourced
    abduction: Sourced


class ShinShape(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Shin angle against thigh angle of the high-bar squat."""

    thigh_angle: tuple[float, ...]
    shin_angle: tuple[float, ...]
    source: str
    known: Known
    note: str = ""


class ExerciseRule(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How one exercise is done when nothing else is asked.

    family: squat (both feet, depth by the thigh), hinge (both feet, depth by the grip) or split (lead leg).
    carry: where the load acts. along, anterior: bar from the shoulder joint in the trunk's frame [m at 1.75 m stature].
    line: where the load's plumb line meets the foot, fraction of foot length from the heel; None for the balance point.
    shin_angle: preferred shin angle [rad], at a level thigh in squats and split stances, at the bottom in hinges.
    thigh_angle: usual bottom position above the horizontal [rad]; None where the grip height decides.
    grip_height: height of the hands at the bottom [m], or grip_shank_fraction of the way from ankle to knee.
    block_height: added to the grip height [m]; accepts_box: whether a box height can be asked for.
    abduction: thigh out of the sagittal plane [rad].
    balance: balance point, fraction of foot length, where it differs from the default.
    lead_share, trunk_lean [rad]: split stances only.
    """

    family: Family
    carry: CarryKind
    shin_angle: float
    source: str
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


class PostureCaution(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reservation that callers show beside a result: where the model and published measurements part."""

    code: str
    text: str
    exercises: tuple[str, ...] = ()


class PostureTables(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole of postures.toml."""

    defaults: PostureDefaults
    limits: PostureLimits
    spread: PostureSpread
    shin_shape: ShinShape
    exercises: dict[str, ExerciseRule]
    cautions: tuple[PostureCaution, ...] = ()


def _read_length_spread() -> dict[Sex, LengthSpread]:
    rows: dict[str, dict[str, float]] = {"female": {}, "male": {}}
    with (_HERE / "body" / "ansur_spread.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            rows[row["sex"]][row["segment"]] = float(row["sd"]) / float(row["mean"])
    return {"female": LengthSpread(**rows["female"]), "male": LengthSpread(**rows["male"])}


BODY = msgspec.toml.decode((_HERE / "body" / "segments.toml").read_bytes(), type=BodyTables)
LENGTH_SPREAD = _read_length_spread()
POSTURES = msgspec.toml.decode((_HERE / "postures.toml").read_bytes(), type=PostureTables)
EXERCISE_RULES = {name: rule.in_radians() for name, rule in POSTURES.exercises.items()}
