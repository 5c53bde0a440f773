"""The tables of design_choices.toml as structs: what each of our own choices may be, and its unit.

Why a value is what it is stands beside it in the toml file. Every number has bounds, so that a slip of the pen in a
changed file is refused at start (service.knowledge.design_choices) and does not reach a lifter.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import msgspec
from msgspec import Meta

from service.intervals import Interval

Part = Annotated[float, Meta(gt=0, le=1)]
"""A share [1] that is neither nothing nor more than the whole."""
Growth = Annotated[float, Meta(ge=1, le=10)]
"""A ratio [1] that is no decrease."""
Points = Annotated[float, Meta(ge=0, le=10)]
"""Points of the pain scale from 0 to 10."""
Reserve = Annotated[float, Meta(ge=0, le=10)]
"""Repetitions left before failure."""
Degrees = Annotated[float, Meta(ge=-90, le=90)]
Metres = Annotated[float, Meta(ge=0, le=2)]
Seconds = Annotated[float, Meta(ge=0, le=3600)]
Steps = Annotated[float, Meta(gt=0, le=100)]
"""Steps of a load, in the unit of their name."""
Count = Annotated[int, Meta(ge=1, le=1000)]
Tempo = Annotated[str, Meta(pattern=r"\A[0-9]{1,2}(?:-(?:[0-9]{1,2}|X)){3}\Z")]
"""Lowering, bottom, lifting, top [s]."""


class UnusableChoices(ValueError):
    """A file of choices that cannot be used: one line that names the file, the key and the fault."""

    def __init__(self, path: Path, fault: object) -> None:
        """Say it of the file at `path`."""
        super().__init__(" ".join(f"{path}: {fault}".split()))


class Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of the file: every key once, and no others."""


class Keyed(Table, frozen=True):
    """A table of numbers of one kind, looked up by key."""

    def __getitem__(self, key: str) -> float:
        """The number under a key."""
        number: float = getattr(self, key)
        return number


class Span(Interval, frozen=True, forbid_unknown_fields=True):
    """A value with the span in which it is taken to lie, both of one unit."""

    value: Annotated[float, Meta(gt=0, le=10)]
    low: Annotated[float, Meta(gt=0, le=10)]
    high: Annotated[float, Meta(gt=0, le=10)]

    def __post_init__(self) -> None:
        """Raise ValueError where the value is outside its span."""
        if not self.low <= self.value <= self.high:
            raise ValueError("Expected low <= value <= high")


def ascending(name: str, low: float, high: float) -> None:
    """Raise ValueError naming a pair whose first is not below its second."""
    if not low < high:
        raise ValueError(f"Expected {name} in ascending order")


class LoadRepetition(Table, frozen=True):
    """Loads and repetitions.

    relations_disagree_above: spread between the usual relations [1]; fixed_percent_tolerance: percentage points;
    test_error: coefficient of variation [1]; own_repetition_error: standard error [repetitions];
    own_curve_min_load_difference: between own sets [1]; own_curve_most_reserve: of an own set [repetitions];
    own_curve_steepest: fall of the load per repetition [1].
    """

    relations_disagree_above: Part
    fixed_percent_tolerance: Annotated[float, Meta(ge=0, le=5)]
    test_error: Part
    own_repetition_error: Annotated[float, Meta(gt=0, le=10)]
    own_curve_min_load_difference: Annotated[float, Meta(gt=0, lt=1)]
    own_curve_most_reserve: Reserve
    own_curve_steepest: Part


class Effort(Table, frozen=True):
    """Repetitions in reserve: above which a set is not hard, and assumed where none are stated."""

    hard_set_reserve: Reserve
    assumed_reserve: Reserve


class TempoChoices(Table, frozen=True):
    """as_fast_as_possible: length of a phase written X [s]; convert_up_to: slowest pace converted [s a repetition]."""

    as_fast_as_possible: Span
    convert_up_to: Annotated[float, Meta(gt=0, le=120)]


