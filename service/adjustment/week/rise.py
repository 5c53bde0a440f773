"""What a step of one lift adds to the whole week of a sore region, which bounds it beside what the lift asks alone.

The other lifts of the week stay as they are. Which weighting tells of pain is not known: a step is held to the plain
sum of the moments and to the one of their tenth powers, the two ends of what cumulated loads were compared by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.maximum import maximum_of
from service.adjustment.prescription import Prescription
from service.adjustment.week.exposure import POWERS, Contribution, exposure
from service.adjustment.week.lifts import Asked, PlannedLift, asked_of_regions, contributions
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import Body
from service.mechanics.setups import Maximum
from service.vocabulary import Region, Weighting

BOUNDED: Final[tuple[Weighting, ...]] = ("linear", "tenth_power")
"""The weightings under which a week is held to its bound."""


class Leading(Struct, frozen=True):
    """The lift that carries most of a region's week.

    Attributes:
        exercise: id
        weighting: under which it does
        share: of the week [1]
    """

    exercise: str
    weighting: Weighting
    share: float


class WeekRatio(Struct, frozen=True):
    """A week with a step against the same week without it, on the scale of a moment.

    Attributes:
        linear: of the plain sums [1]
        tenth_power: of the tenth roots of the sums of tenth powers [1]
        leading: the lift that carries most of the week with the step, under the weighting that rises more
    """

    linear: float
    tenth_power: float
    leading: Leading

    @property
    def largest(self) -> float:
        """The larger of the two [1]."""
        return max(self.linear, self.tenth_power)

    def is_above(self, step: float) -> bool:
        """Whether one of them rises by more than the step.

        Args:
            step: most that the week may rise [1]
        """
        return self.largest > 1.0 + step + RATIO_TOLERANCE


class WeekAround(Struct, frozen=True):
    """The week of which one lift is changed.

    Attributes:
        body: the lifter
        region: region that is sore
        listed: days of the week on which the lift stands, 0 where it is beside them [count]
        others: exercises of the other lifts whose moment is known, in the order of parts
        parts: what these ask of the region
        left_out: exercises of other lifts that load the region by a moment that is not computed
        otherwise: exercises that stand in the week for the lift itself, though not as it is done now
        maximum: of the lift, for every step in its exercise: what these leave in reserve is expected, and tells none
    """

    body: Body
    region: Region
    listed: int
    others: tuple[str, ...]
    parts: tuple[Contribution, ...]
    left_out: tuple[str, ...]
    otherwise: tuple[str, ...]
    maximum: Maximum | None = None

    @property
    def days(self) -> int:
        """Days on which the lift is done where its prescription does not say it [count]."""
        return max(1, self.listed)

    def moment(self, prescription: Prescription) -> float | None:
        """What a repetition of the lift asks of the region [N·m], None where it is not computed or cannot be had."""
        entry = REGIONS[self.region]
        if entry.finer and self.region not in EXERCISES[prescription.exercise].regions:
            return None
        is_its = self.maximum is not None and self.maximum.exercise == prescription.posture
        try:
            known = asked_of_regions(self.body, prescription, self.maximum if is_its else None).get(entry.whole)
        except Refusal:
            return None
        return None if known is None else max(0.0, known.moment)

    def sizes(self, prescription: Prescription, moment: float) -> dict[Weighting, float]:
        """What the week asks of the region with a prescription, by weighting.

        Args:
            prescription: of the lift
            moment: of a repetition of it [N·m]

        Returns:
            on the scale of a moment, as `exposure.size` has it [N·m]
        """
        return {
            weighting: (exposure(self.parts, weighting) + _asked(prescription, moment, self.days, weighting))
            ** (1.0 / POWERS[weighting])
            for weighting in BOUNDED
        }

    def change(self, before: Prescription, after: Prescription) -> WeekRatio | None:
        """The week with one prescription of the lift against the week with another, as `ratio` has it."""
        return self.ratio(before, after, self.moment(before), self.moment(after))

    def ratio(
        self, before: Prescription, after: Prescription, was: float | None, will: float | None
    ) -> WeekRatio | None:
        """The week with one prescription of the lift against the week with another.

        Args:
            before: what is done now
            after: what would be done
            was: moment of a repetition now [N·m], None where it is not known
            will: the same then [N·m]

        Returns:
            None where one of the two is not known, or nothing is asked now or then.
        """
        if was is None or will is None:
            return None
        old, new = self.sizes(before, was), self.sizes(after, will)
        if not all(old.values()) or not all(new.values()):
            return None
        linear, tenth = (new[weighting] / old[weighting] for weighting in BOUNDED)
        return WeekRatio(linear, tenth, self._leading(after, will, "tenth_power" if tenth > linear else "linear"))

    def _leading(self, prescription: Prescription, moment: float, weighting: Weighting) -> Leading:
        lifts = {prescription.exercise: _asked(prescription, moment, self.days, weighting)}
        for exercise, one in zip(self.others, self.parts, strict=True):
            lifts[exercise] = lifts.get(exercise, 0.0) + exposure([one], weighting)
        first = max(lifts, key=lifts.__getitem__)
        return Leading(first, weighting, lifts[first] / sum(lifts.values()))


def _asked(prescription: Prescription, moment: float, days: int, weighting: Weighting) -> float:
    """What a lift asks in the week [(N·m)^power], on so many days where it does not say it."""
    return repetitions_of(prescription) * (prescription.days or days) * moment ** POWERS[weighting]


def repetitions_of(prescription: Prescription) -> float:
    """Repetitions of a session [count]; a hold counts as the repetitions that take as long, as on a way back."""
    each = 1.0 if prescription.hold is None else prescription.hold / CHOICES.return_plan.rep_seconds
    return prescription.reps_a_session * each


def week_around(
    body: Body,
    region: Region,
    week: Sequence[PlannedLift],
    asked: Sequence[Mapping[str, Asked]],
    own: Sequence[Prescription],
) -> WeekAround:
    """The week around one lift.

    Args:
        body: the lifter
        region: region that is sore
        week: lifts of the week, the one that is changed among them or not
        asked: what a repetition of each asks of every region, where that is computed
        own: what is done in the lift that is changed, and what stood or is to stand in its place: its own days; the
            first one's set tells the maximum
    """
    done = [one.prescription for one in week]
    days = [entry for entry, one in enumerate(done) if any(_lifted(one) == _lifted(other) for other in own)]
    otherwise: list[int] = []
    if not days:  # a week that was not kept up to date: the lift counted twice would make every bound looser
        own_exercises = {other.exercise for other in own}
        days = otherwise = [entry for entry, one in enumerate(done) if one.exercise in own_exercises]
    kept = [entry for entry in range(len(week)) if entry not in days]
    parts = contributions(week, asked, region)
    known = [(done[entry], one) for entry in kept if (one := parts[entry]) is not None and one.moment > 0]
    unknown = [done[entry].exercise for entry in kept if parts[entry] is None]
    return WeekAround(
        body,
        region,
        len(days),
        tuple(prescription.exercise for prescription, _ in known),
        tuple(replace(one, repetitions=repetitions_of(prescription)) for prescription, one in known),
        tuple(dict.fromkeys(exercise for exercise in unknown if region in EXERCISES[exercise].regions)),
        tuple(dict.fromkeys(done[entry].exercise for entry in otherwise)),
        maximum_of(own[0]) if own else None,
    )


def _lifted(prescription: Prescription) -> Prescription:
    """What is lifted, by which a lift is known in a week, whatever its pace and effort."""
    return replace(prescription, days=None, reserve=None, rest=None, tempo=None, cues=())
