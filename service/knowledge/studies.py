"""Rows of studies of sets, rest, tempo, effort and the spine, as published: one struct for each file."""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.knowledge.loader import read_rows
from service.knowledge.records import ExerciseId, Known, Record, SourceId

RepetitionTable = Literal["general", "bench_press", "leg_press", "textbook"]


class RepetitionsRow(Record, frozen=True):
    """A row of repetition_tables.csv: repetitions to failure at a share of the maximum.

    Attributes:
        table: the table that it belongs to
        percent_of_max: load over the maximum [%]
        mean_reps: mean repetitions to failure [count]
        source: where it is from
        known: how far it is known
        sd_reps: standard deviation between people [count]
        mean_reps_low: lower end of the 95 % confidence interval of the mean [count]
        mean_reps_high: upper end of it [count]
        note: what to mind in using it
    """

    table: RepetitionTable
    percent_of_max: float
    mean_reps: float
    source: SourceId
    known: Known
    sd_reps: float | None = None
    mean_reps_low: float | None = None
    mean_reps_high: float | None = None
    note: str = ""

    @property
    def share_of_max(self) -> float:
        """Load over the maximum [1]."""
        return self.percent_of_max / 100


class RestRow(Record, frozen=True):
    """A row of rest_observations.csv: what was measured after one rest between sets.

    Attributes:
        exercises: the lifts, by our ids where the catalogue has them
        exercise_as_published: the lift in the words of the source
        load_as_published: the load in the words of the source
        scheme: the sets in the words of the source
        rest_seconds: rest between sets [s]
        source: where it is from
        known: how far it is known
        load_percent_of_max: load over the maximum [%]
        reps_by_set: mean repetitions of each set [count]
        sd_by_set: their standard deviations between people [count]
        total_relative_to_one_minute: repetitions of all sets over those after a rest of one minute [1]
        loss_percent_low_by_set: smallest loss of repetitions from each set to the next [%]
        loss_percent_high_by_set: largest loss of repetitions from each set to the next [%]
        cut_percent_too_little: cut in load a set after which repetitions still fell [%]
        cut_percent_holds: cut in load a set that held the repetitions [%]
        cut_percent_too_much: cut in load a set after which repetitions rose [%]
        result: the finding in words
        note: what to mind in using it
    """

    exercises: tuple[str, ...] = msgspec.field(name="exercise")
    exercise_as_published: str
    load_as_published: str
    scheme: str
    rest_seconds: float
    source: SourceId
    known: Known
    load_percent_of_max: float | None = None
    reps_by_set: tuple[float, ...] = ()
    sd_by_set: tuple[float, ...] = ()
    total_relative_to_one_minute: float | None = None
    loss_percent_low_by_set: tuple[float, ...] = ()
    loss_percent_high_by_set: tuple[float, ...] = ()
    cut_percent_too_little: float | None = None
    cut_percent_holds: float | None = None
    cut_percent_too_much: float | None = None
    result: str = ""
    note: str = ""

    @property
    def has_figures(self) -> bool:
        """Whether anything but words was reported."""
        cuts = (self.cut_percent_too_little, self.cut_percent_holds, self.cut_percent_too_much)
        return any((self.reps_by_set, self.total_relative_to_one_minute, self.loss_percent_low_by_set, *cuts))


class TempoRow(Record, frozen=True):
    """A row of tempo_observations.csv: repetitions to failure at a slow tempo against a lifter's own.

    Attributes:
        exercise: the lift, by our id where the catalogue has it
        exercise_as_published: the lift in the words of the source
        reference_tempo: the tempo that is compared with, in words
        slow_tempo: the slow tempo in words
        fraction_kept: repetitions at the slow tempo over those at the other [1]
        source: where it is from
        known: how far it is known
        load_percent_of_max: load over the maximum [%]
        slow_seconds_per_rep: length of a slow repetition [s]
        reps_reference: repetitions at the tempo that is compared with [count]
        reps_slow: repetitions at the slow tempo [count]
        note: what to mind in using it
    """

    exercise: str
    exercise_as_published: str
    reference_tempo: str
    slow_tempo: str
    fraction_kept: float
    source: SourceId
    known: Known
    load_percent_of_max: float | None = None
    slow_seconds_per_rep: float | None = None
    reps_reference: float | None = None
    reps_slow: float | None = None
    note: str = ""