class AssumedLifter(Table, frozen=True):
    """mass [kg] and stature [m] of a lifter of whom nothing is stated."""

    mass: Annotated[float, Meta(ge=30, le=250)]
    stature: Annotated[float, Meta(ge=1.2, le=2.3)]


class Spine(Table, frozen=True):
    """The single-muscle model of the low back.

    muscle_arm: lever arm [m]; mass_fraction: of body mass above the joint [1]; shared_lean_error, assumed_lean_error
    [deg]; lean_range: of the leans answered for [deg].
    """

    muscle_arm: Span
    mass_fraction: Span
    shared_lean_error: Annotated[float, Meta(ge=0, le=45)]
    assumed_lean_error: Annotated[float, Meta(ge=0, le=45)]
    assumed_lifter: AssumedLifter
    lean_range: tuple[Degrees, Degrees]

    def __post_init__(self) -> None:
        """Raise ValueError where a span leaves what a body can have, or the range is none."""
        if self.muscle_arm.high > 0.2:  # noqa: PLR2004 - [m], beyond any trunk
            raise ValueError("Expected muscle_arm.high <= 0.2")
        if self.mass_fraction.high > 1:
            raise ValueError("Expected mass_fraction.high <= 1")
        ascending("lean_range", *self.lean_range)


class SessionSplit(Table, frozen=True):
    """most_sets_a_session: hard sets of a muscle in a session beyond which more are pointed out."""

    most_sets_a_session: Count


class FirstStep(Keyed, frozen=True):
    """Share of the present demand to which a first step brings it, by the band of the pain [1]."""

    amber: Part
    red: Part


class Specificity(Keyed, frozen=True):
    """Share of the training effect taken to carry over, by what became of the lift [1]."""

    same: Part
    technique: Part
    range_of_motion: Part
    variation: Part
    equipment: Part
    exercise: Part


class LoadSteps(Keyed, frozen=True):
    """Smallest step of a load by its unit, [kg] and [lb]."""

    kg: Steps
    lb: Steps


class HeavySlow(Table, frozen=True):
    """Heavy slow resistance: stages [repetitions], sets, tempo [s], rest [s], days a week, reserve [repetitions]."""

    stages: Annotated[tuple[Count, ...], Meta(min_length=1, max_length=20)]
    sets: Count
    tempo: Tempo
    rest: Seconds
    days: Annotated[int, Meta(ge=1, le=7)]
    reserve: Reserve


class Isometric(Table, frozen=True):
    """Holds: sets of so many seconds, rest [s], bend of the knee [deg], reserve [repetitions]."""

    sets: Count
    seconds: Annotated[float, Meta(gt=0, le=600)]
    rest: Seconds
    knee_flexion: Annotated[float, Meta(ge=0, le=150)]
    reserve: Reserve


class Adjustments(Table, frozen=True):
    """What is tried to take demand off a region, and how it is judged.

    green_up_to, amber_up_to, real_change: pain and its rise by next morning [points]; first_exposure_margin,
    untested_share: of a load in another lift [1], with untested_reserve [repetitions]; other_region_caution,
    rise_worth_telling: ratio of another region's demand to its present [1]; uncertain_base: uncertainty as a share of
    a present moment [1]; second_lever_worth: of the training effect [1]; maintaining_share_of_sets [1];
    effect_fades_over, least_reserve [repetitions]; most_days a week; lightest_share: of the present load [1];
    supervised_below_age [years]; depth_step, shallowest_thigh, shin_changes [deg]; moderate_depth_steps: number of
    depth_step; block_heights, heel_lifts [m]; slow_tempo, long_rest [s]; weekly_sets_may_grow_to: ratio [1].
    """

    first_step: FirstStep
    green_up_to: Points
    amber_up_to: Points
    real_change: Annotated[float, Meta(gt=0, le=10)]
    first_exposure_margin: Part
    untested_share: Part
    untested_reserve: Reserve
    other_region_caution: Growth
    rise_worth_telling: Growth
    uncertain_base: Part
    second_lever_worth: Annotated[float, Meta(ge=0, le=1)]
    specificity: Specificity
    maintaining_share_of_sets: Part
    effect_fades_over: Annotated[float, Meta(gt=0, le=30)]
    most_days: Annotated[int, Meta(ge=1, le=7)]
    lightest_share: Part
    supervised_below_age: Annotated[float, Meta(ge=0, le=30)]
    least_reserve: Reserve
    depth_step: Annotated[float, Meta(gt=0, le=45)]
    shallowest_thigh: Annotated[float, Meta(ge=0, le=90)]
    moderate_depth_steps: Annotated[int, Meta(ge=0, le=20)]
    block_heights: tuple[Metres, ...]
    heel_lifts: tuple[Metres, ...]
    shin_changes: tuple[Degrees, ...]
    slow_tempo: Tempo
    long_rest: Seconds
    weekly_sets_may_grow_to: Growth
    step: LoadSteps
    heavy_slow: HeavySlow
    isometric: Isometric

    def __post_init__(self) -> None:
        """Raise ValueError where the bands of pain are not in order."""
        ascending("green_up_to, amber_up_to", self.green_up_to, self.amber_up_to)


