"""The arm from joint to joint, the force of the hand on a bar, and the relative strength of the shoulder."""

from __future__ import annotations

from typing import Final

from service.knowledge.loader import read_rows, read_whole
from service.knowledge.records import Known, Record, Sourced, SourcedRange, SourceId


class ArmTable(Record, frozen=True):
    """One arm of one sex: lengths over stature, masses over body mass, centres over the segment's length.

    Attributes:
        upper_arm: shoulder joint to elbow joint [1]
        forearm: elbow joint to wrist joint [1]
        hand: wrist joint to third knuckle [1]
        upper_arm_mass: mass of the upper arm [1]
        forearm_mass: mass of the forearm [1]
        hand_mass: mass of the hand [1]
        upper_arm_centre: centre of mass from the shoulder [1]
        forearm_centre: centre of mass from the elbow [1]
        hand_centre: centre of mass from the wrist, over wrist to third knuckle [1]
    """

    upper_arm: Sourced
    forearm: Sourced
    hand: Sourced
    upper_arm_mass: Sourced
    forearm_mass: Sourced
    hand_mass: Sourced
    upper_arm_centre: Sourced
    forearm_centre: Sourced
    hand_centre: Sourced


class ArmOfBoth(Record, frozen=True):
    """What is the same for both sexes.

    Attributes:
        grip: wrist joint to the middle of a closed hand, over stature [1]
        separation: shoulder joint to shoulder joint, over biacromial breadth [1]
    """

    grip: Sourced
    separation: Sourced


class ArmSpans(Record, frozen=True):
    """How far what is assumed may be off; a direction has to survive each of them.

    Attributes:
        holding: lifters, or lifts of theirs, that are within a span [1]
        separation: shoulder joint to shoulder joint, over biacromial breadth [1]
        shoulder_breadth: biacromial breadth over the tabulated one [1]
        upper_arm: over the tabulated length [1]
        touch: hand across the load's line [m]
        height: hand along the load's line [m]
        outward: sideways force of the hand over its force along the load's line, where that was measured [1]
        strength: over the relative strength of movements whose ratio to adduction is not published [1]
    """

    holding: Sourced
    separation: SourcedRange
    shoulder_breadth: SourcedRange
    upper_arm: SourcedRange
    touch: SourcedRange
    height: SourcedRange
    outward: SourcedRange
    strength: SourcedRange


class ReadingError(Record, frozen=True):
    """How far what a lifter measured may be off.

    Attributes:
        length: of a breadth or of a segment between joints [m]
    """

    length: Sourced


class ShoulderStrength(Record, frozen=True):
    """Strength of the shoulder's movements over that of adduction.

    Attributes:
        adduction: lowering the arm in the frontal plane [1]
        abduction: raising it there [1]
        extension: taking the arm from before the trunk to behind it [1]
        flexion: raising the arm before the trunk [1]
        horizontal_forward: swinging the raised arm across the chest [1]
        horizontal_backward: the way back [1]
        inward_rotation: turning the upper arm inward about itself [1]
        outward_rotation: turning it outward [1]
    """

    adduction: Sourced
    abduction: Sourced
    extension: Sourced
    flexion: Sourced
    horizontal_forward: Sourced
    horizontal_backward: Sourced
    inward_rotation: Sourced
    outward_rotation: Sourced


class ProvokingPostures(Record, frozen=True):
    """Postures of the arm that provoke a sore shoulder.

    Attributes:
        elevation: upper arm from hanging [deg]
    """

    elevation: SourcedRange


class ArmRanges(Record, frozen=True):
    """What is computed for.

    Attributes:
        length_ratio: measured over expected length [1]
        grip: between the middles of the hands, over biacromial breadth [1]
        outward: sideways force of the hand over its force along the load's line [1]
        wrist_bend: hand bent back [deg]
        shoulder_abduction: upper arm from the trunk at the bottom [deg]
        left_out: of the whole range, at its bottom [1]
    """

    length_ratio: SourcedRange
    grip: SourcedRange
    outward: SourcedRange
    wrist_bend: SourcedRange
    shoulder_abduction: SourcedRange
    left_out: SourcedRange


class ArmFigures(Record, frozen=True):
    """The whole of body/arm.toml.

    Attributes:
        female: an arm of a woman
        male: an arm of a man
        both: of either
        spans: what a direction has to survive
        reading: error of what was measured, in the place of a span
        strength: of the shoulder's movements
        postures: those that provoke
        ranges: what is computed for
    """

    female: ArmTable
    male: ArmTable
    both: ArmOfBoth
    spans: ArmSpans
    reading: ReadingError
    strength: ShoulderStrength
    postures: ProvokingPostures
    ranges: ArmRanges


class HandForce(Record, frozen=True):
    """A row of hand_force.csv: how far the hands push a bench-pressed bar apart.

    Attributes:
        grip: between the middles of the hands, over biacromial breadth [1]
        outward: outward force of the hand over its upward force [1]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    grip: float
    outward: float
    source: SourceId
    known: Known
    note: str = ""


class BenchTouch(Record, frozen=True):
    """A row of bench_touch.csv: where a bar touches the chest.

    Attributes:
        grip: between the middles of the hands, over biacromial breadth [1]
        across: from the shoulder joints along the trunk, negative toward the feet, for a stature of 1.75 m [m]
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    grip: float
    across: float
    source: SourceId
    known: Known
    note: str = ""


ARM: Final = read_whole("body/arm.toml", ArmFigures)
HAND_FORCES: Final = read_rows("hand_force.csv", HandForce)
"""By ascending grip."""
BENCH_TOUCHES: Final = read_rows("bench_touch.csv", BenchTouch)
"""By ascending grip."""
