"""A week that hurts, as its search sees it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

from service.adjustment.consultation import Case
from service.adjustment.prescription import Prescription
from service.adjustment.week.exposure import Contribution, exposure
from service.adjustment.week.lifts import Asked, PlannedLift, asked_of_regions, contribution, contributions
from service.adjustment.week.muscles import floor_of, trained_sets
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import Body
from service.vocabulary import WEIGHTINGS, Aim, Implement, Region, Training, Weighting


class WeekCase(Struct, frozen=True, dict=True):
    """The week, the sore region, and what may be changed.

    Attributes:
        body: the lifter
        week: its lifts as they are now
        asked: what a repetition of each asks of every region, where that is computed
        region: region that is sore
        target: part of its present size to which the region's week is to be brought [1]
        weighting: under which the target is meant
        aim: what the lifter trains for
        training: how long the lifter has trained
        staying: places in the week of lifts that must stay as they are [count]
        single: the consultation of one lift by itself, by its place in the week and the part to which its region is to
            be brought; raises Refusal as the consultation of one prescription does
        lightest: the lightest load with which a lift of the gym can be done [kg] and what it is lifted with, None for a
            lift that may or can not be added
        hurts: places of the lifts that hurt [count]
        spare: regions that may be asked for no more than now, further sore ones among them
        only_less: whether nothing may be added and no day moved, for it hurts too much
        training_days: days of the week to which lifts may be moved, none where they stay on theirs [days]
        days_named: whether the lifter named those days, so that one of them may become a new training day
    """

    body: Body
    week: Sequence[PlannedLift]
    asked: Sequence[Mapping[str, Asked]]
    region: Region
    target: float
    weighting: Weighting
    aim: Aim
    training: Training
    staying: frozenset[int]
    single: Callable[[int, float], Case]
    lightest: Callable[[str], tuple[float, Implement | None] | None]
    hurts: frozenset[int] = frozenset()
    spare: frozenset[Region] = frozenset()
    only_less: bool = False
    training_days: frozenset[int] = frozenset(range(1, 8))
    days_named: bool = False

    @property
    def avoided(self) -> frozenset[Region]:
        """Regions that nothing new in the week may load."""
        return self.spare | {self.region}

    @property
    def parts(self) -> list[Contribution | None]:
        """What each lift asks of the sore region now, None of those whose moment there is not known."""
        return self.parts_of(self.region)

    def parts_of(self, region: Region) -> list[Contribution | None]:
        """What each lift asks of a region now, None of those whose moment there is not known."""
        if region not in self._parts:
            self._parts[region] = contributions(self.week, self.asked, region)
        return self._parts[region]

    def parts_in(
        self, week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: Region
    ) -> list[Contribution | None]:
        """What each lift of a new week asks of a region: the very same parts of those that stay as they are.

        Args:
            week: lifts of the new week, in the places of the present one, those that are new last
            asked: what a repetition of each asks of every region, where that is computed
            region: region whose exposure it is
        """
        now = self.parts_of(region)

        def part(entry: int) -> Contribution | None:
            one, its = week[entry], asked[entry]
            stays = entry < len(now) and one is self.week[entry] and its is self.asked[entry]
            return now[entry] if stays else contribution(one, its, region)

        return list(map(part, range(len(week))))

    @cached_property
    def loading(self) -> frozenset[int]:
        """Places of the lifts that load the sore region by the catalogue, whether or not that is computed [count]."""
        return frozenset(
            entry for entry, one in enumerate(self.week) if self.region in EXERCISES[one.prescription.exercise].regions
        )

    @cached_property
    def not_computed(self) -> tuple[int, ...]:
        """Places of those whose moment there is not known: they are in no sum [count]."""
        return tuple(entry for entry in sorted(self.loading) if self.parts[entry] is None)

    def now(self) -> list[Contribution]:
        """What the lifts ask of the sore region now, those that are known to ask something of it."""
        return asking(self.parts)

    @cached_property
    def sums(self) -> dict[Weighting, float]:
        """What the week asks of the sore region now, by weighting [(N·m)^p]."""
        return {weighting: exposure(self.now(), weighting) for weighting in WEIGHTINGS}

    @cached_property
    def sets(self) -> dict[str, float]:
        """Fractional sets of the week by muscle, direct and indirect ones [count]."""
        return trained_sets(one.prescription for one in self.week)

    @cached_property
    def floors_of_aim(self) -> dict[str, float]:
        """The floor of the aim of every muscle that the week trains, by muscle: fractional sets a week [count]."""
        return {muscle: floor_of(self.aim, self.training, sets) for muscle, sets in self.sets.items()}

    @cached_property
    def floors(self) -> dict[str, float]:
        """The same as far as the week has it now: below this what is lost is given back [count]."""
        return {muscle: min(self.sets[muscle], floor) for muscle, floor in self.floors_of_aim.items()}

    @cached_property
    def _parts(self) -> dict[Region, list[Contribution | None]]:
        return {}

    @cached_property
    def _asked_of(self) -> dict[Prescription, dict[str, Asked]]:
        return {}

    def asked_of(self, prescription: Prescription) -> dict[str, Asked]:
        """What a prescription of this lifter asks of regions, worked out once; raises as asked_of_regions does."""
        if prescription not in self._asked_of:
            self._asked_of[prescription] = asked_of_regions(self.body, prescription)
        return self._asked_of[prescription]


def asking(parts: Sequence[Contribution | None]) -> list[Contribution]:
    """The contributions that are known and ask something."""
    return [one for one in parts if one is not None and one.moment > 0.0 and one.repetitions > 0.0]