class Rest(Table, frozen=True):
    """To what the studies of rest speak: repetitions to failure of a first set, sets, repetitions in reserve."""

    reps_to_failure: tuple[Count, Count]
    drop_reps_to_failure: tuple[Count, Count]
    most_sets: Count
    most_reserve: Annotated[int, Meta(ge=0, le=10)]

    def __post_init__(self) -> None:
        """Raise ValueError for a range that is none."""
        ascending("reps_to_failure", *self.reps_to_failure)
        ascending("drop_reps_to_failure", *self.drop_reps_to_failure)


class ByFamily(Keyed, frozen=True):
    """Share of a load by the family of the lift [1]."""

    squat: Part
    hinge: Part
    split: Part
    press: Part
    pull: Part


class NoImprovement(Table, frozen=True):
    """After so many weeks, pain that fell by less than both so many points and this share [1] of itself."""

    weeks: Count
    points: Points
    share: Part


class StepsBack(Table, frozen=True):
    """A count of steps back within so many weeks."""

    count: Count
    weeks: Count


class Review(Table, frozen=True):
    """The next step after a session.

    good_sessions in a row; surplus_reps over the target; load_step, most_load_step, step_back: shares of the load [1];
    morning_hold, above_usual: over the usual pain, weekly_rise: of the weekly mean [points].
    """

    good_sessions: Count
    surplus_reps: Count
    load_step: ByFamily
    most_load_step: Part
    step_back: Annotated[float, Meta(gt=0, lt=1)]
    morning_hold: Points
    above_usual: Points
    weekly_rise: Points
    no_improvement: NoImprovement
    steps_back: StepsBack


class ReturnPlan(Table, frozen=True):
    """The way back to the original prescription.

    step: rise of the demand in a week, load_step: of the load in a step, load_before_others: of the original [1];
    most_depth_steps: number of adjustments.depth_step; load_before_change, first_exposure_margin: of the load that
    would match the original [1]; fewest_reps_share: of repetitions [1]; repeated_share: of the weeks [1]; longest
    [weeks]; most_loads, most_postures, most_moves: looked at; finer: steps and plates.
    """

    step: Part
    load_step: Part
    most_depth_steps: Count
    load_before_others: Part
    load_before_change: Part
    first_exposure_margin: Part
    fewest_reps_share: Part
    repeated_share: Annotated[float, Meta(ge=0, le=1)]
    longest: Annotated[int, Meta(ge=1, le=520)]
    most_loads: Annotated[int, Meta(ge=1, le=100_000)]
    most_postures: Annotated[int, Meta(ge=1, le=1_000_000)]
    most_moves: Annotated[int, Meta(ge=1, le=10_000_000)]
    finer: LoadSteps


class DesignChoices(Table, frozen=True):
    """All tables, by the part of the service that goes by them."""

    load_repetition: LoadRepetition
    effort: Effort
    tempo: TempoChoices
    spine: Spine
    session_split: SessionSplit
    adjustments: Adjustments
    rest: Rest
    review: Review
    return_plan: ReturnPlan
