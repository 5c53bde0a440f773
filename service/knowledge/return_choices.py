"""Our own choices on the next step after a session and on the way back."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Count, Part, Points, ascending
from service.knowledge.records import Record


class Widest(Record, frozen=True):
    """How far a prescription is widened before a large step of the load.

    Attributes:
        reps: most repetitions of a set [count]
        hold: longest hold [s]
        sets: most sets [count]
    """

    reps: Annotated[int, Meta(ge=1, le=100)]
    hold: Annotated[float, Meta(gt=0, le=300)]
    sets: Annotated[int, Meta(ge=1, le=50)]


class HoldRange(Record, frozen=True):
    """The range in which a hold gets longer before its load rises.

    Attributes:
        low: shortest hold [s]
        high: longest hold [s]
        step: by which it gets longer [s]
    """

    low: Annotated[float, Meta(gt=0, le=300)]
    high: Annotated[float, Meta(gt=0, le=300)]
    step: Annotated[float, Meta(gt=0, le=60)]

    def __post_init__(self) -> None:
        """Raise ValueError where the range is none."""
        ascending("hold", self.low, self.high)


class NoImprovement(Record, frozen=True):
    """When pain counts as not improving: less than both falls after some weeks.

    Attributes:
        weeks: weeks since the start [count]
        points: fall of pain [points]
        share: fall of pain, of the pain at the start [1]
    """

    weeks: Count
    points: Points
    share: Part


class StepsBack(Record, frozen=True):
    """How many steps back ask for a professional.

    Attributes:
        count: steps back [count]
        weeks: weeks within which they fall [count]
    """

    count: Count
    weeks: Count


class Review(Record, frozen=True):
    """The next step after a session.

    Attributes:
        good_sessions: good sessions in a row before a step forward [count]
        short_sessions: sessions in a row short of the prescription before there is less [count]
        step_after_failure: step of the way back after one that was too much, of a whole one [1]
        most_load_step: largest step of load forward that needs nothing first, of the load [1]
        reps_share_after_large_step: repetitions that a larger step must leave possible, of those done before [1]
        widest: how far a prescription is widened before such a step
        hold: range in which a hold gets longer
        session_trend: rise of pain in the session that is a trend [points]
        morning_hold: pain over the usual next morning that holds [points]
        above_usual: pain over the usual that is red [points]
        weekly_rise: rise of the weekly mean that is too much [points]
        weekly_hold: rise of the weekly mean that holds [points]
        no_improvement: when pain does not improve
        steps_back: how many steps back are too many
        unsettled_weeks: time without a good session after which a professional looks [weeks]
    """

    good_sessions: Count
    short_sessions: Count
    step_after_failure: Part
    most_load_step: Part
    reps_share_after_large_step: Part
    widest: Widest
    hold: HoldRange
    session_trend: Points
    morning_hold: Points
    above_usual: Points
    weekly_rise: Points
    weekly_hold: Points
    no_improvement: NoImprovement
    steps_back: StepsBack
    unsettled_weeks: Count


class ReturnPlan(Record, frozen=True):
    """The way back to the original prescription.

    Attributes:
        step: rise of the demand in a week [1]
        load_step: rise of the load in a step [1]
        most_depth_steps: most of adjustments.depth_step in a step [count]
        load_before_others: load before other changes go back, of the original [1]
        load_before_change: load before the lift changes, of the load that would match the original [1]
        first_exposure_margin: first load in a lift that is new, of the load that would match the original [1]
        lowest_entry: least load with which the original lift is entered, of its own [1]
        warm_up: loads of the warm-up sets before a test, of the load that is tested [1]
        heel_grade: grade of the heel lift [m]
        bar_grade: grade of the bar's drift from mid-foot [m]
        spacing_grade: grade of the foot spacing of a split stance [m]
        width_grade: grade of the width of a stance [m]
        toe_out_grade: grade of the turn-out of the feet [deg]
        shin_grade: grade of the shin angle [deg]
        box_grade: grade of the height of boxes, boards and blocks [m]
        knee_grade: grade of the bend of the knees [deg]
        most_grades: most grades of anything [count]
        excess_grade: grade of sets and repetitions above the original's, of what they are above it [1]
        rep_seconds: length of a repetition at no stated tempo [s]
        aim_steps: steps of a plan that is aimed at [count]
        over_step_costs: steps that a way may be longer to save one rise above the step [count]
        fewest_reps_share: fewest repetitions in a step, of the original [1]
        repeated_share: weeks that are expected to be repeated, of all weeks [1]
        longest: longest plan [weeks]
        most_loads: most loads looked at [count]
        most_postures: most postures looked at [count]
        most_moves: most moves looked at [count]
    """

    step: Part
    load_step: Part
    most_depth_steps: Count
    load_before_others: Part
    load_before_change: Part
    first_exposure_margin: Part
    lowest_entry: Part
    warm_up: Annotated[tuple[Part, ...], Meta(min_length=1, max_length=6)]
    heel_grade: Annotated[float, Meta(gt=0, le=0.08)]
    bar_grade: Annotated[float, Meta(gt=0, le=0.15)]
    spacing_grade: Annotated[float, Meta(gt=0, le=1)]
    width_grade: Annotated[float, Meta(gt=0, le=1)]
    toe_out_grade: Annotated[float, Meta(gt=0, le=45)]
    shin_grade: Annotated[float, Meta(gt=0, le=60)]
    box_grade: Annotated[float, Meta(gt=0, le=0.8)]
    knee_grade: Annotated[float, Meta(gt=0, le=120)]
    most_grades: Annotated[int, Meta(ge=1, le=100)]
    excess_grade: Part
    rep_seconds: Annotated[float, Meta(gt=0, le=20)]
    aim_steps: Count
    over_step_costs: Annotated[int, Meta(ge=0, le=100)]
    fewest_reps_share: Part
    repeated_share: Annotated[float, Meta(ge=0, le=1)]
    longest: Annotated[int, Meta(ge=1, le=520)]
    most_loads: Annotated[int, Meta(ge=1, le=100_000)]
    most_postures: Annotated[int, Meta(ge=1, le=1_000_000)]
    most_moves: Annotated[int, Meta(ge=1, le=10_000_000)]
