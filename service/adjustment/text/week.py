"""A new week in messages that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.options.faults import unloads
from service.adjustment.text.option import option_words
from service.adjustment.text.prescription import prescription_words
from service.adjustment.triage import Judgement, Pain
from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.exposure import shares, shortest_gap
from service.adjustment.week.lifts import contributions
from service.adjustment.week.muscles import trained_sets
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.regions import heavy_days, least_gap_of
from service.adjustment.week.restoring import floors
from service.adjustment.week.worked import NewWeek
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import MassUnit
from service.vocabulary import WEIGHTINGS, Weighting

_PERCENT: Final = 2
"""Decimals of a share that is said in percent."""


def goes_by(pain: Pain, judgement: Judgement) -> list[Message]:
    """The score or the rise that the week is changed by, and in the red tier what stops for today and what is left of it.

    Nothing where the pain in the session decides, which is said before.
    """
    limits, red = CHOICES.adjustments, judgement.tier == "red"
    rise = {"pain": judgement.pain, "rise": pain.morning_rise}
    felt = {"pain": judgement.pain, "moment": judgement.moment}
    if judgement.rule == "morning_rise":
        cause = [message("week_stop_today_by_rise" if red else "week_by_rise", **rise, limit=limits.green_up_to)]
    elif red:
        cause = [message("week_stop_today", **felt, limit=limits.amber_up_to)]
    else:
        cause = [] if judgement.moment == "in_session" else [message("week_by_pain", **felt, limit=limits.green_up_to)]
    return [*cause, message("week_from_next_session")] if red else cause


def aimed_at(case: WeekCase, reached: Weighting) -> list[Message]:
    """What the region's week is to come to, and which lifts lead in it; why nothing can be said where none is computed."""
    if not case.now():
        return [message("week_not_computed", region=case.region)]
    return [
        message("week_first_step", region=case.region, target=case.target, weighting=case.weighting),
        *_led_by(case),
        *([] if reached == case.weighting else [message("week_by_the_sum", exercise=_leader(case, case.weighting))]),
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


def _leader(case: WeekCase, weighting: Weighting) -> str:
    """The exercise with the largest part of the week under a weighting."""
    return case.week[_largest(case, weighting)].prescription.exercise


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
    words = option_words(change.outcome, change.outcome.case, unit)
    return message("week_lift" if len(days) == 1 else "week_lift_of_days", days=days, prescription=words).text


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
    known = [(entry, one) for entry, one in enumerate(case.parts) if one is not None and one.moment > 0.0]
    by_weighting = {weighting: shares([one for _, one in known], weighting) for weighting in WEIGHTINGS}
    by_exercise: dict[str, set[int]] = {}
    for change in new.changes:
        by_exercise.setdefault(case.week[change.entries[0]].prescription.exercise, set()).update(change.entries)
    for exercise, entries in by_exercise.items():
        own = [
            sum(part for (entry, _), part in zip(known, by_weighting[weighting], strict=True) if entry in entries)
            for weighting in WEIGHTINGS
        ]
        least, most = min(own), max(own)
        if round(least, _PERCENT) == round(most, _PERCENT):
            yield message("week_why_this_lift_always", exercise=exercise, region=case.region, share=most)
        else:
            yield message("week_why_this_lift", exercise=exercise, region=case.region, least=least, most=most)
    yield message("week_others_stay")
    hurting = [exercise for exercise in _hurting(case) if exercise not in by_exercise]
    if hurting and not case.only_less:
        yield message("week_not_the_one_that_hurts", exercises=hurting)


def _hurting(case: WeekCase) -> list[str]:
    return list(dict.fromkeys(case.week[entry].prescription.exercise for entry in sorted(case.hurts)))


def _relief(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    values = {f"by_{weighting}": new.sore[weighting].value for weighting in WEIGHTINGS}
    yield message("week_comes_to", region=case.region, **values)
    still = [weighting for weighting in WEIGHTINGS if weighting not in new.falls]
    yield message("week_relief_sure") if not still else message("week_relief_mixed", weightings=still)


def _cost(new: NewWeek) -> Iterator[Message]:
    unloaded = list(dict.fromkeys(one.prescription.exercise for one in new.changes if unloads(one.candidate)))
    if unloaded:
        yield message("week_unloads" if new.back.short else "week_unloads_above_floors", exercises=unloaded)
    for change in new.changes:
        kept = change.candidate.stimulus.kept.value
        if kept < 1.0 and not unloads(change.candidate):
            yield message("week_keeps", exercise=change.prescription.exercise, kept=kept)


def _restored(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    back = new.back
    for entry, muscle in back.restores.items():
        one = new.week[entry]
        values = {"exercise": one.prescription.exercise, "day": one.day, "muscle": muscle}
        if entry in back.more_sets:
            yield message("week_more_sets", **values, sets=back.more_sets[entry])
        else:
            reserve = CHOICES.adjustments.untested_reserve
            yield message("week_added", **values, sets=one.prescription.sets, reserve=reserve)
    if back.beside:
        yield message("week_beside", muscles=list(back.beside))
    if new.back.short and case.only_less:
        yield message("week_left_short", muscles=list(new.back.short))
        return
    counted, floor = trained_sets(one.prescription for one in new.week), floors(case)
    for muscle in new.back.short:
        yield message("week_stays_short", muscle=muscle, sets=counted.get(muscle, 0.0), floor=floor[muscle])


def _moved(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    gap, least = shortest_gap(heavy_days(case.now())), least_gap_of(case.region)
    entry, day = next(iter(new.new_days.items()))
    exercises = list(dict.fromkeys(case.week[one].prescription.exercise for one in new.new_days))
    yield message("week_moved", exercises=exercises, day=case.week[entry].day, to=day)
    yield message("week_apart", region=case.region, gap=gap, least=least)
    yield message("week_asks_the_same")
