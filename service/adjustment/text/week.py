"""A new week in messages that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator

from service.adjustment.options.ranking import unloads
from service.adjustment.text.option import option_words
from service.adjustment.text.prescription import prescription_words
from service.adjustment.triage import Judgement
from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.exposure import shares
from service.adjustment.week.lifts import contributions
from service.adjustment.week.muscles import trained_sets
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.regions import region_of_week
from service.adjustment.week.restoring import floors
from service.adjustment.week.worked import NewWeek
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import MassUnit
from service.vocabulary import WEIGHTINGS, Weighting


def stop_today(judgement: Judgement) -> list[Message]:
    """Pain in the red tier: what hurts stops for today, and what is left of it from the next session on."""
    felt = {"pain": judgement.pain, "moment": judgement.moment}
    return [
        message("week_stop_today", **felt, limit=CHOICES.adjustments.amber_up_to),
        message("week_from_next_session"),
    ]


def aimed_at(case: WeekCase) -> list[Message]:
    """What the region's week is to come to, and which lifts lead in it; why nothing can be said where none is computed."""
    if not case.now():
        return [message("week_not_computed", region=case.region)]
    return [
        message("week_first_step", region=case.region, target=case.target, weighting=case.weighting),
        *_led_by(case),
    ]


def _led_by(case: WeekCase) -> list[Message]:
    led = {weighting: _largest(case, weighting) for weighting in WEIGHTINGS}
    exercises = {weighting: case.week[entry].prescription.exercise for weighting, entry in led.items()}
    if len(set(exercises.values())) == 1:
        return [message("week_led_by", region=case.region, exercise=exercises["linear"])]
    return [
        message(
            "week_led_by_either",
            region=case.region,
            exercise=exercises["linear"],
            heaviest=exercises["tenth_power"],
        )
    ]


def _largest(case: WeekCase, weighting: Weighting) -> int:
    """Place of the lift with the largest part of the week, the same lift on several days counted together."""
    known = [(entry, one) for entry, one in enumerate(contributions(case.week, case.asked, case.region)) if one]
    parts = shares([one for _, one in known], weighting)
    together: dict[str, float] = {}
    for (entry, _), part in zip(known, parts, strict=True):
        exercise = case.week[entry].prescription.exercise
        together[exercise] = together.get(exercise, 0.0) + part
    first = max(together, key=lambda exercise: together[exercise])
    return next(entry for entry, _ in known if case.week[entry].prescription.exercise == first)


def what_then(case: WeekCase, options: int) -> list[Message]:
    """What to do with the options, or what helps where there is none.

    Args:
        case: the week
        options: that are offered [count]
    """
    if options:
        return [message("one_week_at_a_time")]
    if not case.now():
        return [message("ask_of_one_lift", region=case.region)]
    if case.only_less:
        return [message("nothing_sure_of_the_week", limit=CHOICES.adjustments.amber_up_to, region=case.region)]
    return [message("nothing_brings_the_week_there", region=case.region)]


def words_of_change(case: WeekCase, change: Alternative, unit: MassUnit) -> str:
    """A lift that is changed as a coach would say it."""
    days = [case.week[entry].day for entry in change.entries]
    return message("week_lift", days=days, prescription=option_words(change.outcome, change.outcome.case, unit)).text


def words_of_lift(new: NewWeek, entry: int, unit: MassUnit) -> str:
    """A lift of the new week in words.

    Args:
        new: the week
        entry: place of the lift [count]
        unit: of its load
    """
    one = new.week[entry]
    return message("week_lift", days=[one.day], prescription=prescription_words(one.prescription, unit)).text


def reasons(case: WeekCase, new: NewWeek) -> list[Message]:
    """What is changed and why this lift, what it takes off and which weightings disagree, what it costs and restores."""
    return (
        [*_moved(case, new)]
        if new.new_days
        else [*_what(case, new), *_relief(case, new), *_cost(new), *_restored(case, new)]
    )


def _what(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    parts = contributions(case.week, case.asked, case.region)
    known = [(entry, one) for entry, one in enumerate(parts) if one is not None and one.moment > 0.0]
    by_weighting = {weighting: shares([one for _, one in known], weighting) for weighting in WEIGHTINGS}
    for change in new.changes:
        own = [
            sum(
                part for (entry, _), part in zip(known, by_weighting[weighting], strict=True) if entry in change.entries
            )
            for weighting in WEIGHTINGS
        ]
        yield message(
            "week_why_this_lift",
            exercise=case.week[change.entries[0]].prescription.exercise,
            region=case.region,
            least=min(own),
            most=max(own),
        )
        if case.hurts and case.hurts.isdisjoint(change.entries):
            hurting = [case.week[entry].prescription.exercise for entry in sorted(case.hurts)]
            yield message("week_not_the_one_that_hurts", exercises=list(dict.fromkeys(hurting)))


def _relief(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    values = {f"by_{weighting}": new.sore[weighting].value for weighting in WEIGHTINGS}
    yield message("week_comes_to", region=case.region, **values)
    still = [weighting for weighting in WEIGHTINGS if weighting not in new.falls]
    yield message("week_relief_sure") if not still else message("week_relief_mixed", weightings=still)


def _cost(new: NewWeek) -> Iterator[Message]:
    for change in new.changes:
        kept, exercise = change.candidate.stimulus.kept.value, change.prescription.exercise
        if unloads(change.candidate):
            yield message("week_unloads", exercise=exercise)
        elif kept < 1.0:
            yield message("week_keeps", exercise=exercise, kept=kept)


def _restored(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    for entry, sets in new.more_sets.items():
        yield message(
            "week_more_sets", exercise=new.week[entry].prescription.exercise, sets=sets, day=new.week[entry].day
        )
    for entry in new.added:
        one = new.week[entry]
        yield message(
            "week_added",
            exercise=one.prescription.exercise,
            sets=one.prescription.sets,
            day=one.day,
            reserve=CHOICES.adjustments.untested_reserve,
        )
    counted, floor = trained_sets(one.prescription for one in new.week), floors(case)
    code = "week_left_short" if case.only_less else "week_stays_short"
    for muscle in new.short:
        yield message(code, muscle=muscle, sets=counted.get(muscle, 0.0), floor=floor[muscle])


def _moved(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    before, after = (region_of_week(week, case.asked, case.region) for week in (case.week, new.week))
    entry, day = next(iter(new.new_days.items()))
    exercises = list(dict.fromkeys(case.week[one].prescription.exercise for one in new.new_days))
    yield message("week_moved", exercises=exercises, day=case.week[entry].day, to=day)
    yield message("week_apart", region=case.region, gap=before.gap, least=after.least_gap)
    yield message("week_asks_the_same")
