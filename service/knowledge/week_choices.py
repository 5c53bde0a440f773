"""Our own choices on a whole week of training."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Count, Part
from service.knowledge.records import Record
from service.vocabulary import Region

_Days = Annotated[int, Meta(ge=1, le=7)]


class LeastGap(Record, frozen=True):
    """Fewest days from one heavy day of a region to the next before that is pointed out.

    Attributes:
        usual: of most regions [days]
        tendon: of those that tendons carry [days]
    """

    usual: _Days
    tendon: _Days


class LeastSets(Record, frozen=True):
    """Fractional sets a week below which nothing is taken to be gained.

    Attributes:
        muscle_size: of a muscle [count]
        strength: of a muscle in hard sets of its lift [count]
    """

    muscle_size: Annotated[float, Meta(gt=0, le=30)]
    strength: Annotated[float, Meta(gt=0, le=30)]


class KeepingShare(Record, frozen=True):
    """The part of the usual sets that keeps what there is.

    Attributes:
        novice: of people new to training [1]
        trained: of trained ones [1]
    """

    novice: Part
    trained: Part


class AddedReps(Record, frozen=True):
    """Repetitions of a lift that is added to a week.

    Attributes:
        low: fewest [count]
        high: most [count]
    """

    low: Count
    high: Count


class WeekChoices(Record, frozen=True):
    """A whole week.

    Attributes:
        heavy_day: part of a region's week above which a day is a heavy one of it [1]
        least_gap: fewest days between two of them
        tendon_regions: regions whose load tendons carry
        least_sets: by aim
        keeping_share: by training
        noticeable_part: part of a region's week from which on a lift is changed [1]
        most_lifts_searched: lifts that are searched at the most [count]
        alternatives: of each lift [count]
        least_part: part of its present demand below which a lift is not changed by itself [1]
        most_changes: in one week [count]
        beam: partial weeks that are carried on [count]
        worked_out: weeks worked out in full for each that is offered [count]
        loss_weight: of training effect lost against the way that is left to the target [1]
        least_fall: of what a region is asked for, below which it counts as no fall [1]
        least_rise: of what a region is asked for, above which it counts as a rise [1]
        fewer_sets_said: part of a muscle's sets from which on it is said that it loses them [1]
        most_sets_added: to one lift, to bring a muscle back to its floor [count]
        added_reps: repetitions of a lift that is added
    """

    heavy_day: Part
    least_gap: LeastGap
    tendon_regions: tuple[Region, ...]
    least_sets: LeastSets
    keeping_share: KeepingShare
    noticeable_part: Part
    most_lifts_searched: Count
    alternatives: Count
    least_part: Part
    most_changes: Annotated[int, Meta(ge=1, le=8)]
    beam: Count
    worked_out: Count
    loss_weight: Annotated[float, Meta(ge=0, le=10)]
    least_fall: Part
    least_rise: Part
    fewer_sets_said: Part
    most_sets_added: Count
    added_reps: AddedReps
