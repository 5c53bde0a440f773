"""What sets of one lift say of the lifter's strength: the maximum, loads, repetitions, and each relation side by side.

Of several sets the lifter's own curve is used where they define one; else the relation, from the set that comes first.
"""

from __future__ import annotations

import msgspec

from service.errors import Refusal
from service.intervals import Interval
from service.training import own_estimates
from service.training import repetition_maximum as estimates
from service.training.done_sets import DoneSet, heaviest_for, most_with
from service.training.individual_profile import OwnCurve
from service.training.load_repetition import (
    RELATIONS,
    Relation,
    maximum,
    reps_at_share,
    share_of_max,
    shares_at,
    shown_for,
)
from service.training.own_sets import MOST_REPS, check_reps, check_span


class RelationEstimate(msgspec.Struct, frozen=True, gc=False):
    """What one relation says.

    Attributes:
        relation: its id
        maximum: behind the set, the body included where it is lifted [kg]
        value: the load for some repetitions [kg], or the repetitions to failure at some load [count]
    """

    relation: str
    maximum: float
    value: float


class StrengthEvidence(msgspec.Struct, frozen=True):
    """Sets that were done, and the relation or curve by which they are read.

    Attributes:
        sets: the one first on which an answer is based where no curve is
        exercise: id of the lift, None where it is not known
        relation: between load and repetitions
        curve: the lifter's own, where the sets define one and no relation was asked for
    """

    sets: tuple[DoneSet, ...]
    exercise: str | None
    relation: Relation
    curve: OwnCurve | None

    @property
    def done(self) -> DoneSet:
        """The set on which an answer is based where no curve is."""
        return self.sets[0]

    @property
    def heaviest(self) -> float:
        """The heaviest load lifted in any set [kg]."""
        return heaviest_for(self.sets, 1)

    @property
    def reps_range(self) -> tuple[float, float]:
        """The fewest and the most repetitions to failure that are covered [count]."""
        return (1.0, MOST_REPS) if self.curve else self.relation.reps

    def maximum(self) -> Interval:
        """The maximum, the body included where it is lifted [kg]."""
        if self.curve:
            return own_estimates.own_maximum(self.curve, lifted=self.heaviest)
        return estimates.estimate_maximum(self.relation, self.exercise, self.done, lifted=self.heaviest)

    def load_for(self, reps: float) -> Interval:
        """The load for a number of repetitions, also past the span in which the own curve is used; for one the maximum.

        Args:
            reps: to failure [count]

        Returns:
            The load [kg].

        Raises:
            Refusal: for repetitions outside the relation's published range
        """
        if reps == 1:
            return self.maximum()
        lifted = heaviest_for(self.sets, reps)
        if self.curve:
            return own_estimates.own_load(self.curve, reps, lifted=lifted)
        return estimates.estimate_load(self.relation, self.exercise, self.done, reps, lifted=lifted)

    def share_for(self, reps: float, load: Interval) -> Interval:
        """Share of the maximum that the load for a number of repetitions is, with the spread between people and days.

        A curve through a lifter's own sets tells little of how far the maximum lies from it: its share spreads as much.

        Args:
            reps: to failure [count]
            load: for these repetitions [kg]

        Returns:
            The share [1].
        """
        share = load.value / self.maximum().value if self.curve else share_of_max(self.relation, reps)
        return estimates.spread_of_share(self.exercise, reps).scaled(share).at_most(1.0)

    def check_target(self, reps: float) -> None:
        """Check repetitions against those for which the own curve is used; the relation checks its own.

        Args:
            reps: to failure [count]

        Raises:
            Refusal: for repetitions that are too many, or at which the curve leaves the published span
        """
        if self.curve:
            check_reps(reps, "reps")
            check_span(self.curve, self.exercise, reps)

    def reps_at(self, load: float) -> Interval:
        """Repetitions to failure at a load: at least as many as were done with it.

        Args:
            load: the body included where it is lifted [kg]

        Returns:
            The repetitions [count].

        Raises:
            Refusal: for a load outside what the relation or the curve covers
        """
        if self.curve:
            reps = own_estimates.own_reps(self.curve, load, lifted=self.heaviest)
            check_reps(reps.value, "load")
            check_span(self.curve, self.exercise, round(2 * reps.value) / 2)
        else:
            reps = estimates.estimate_reps(self.relation, self.exercise, self.done, load, lifted=self.heaviest)
        return reps.raised(most_with(self.sets, load))

    def maxima_by_relation(self) -> dict[str, float]:
        """Maximum by each relation that covers the set: at least what was lifted [kg]."""
        maxima = {}
        for relation in shown_for(self.exercise):
            try:
                top = maximum(relation, self.done.load, self.done.failure)
            except Refusal:
                continue
            maxima[relation.id] = max(top, self.heaviest)
        return maxima

    def loads_by_relation(self, reps: float) -> list[RelationEstimate]:
        """The load for some repetitions by each relation that covers them and the set.

        Args:
            reps: repetitions to failure [count]
        """
        target_shares, lifted = shares_at(self.exercise, reps), heaviest_for(self.sets, reps)
        rows = []
        for relation, share in shares_at(self.exercise, self.done.failure).items():
            if relation in target_shares:
                top = max(self.done.load / share, self.heaviest)
                rows.append(RelationEstimate(relation, top, max(top * target_shares[relation], lifted)))
        return rows

    def reps_by_relation(self, load: float) -> list[RelationEstimate]:
        """Repetitions to failure at a load by each relation that covers it and the set.

        Args:
            load: the body included where it is lifted [kg]
        """
        done_with_it = most_with(self.sets, load)
        rows = []
        for relation, share in shares_at(self.exercise, self.done.failure).items():
            top = max(self.done.load / share, self.heaviest)
            try:
                reps = reps_at_share(RELATIONS[relation], load / top)
            except Refusal:
                continue
            rows.append(RelationEstimate(relation, top, max(done_with_it, reps)))
        return rows
