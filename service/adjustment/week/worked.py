"""A changed week worked out in full: what was lost given back, what it asks of every region, what each muscle gets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.exposure import Spread
from service.adjustment.week.lifts import Asked, PlannedLift
from service.adjustment.week.muscles import is_under, trained_sets
from service.adjustment.week.problem import WeekCase, asking
from service.adjustment.week.restoring import Restored, restored
from service.adjustment.week.uncertain import UNCHANGED, Measure, ratios, uncertain_ratios
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.mechanics.uncertainty.intervals import Changes, combined
from service.mechanics.uncertainty.propagation import Variant
from service.vocabulary import REGIONS as SORE_REGIONS
from service.vocabulary import WEIGHTINGS, Region, Weighting

Relief = Literal["sure", "mixed", "of_computed", "by_direction", "spacing"]
_LEAST_FALL: Final = CHOICES.week.least_fall
_CLEARLY_MORE: Final = CHOICES.adjustments.elsewhere_rise


class MuscleChange(Struct, frozen=True):
    """Fractional sets a week of a muscle, direct and indirect ones.

    Attributes:
        before: now [count]
        after: in the new week [count]
        floor: below which it is taken to get too little [count], None of a muscle that the present week does not train
    """

    before: float
    after: float
    floor: float | None

    @property
    def under_floor(self) -> bool:
        """Whether the new week gives it too little."""
        return self.floor is not None and is_under(self.after, self.floor)


class NewWeek(Struct, frozen=True):
    """A new week and what comes of it.

    Attributes:
        changes: of the lifts by themselves, at most one of each
        week: its lifts, those that are new last
        asked: what a repetition of each asks of every region, where that is computed
        back: the same with what was lost given back, and what was not
        new_days: new day by place of the lifts that are moved [days]
        sore: what it asks of the sore region against now, as far as that is computed [1]
        not_computed: places of lifts that load it by a moment that is not known [count]
    """

    changes: tuple[Alternative, ...]
    week: Sequence[PlannedLift]
    asked: Sequence[Mapping[str, Asked]]
    back: Restored
    new_days: Mapping[int, int]
    sore: Mapping[Measure, Interval]
    not_computed: tuple[int, ...]

    @property
    def left_out(self) -> list[int]:
        """Places of lifts that are not done: they have no sets [count]."""
        return [entry for entry, one in enumerate(self.week) if not one.prescription.sets]

    @property
    def falls(self) -> list[Weighting]:
        """The weightings under which it surely asks less of the sore region: its whole interval is noticeably below."""
        return [weighting for weighting in WEIGHTINGS if self.sore[weighting].high < 1.0 - _LEAST_FALL]

    @property
    def relief(self) -> Relief:
        """Sure where all of it falls under every weighting, of the computed lifts where others load the region too.

        Mixed where not every weighting falls; by direction where nothing that is computed changes. Days further apart
        ask for no less.
        """
        if self.new_days:
            return "spacing"
        if all(abs(one.value - 1.0) <= RATIO_TOLERANCE for one in self.sore.values()):
            return "by_direction"
        if len(self.falls) < len(WEIGHTINGS):
            return "mixed"
        return "of_computed" if self.not_computed else "sure"


def worked(case: WeekCase, changes: tuple[Alternative, ...], left_out: frozenset[int] = frozenset()) -> NewWeek | None:
    """A week with lifts changed and what was lost given back; None where a sore or spared region is asked for more.

    Args:
        case: the week as it is now
        changes: at most one of each lift
        left_out: places of lifts that are not done, which have no sets then [count]

    Raises:
        Refusal: for a posture that cannot be had
    """
    instead = {entry: one for one in changes for entry in one.entries}
    changed = [
        replace(one, prescription=instead[entry].prescription) if entry in instead else one
        for entry, one in enumerate(case.week)
    ]
    for entry in left_out:
        changed[entry] = replace(changed[entry], prescription=replace(changed[entry].prescription, sets=0))
    back = restored(case, changed, case.week[changes[0].entries[0]].day)
    asked = [
        _asked_instead(case, entry, instead[entry]) if entry in instead else of_lift
        for entry, of_lift in enumerate(case.asked)
    ]
    asked += [case.asked_of(back.week[entry].prescription) for entry in back.added]
    if any(_rises(case, back.week, asked, region) for region in case.avoided):
        return None
    sore = _against_now(case, back.week, asked, case.region)
    return NewWeek(changes, back.week, asked, back, {}, sore, _unknown(case, back.week, asked))


def respaced(case: WeekCase, week: Sequence[PlannedLift], new_days: Mapping[int, int]) -> NewWeek:
    """The same week on other days, which asks every region for what it asks now.

    Args:
        case: the week as it is now
        week: on its new days
        new_days: by place of the lifts that are moved [days]
    """
    nothing = Restored(list(week), {}, [], {}, [], [])
    return NewWeek((), week, case.asked, nothing, new_days, UNCHANGED, case.not_computed)


def demand(case: WeekCase, new: NewWeek) -> dict[Region, Mapping[Measure, Interval]]:
    """What the new week asks of each region against now, where that is computed and now is not nothing [1]."""
    return {
        region: new.sore if region == case.region else _against_now(case, new.week, new.asked, region)
        for region in SORE_REGIONS
        if (region == case.region or not REGIONS[region].finer) and asking(case.parts_of(region))
    }


def raised(sore: Region, demand: Mapping[Region, Mapping[Measure, Interval]]) -> dict[Region, Weighting]:
    """The other regions of which a week asks noticeably more, each with the weighting under which it rises most.

    Noticeably: clearly more by central values, or surely more under some weighting, with its whole interval.

    Args:
        sore: region that is sore
        demand: what the week asks of each region against now [1]
    """
    return {
        region: max(WEIGHTINGS, key=lambda weighting: ratios[weighting].value)
        for region, ratios in demand.items()
        if region != sore
        and any(
            ratios[one].value > _CLEARLY_MORE or ratios[one].low > 1.0 + CHOICES.week.least_rise for one in WEIGHTINGS
        )
    }


def raised_elsewhere(case: WeekCase, new: NewWeek) -> int:
    """Other regions than the sore one of which a week asks clearly more [count].

    By central values. What a repetition of a changed lift asks for more is a fault of its own already.
    """
    both = [
        (asking(case.parts_in(new.week, new.asked, region)), now)
        for region in SORE_REGIONS
        if region != case.region and not REGIONS[region].finer and (now := asking(case.parts_of(region)))
    ]
    against_now = (ratios(*weeks) for weeks in both)
    return sum(any(found[weighting] > _CLEARLY_MORE for weighting in WEIGHTINGS) for found in against_now)


def muscles(case: WeekCase, new: NewWeek) -> dict[str, MuscleChange]:
    """The muscles whose sets change or are restored, in the order in which the present week trains them."""
    before, after = case.sets, trained_sets(one.prescription for one in new.week)
    changes = {
        muscle: MuscleChange(before.get(muscle, 0.0), after.get(muscle, 0.0), case.floors_of_aim.get(muscle))
        for muscle in dict.fromkeys((*before, *after))
    }
    restored_ones = new.back.restores.values()
    return {
        muscle: one
        for muscle, one in changes.items()
        if abs(one.after - one.before) > RATIO_TOLERANCE or muscle in restored_ones
    }


def _unknown(case: WeekCase, week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]]) -> tuple[int, ...]:
    """Places of lifts of a new week that load the sore region by a moment that is not known [count]."""
    parts = case.parts_in(week, asked, case.region)
    return tuple(
        entry
        for entry, (one, part) in enumerate(zip(week, parts, strict=True))
        if part is None and one.prescription.sets and case.region in EXERCISES[one.prescription.exercise].regions
    )


def _asked_instead(case: WeekCase, entry: int, change: Alternative) -> dict[str, Asked]:
    """What a changed lift asks: by the ratios of its own search, where it has them, for they know of the strength."""
    alone, now = case.asked_of(change.prescription), case.asked[entry]
    effects = change.candidate.effects
    asked, own = dict(alone), EXERCISES[change.prescription.exercise].regions
    for region, before in now.items():
        name = case.region if REGIONS[case.region].whole == region and case.region in effects else region
        effect = effects.get(name)
        if effect is None or effect.searched is None:
            if effect is not None and name in own and effect.direction == "lower" and region not in alone:
                asked[region] = before  # by how much less nobody can say: at the most what it asks now
            continue
        moment = effect.searched * before.moment
        if region in alone and alone[region].moment > 0.0:
            asked[region] = _scaled(alone[region], moment / alone[region].moment)
        elif region not in alone:
            asked[region] = _scaled(before, effect.searched)
    return asked


def _scaled(one: Asked, factor: float) -> Asked:
    if abs(factor - 1.0) < RATIO_TOLERANCE:
        return one

    def spread() -> tuple[Changes, Variant]:
        return combined((one.spread.changes, factor)), one.spread.variant

    return Asked(factor * one.moment, Spread(spread))


def _against_now(
    case: WeekCase, week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: Region
) -> Mapping[Measure, Interval]:
    return uncertain_ratios(asking(case.parts_in(week, asked, region)), asking(case.parts_of(region)))


def _rises(case: WeekCase, week: Sequence[PlannedLift], asked: Sequence[Mapping[str, Asked]], region: Region) -> bool:
    """Whether a region is asked for more under some weighting, or by more repetitions that are not computed.

    Of a lift that stays the same one its search by itself says that it asks less of the sore region.
    """
    after, before = case.parts_in(week, asked, region), case.parts_of(region)
    same = [one.prescription.exercise == now.prescription.exercise for one, now in zip(week, case.week, strict=False)]
    eased = {entry for entry, is_same in enumerate(same) if is_same} if region == case.region else set[int]()
    if _not_computed(week, after, region, eased) > _not_computed(case.week, before, region, eased) + RATIO_TOLERANCE:
        return True
    now = asking(before)
    if not now:
        return bool(asking(after))
    return any(ratio > 1.0 + RATIO_TOLERANCE for ratio in ratios(asking(after), now).values())


def _not_computed(
    week: Sequence[PlannedLift], parts: Sequence[object | None], region: Region, besides: set[int]
) -> float:
    return sum(
        one.prescription.reps_a_session
        for entry, (one, part) in enumerate(zip(week, parts, strict=True))
        if part is None and entry not in besides and region in EXERCISES[one.prescription.exercise].regions
    )
