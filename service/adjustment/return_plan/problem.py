"""The way back as the search sees it: where it starts and ends, and what is allowed on it."""

from __future__ import annotations

from math import inf
from typing import Final

import msgspec

from service.adjustment.evaluation import tempo_factor
from service.adjustment.loads import Rounding
from service.adjustment.prescription import Prescription, body_moved, total_load
from service.adjustment.present import Present
from service.adjustment.week.rise import WeekAround
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import ratio_between
from service.training.depth_strength import strength_at_depth
from service.training.load_repetition import person_curve
from service.training.repetition_tables import Curve
from service.vocabulary import KeptForGood, Region

GOOD_SESSIONS: Final = CHOICES.review.good_sessions
LARGEST_STEP: Final = 0.50
"""Of the original's demand a week: more would be no staircase."""
TOLERANCE: Final = 1e-9
"""Of two numbers: what is less than this between them comes from rounding."""


class ReturnCase(msgspec.Struct, frozen=True):
    """A return.

    Attributes:
        present: the original prescription with its demand, against which every demand is stated
        adjusted: the prescription from which the way starts
        region: region that is sore
        step: rise from step to step that is wished for, of the original's demand [1]
        weeks_off: time without training before the return [weeks]
        round_down: heaviest load that an exercise's implement can hold, not above a load [kg], None where there is none
        tolerated: load of the original lift that is known to be tolerated [kg], None where none is known
        week: of which the lift is a part, None where only the lift itself bounds a step
        kept: what of the adjusted prescription is kept for good: the original has it here too
        days: days of the week on which the lift is done where a prescription on the way does not say it [count], None
            where they are not known
    """

    present: Present
    adjusted: Prescription
    region: Region
    step: float
    weeks_off: float
    round_down: Rounding
    tolerated: float | None = None
    week: WeekAround | None = None
    kept: tuple[KeptForGood, ...] = ()
    days: int | None = None

    @property
    def original(self) -> Prescription:
        """The prescription at which the way ends."""
        return self.present.prescription

    @property
    def body_mass(self) -> float:
        """Body mass of the lifter [kg]."""
        return self.present.body.mass

    @property
    def curve(self) -> Curve:
        """Repetitions to failure by share of the maximum, for the original lift."""
        return person_curve(self.original.exercise, 0)

    @property
    def least_reserve(self) -> float:
        """Repetitions that must be left on the way [count]: those of the prescription that is nearer to failure."""
        return min(self.original.counted_reserve, self.adjusted.counted_reserve)


def weeks_at(days: int | None) -> int:
    """Time that a step takes at the least: its gate's sessions must be done.

    Args:
        days: training days a week [count]

    Returns:
        The time [weeks].
    """
    return 1 if days is None else -(-GOOD_SESSIONS // days)


def maximum(case: ReturnCase, lift: Prescription) -> float:
    """One-repetition maximum, the body included where it is lifted [kg], in a lift as it is done on the way.

    From the original's sets by the published ratio of the lifts or of the depths; what the adjusted sets show counts
    where it is more, or where no ratio is published. Without a load and without a ratio nothing bounds it.
    """
    original = case.original
    known = total_load(original, case.body_mass) / _share(case, original)
    own = total_load(case.adjusted, case.body_mass) / _share(case, case.adjusted)
    if lift.exercise != original.exercise:
        ratio = ratio_between(original.exercise, lift.exercise)
        return (own or inf) if ratio is None else max(own, known * ratio.ratio)
    here, there = _strength(original), _strength(lift)
    if here is not None and there is not None:
        known *= max(1.0, there / here)
    return max(own, known) if lift is case.adjusted else known


def _strength(lift: Prescription) -> float | None:
    """Maximum at a stated depth over that at a level thigh [1], where it was measured."""
    if lift.depth is None:
        return 1.0
    if lift.depth.thigh_below_horizontal is None:
        return None
    measured = strength_at_depth(lift.exercise, lift.depth.thigh_below_horizontal)
    return None if measured is None else measured.value


def _share(case: ReturnCase, prescription: Prescription) -> float:
    """Share of the maximum that a set's repetitions and reserve stand for [1], at its tempo."""
    return case.curve.share_at(
        (prescription.reps.high + prescription.counted_reserve) / tempo_factor(case.original, prescription)
    )


def heaviest_for_effort(case: ReturnCase, most: float, reps_high: int, slowed: float) -> float:
    """The load, body included, at which the least reserve is left [kg].

    Args:
        case: the return
        most: maximum in the lift, body included [kg]
        reps_high: repetitions of a set [count]
        slowed: share of the repetitions to failure that the tempo leaves [1]
    """
    return most * case.curve.share_at((reps_high + case.least_reserve) / slowed)


def share_of_maximum(case: ReturnCase, most: float, prescription: Prescription) -> float:
    """Share of the maximum in a lift that a load is; where no maximum is known what the adjusted sets stand for.

    Args:
        case: the return
        most: maximum in the lift, body included [kg]
        prescription: what is done

    Returns:
        The share [1].
    """
    total = total_load(prescription, case.body_mass)
    return total / most if 0 < most < inf else _share(case, case.adjusted)


def expected_reserve(case: ReturnCase, most: float, prescription: Prescription) -> float:
    """Repetitions expected to be left after the top of the range; at light loads what the range ends with.

    Args:
        case: the return
        most: maximum in the lift, body included [kg]
        prescription: what is done

    Returns:
        The repetitions [count].
    """
    to_failure = case.curve.reps_at(share_of_maximum(case, most, prescription))
    return max(0.0, to_failure * tempo_factor(case.original, prescription) - prescription.reps.high)


def load_of_first_test(case: ReturnCase, most: float, prescription: Prescription, lost: float) -> float:
    """Load of a set that is easy enough for a first test after a break, in the adjusted lift.

    Args:
        case: the return
        most: maximum in the lift before the break, body included [kg]
        prescription: what would be done
        lost: share of the maximum that was lost [1]

    Returns:
        The load [kg], not above the prescribed one.
    """
    body = body_moved(prescription.exercise, case.body_mass)
    share = case.curve.share_at(
        (prescription.reps.high + CHOICES.effort.hard_set_reserve) / tempo_factor(case.original, prescription)
    )
    easy = (1 - lost) * (most * share if most < inf else prescription.load + body)
    return min(prescription.load, easy - body)


def first_exposure(case: ReturnCase, load: float) -> float | None:
    """Load at which the original lift is taken up again after the adjusted one, by the published ratio of the two.

    Args:
        case: the return
        load: load of the lift before it [kg]

    Returns:
        The load [kg], None where no ratio is published.
    """
    ratio = ratio_between(case.adjusted.exercise, case.original.exercise)
    if ratio is None:
        return None
    before = load + body_moved(case.adjusted.exercise, case.body_mass)
    after = body_moved(case.original.exercise, case.body_mass)
    whole = case.original.load + after
    return CHOICES.return_plan.first_exposure_margin * min(whole, before * ratio.ratio) - after


def share_of_original(case: ReturnCase, share: float) -> float:
    """Load in the original lift that is a share of what is moved in it.

    Args:
        case: the return
        share: of load and body, where it is lifted [1]

    Returns:
        The load [kg].
    """
    body = body_moved(case.original.exercise, case.body_mass)
    return share * (case.original.load + body) - body
