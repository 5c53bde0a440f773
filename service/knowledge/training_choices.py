"""Our own choices on loads, repetitions, tempo, sets and rest."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Count, Part, Reserve, Span, ascending
from service.knowledge.records import Record


class LoadRepetition(Record, frozen=True):
    """Loads and repetitions.

    Attributes:
        relations_disagree_above: spread between the usual relations from which an estimate is of low confidence [1]
        fixed_percent_tolerance: tolerance of relations made for one percentage of the maximum [percentage points]
        test_error: coefficient of variation of a test of the maximum [1]
        own_curve_min_load_difference: smallest difference between own sets that defines a curve, of the load [1]
        own_curve_most_reserve: most repetitions in reserve of a set that defines a curve [count]
        own_curve_steepest: steepest fall of the load for each repetition that is believed, of the maximum [1]
    """

    relations_disagree_above: Part
    fixed_percent_tolerance: Annotated[float, Meta(ge=0, le=5)]
    test_error: Part
    own_curve_min_load_difference: Annotated[float, Meta(gt=0, lt=1)]
    own_curve_most_reserve: Reserve
    own_curve_steepest: Part


class Effort(Record, frozen=True):
    """Repetitions in reserve.

    Attributes:
        hard_set_reserve: most that a hard set leaves [count]
        assumed_reserve: assumed where a prescription states none [count]
    """

    hard_set_reserve: Reserve
    assumed_reserve: Reserve


class Dose(Record, frozen=True):
    """What hard sets are taken to do, each with the span of what is published or taken.

    Attributes:
        trained_share: share of a set from which a muscle counts as trained by a lift [1]
        whole_set_reps: repetitions from which on a set counts whole for size [count]
        size_exponent: power of the sets with which size goes [1]
        strength_sets: sets of a lift a week over which the gain in strength falls to a third [count]
    """

    trained_share: Part
    whole_set_reps: Annotated[int, Meta(ge=1, le=20)]
    size_exponent: Span
    strength_sets: Span


class TempoChoices(Record, frozen=True):
    """Tempo of a repetition.

    Attributes:
        as_fast_as_possible: length of a phase written X [s]
        convert_up_to: slowest repetition for which repetitions are converted [s]
    """

    as_fast_as_possible: Span
    convert_up_to: Annotated[float, Meta(gt=0, le=120)]


class SessionSplit(Record, frozen=True):
    """Sets in a session.

    Attributes:
        most_sets_a_session: hard sets of a muscle in a session beyond which more are pointed out [count]
    """

    most_sets_a_session: Count


class Rest(Record, frozen=True):
    """To which sets the studies of rest are applied.

    Attributes:
        reps_to_failure: fewest and most repetitions to failure of the first set [count]
        drop_reps_to_failure: the same for cuts in load between sets [count]
        most_sets: most sets [count]
        most_reserve: most repetitions in reserve [count]
    """

    reps_to_failure: tuple[Count, Count]
    drop_reps_to_failure: tuple[Count, Count]
    most_sets: Count
    most_reserve: Annotated[int, Meta(ge=0, le=10)]

    def __post_init__(self) -> None:
        """Raise ValueError for a range whose ends do not ascend."""
        ascending("reps_to_failure", *self.reps_to_failure)
        ascending("drop_reps_to_failure", *self.drop_reps_to_failure)
