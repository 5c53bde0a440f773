"""Figures of the human body: segments with their masses and centres, and how much their lengths vary between people."""

from __future__ import annotations

from typing import Final, Literal

from service.knowledge.loader import converted, read_rows, read_whole
from service.knowledge.records import Known, Record, Sourced, SourcedRange, SourceId

Sex = Literal["female", "male"]
Segment = Literal["shank", "thigh", "trunk", "foot"]


class LengthTable(Record, frozen=True):
    """Segment lengths as fractions of stature.

    Attributes:
        shank: knee to ankle [1]
        thigh: hip to knee [1]
        trunk: hip to shoulder [1]
        foot: heel to toe [1]
        ankle_height: ankle above the sole [1]
        arm_to_grip: shoulder to the middle of a closed hand [1]
    """

    shank: Sourced
    thigh: Sourced
    trunk: Sourced
    foot: Sourced
    ankle_height: Sourced
    arm_to_grip: Sourced


class FootTable(Record, frozen=True):
    """Points of the foot as fractions of its length from the heel.

    Attributes:
        ankle_from_heel: ankle joint [1]
        ball_from_heel: ball of the foot [1]
    """

    ankle_from_heel: Sourced
    ball_from_heel: Sourced


class SegmentTable(Record, frozen=True):
    """Masses as fractions of body mass, and centres of mass as fractions of the segment, for one sex.

    Attributes:
        thighs_mass: both thighs [1]
        thigh_centre: centre of the thigh, from the hip [1]
        shanks_mass: both shanks [1]
        shank_centre: centre of the shank, from the knee [1]
        feet_mass: both feet [1]
        feet_centre: centre of the foot, from the heel [1]
        upper_centre_arms_at_bar: centre of head, arms and trunk, hands at a bar on the back, in trunk lengths [1]
        upper_centre_arms_hanging: the same with the arms along the trunk, in trunk lengths [1]
        arms_mass: both arms [1]
        arms_centre: centre of a straight arm, from the shoulder, in statures [1]
        lumbosacral_level: lumbosacral joint above the hip, in trunk lengths [1]
        above_lumbosacral_mass: all above the lumbosacral joint [1]
        above_lumbosacral_centre: centre of it, from the hip, in trunk lengths [1]
        seat_to_hip: hip joint above the seat, in statures [1]
        hip_centres: between the hip joints, in statures [1]
        hip_breadth: across the hips, in statures [1]
        shoulder_breadth: between the acromia, in statures [1]
    """

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
    hip_centres: Sourced
    hip_breadth: Sourced
    shoulder_breadth: Sourced


class BodySpread(Record, frozen=True):
    """How far the figures of the lumbosacral joint may be off.

    Attributes:
        above_lumbosacral_mass_low: smallest fraction of body mass above the joint, where a sex's own is not smaller [1]
        above_lumbosacral_mass_high: largest fraction of body mass above the joint [1]
        lumbosacral_level: half width of the joint's level above the hip, in trunk lengths [1]
    """

    above_lumbosacral_mass_low: Sourced
    above_lumbosacral_mass_high: Sourced
    lumbosacral_level: Sourced


class BodyRanges(Record, frozen=True):
    """What the service accepts as a lifter.

    Attributes:
        mass: body mass [kg]
        stature: stature [m]
        usual_length_ratio: measured over expected length that passes without a caution [1]
        accepted_length_ratio: measured over expected length that is computed with [1]
    """

    mass: SourcedRange
    stature: SourcedRange
    usual_length_ratio: SourcedRange
    accepted_length_ratio: SourcedRange


class BodyTables(Record, frozen=True):
    """The whole of body/segments.toml.

    Attributes:
        lengths: segment lengths
        foot: points of the foot
        female: segments of women
        male: segments of men
        spread: uncertainty of the lumbosacral joint
        ranges: lifters that are computed for
    """

    lengths: LengthTable
    foot: FootTable
    female: SegmentTable
    male: SegmentTable
    spread: BodySpread
    ranges: BodyRanges


class MeasuredLength(Record, frozen=True):
    """A row of body/ansur_spread.csv: a segment's length over stature in people who were measured.

    Attributes:
        segment: segment of the body
        sex: sex of the people
        n: number of people [count]
        mean: mean of the length as a fraction of stature [1]
        sd: standard deviation of that fraction [1]
        source: where it is from
        known: how far it is known
    """

    segment: Segment
    sex: Sex
    n: int
    mean: float
    sd: float
    source: SourceId
    known: Known


class LengthSpread(Record, frozen=True):
    """Standard deviation of each segment's length between people of one stature, as a fraction of the length.

    Attributes:
        shank: of the shank [1]
        thigh: of the thigh [1]
        trunk: of the trunk [1]
        foot: of the foot [1]
    """

    shank: float
    thigh: float
    trunk: float
    foot: float


def _length_spread(sex: Sex) -> LengthSpread:
    fractions: dict[str, float] = {row.segment: row.sd / row.mean for row in MEASURED_LENGTHS if row.sex == sex}
    return converted(fractions, LengthSpread, "body/ansur_spread.csv", sex)


BODY: Final = read_whole("body/segments.toml", BodyTables)
MEASURED_LENGTHS: Final = read_rows("body/ansur_spread.csv", MeasuredLength)
LENGTH_SPREAD: Final[dict[Sex, LengthSpread]] = {"female": _length_spread("female"), "male": _length_spread("male")}