class RepetitionsObserved(Record, frozen=True):
    """A row of repetitions_observed.csv: repetitions to failure of one group of people in one lift.

    Attributes:
        exercise: the lift, by our id where the catalogue has it
        exercise_as_published: the lift in the words of the source
        population: the people
        percent_of_max: load over the maximum [%]
        source: where it is from
        known: how far it is known
        n: number of people [count]
        mean_reps: mean repetitions to failure [count]
        sd_reps: standard deviation between people [count]
        note: what to mind in using it
    """

    exercise: str
    exercise_as_published: str
    population: str
    percent_of_max: float
    source: SourceId
    known: Known
    n: int | None = None
    mean_reps: float | None = None
    sd_reps: float | None = None
    note: str = ""


class EffortAccuracy(Record, frozen=True):
    """A row of effort_accuracy.csv: how well lifters judge their repetitions in reserve.

    Attributes:
        setting: lifts and people in words
        quantity: what the value is
        source: where it is from
        known: how far it is known
        exercises: exercises of the catalogue
        load_percent_of_max: load over the maximum [%]
        reps_in_reserve_called: repetitions in reserve at which the lifter called [count]
        condition: sets that the row is about
        value: its figure [count]
        sd: standard deviation between people [count]
        low: lower end of the 95 % interval [count]
        high: upper end of it [count]
        note: what to mind in using it
    """

    setting: str
    quantity: str
    source: SourceId
    known: Known
    exercises: tuple[ExerciseId, ...] = msgspec.field(default=(), name="exercise")
    load_percent_of_max: float | None = None
    reps_in_reserve_called: float | None = None
    condition: str = ""
    value: float | None = None
    sd: float | None = None
    low: float | None = None
    high: float | None = None
    note: str = ""


class RepetitionError(Record, frozen=True):
    """A row of repetition_errors.csv: how far off repetitions are, and how many more than stated are possible.

    Attributes:
        error: from day to day, or of the reserve as stated
        at: load over the maximum [%], or repetitions stated to be left [count]
        bias: repetitions possible beyond those stated [count]
        sd: standard deviation of one lifter's repetitions [count]
        sources: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    error: Literal["day", "reserve"]
    at: float
    bias: float
    sd: float
    sources: tuple[SourceId, ...] = msgspec.field(name="source")
    known: Known
    note: str = ""


class SpinalObservation(Record, frozen=True):
    """A row of spinal_observations.csv: a load or moment of the spine in a lift.

    Attributes:
        exercise_as_published: the lift in the words of the source
        population: the people
        load: the load in the words of the source
        variable: what was computed or measured
        value: its figure or range, as printed, in the unit of the row [any]
        unit: unit of the figure
        level: level of the spine
        method: how it was obtained
        source: where it is from
        known: how far it is known
        exercises: exercises of the catalogue
        sd: standard deviation between people, in the unit of the row [any]
        note: what to mind in using it
    """

    exercise_as_published: str
    population: str
    load: str
    variable: str
    value: str
    unit: str
    level: str
    method: str
    source: SourceId
    known: Known
    exercises: tuple[ExerciseId, ...] = msgspec.field(default=(), name="exercise")
    sd: float | None = None
    note: str = ""


class LeadLegShare(Record, frozen=True):
    """A row of lead_leg_share_observations.csv: the lead leg's share of the load in a stance.

    Attributes:
        exercise_as_published: the lift in the words of the source
        source: where it is from
        known: how far it is known
        note: what to mind in using it
        exercises: exercises of the catalogue
        load: the load in the words of the source
        lead_share_percent: the lead leg's share [%]
        sd: standard deviation between people [percentage points]
        basis: of body and load together, or of what
    """

    exercise_as_published: str
    source: SourceId
    known: Known
    note: str
    exercises: tuple[ExerciseId, ...] = msgspec.field(default=(), name="exercise")
    load: str = ""
    lead_share_percent: float | None = None
    sd: float | None = None
    basis: Literal["", "system", "unclear"] = ""


REPETITION_TABLES: Final = read_rows("repetition_tables.csv", RepetitionsRow)
REPETITION_ERRORS: Final = read_rows("repetition_errors.csv", RepetitionError)
REST: Final = read_rows("rest_observations.csv", RestRow)
TEMPO: Final = read_rows("tempo_observations.csv", TempoRow)
# Nothing computes with these: they are what relations, reserve, spine and stances were chosen by.
REPETITIONS_OBSERVED: Final = read_rows("repetitions_observed.csv", RepetitionsObserved)
EFFORT_ACCURACY: Final = read_rows("effort_accuracy.csv", EffortAccuracy)
SPINAL_OBSERVATIONS: Final = read_rows("spinal_observations.csv", SpinalObservation)
LEAD_LEG_SHARES: Final = read_rows("lead_leg_share_observations.csv", LeadLegShare)
