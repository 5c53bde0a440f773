"""A new week in messages that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from service.adjustment.options.faults import unloads
from service.adjustment.text.option import option_words
from service.adjustment.text.prescription import prescription_value, prescription_words
from service.adjustment.triage import Judgement, Pain
from service.adjustment.week.alternatives import Alternative
from service.adjustment.week.easing import beyond_most
from service.adjustment.week.exposure import exposure, shares, shortest_gap
from service.adjustment.week.muscles import hard_sets, trained_sets
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.regions import heavy_days, least_gap_of
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
    return [*cause, message("week_from_next_session"), message("week_all_that_loads")] if red else cause


def aimed_at(case: WeekCase, reached: Weighting, not_eased: Sequence[int]) -> list[Message]:
    """What the region's week is to come to, and which lifts lead in it; why nothing can be said where none is computed.

    Args:
        case: the week
        reached: weighting under which the options reach it, which is the one that is said
        not_eased: places of lifts that hurt and that nothing eases [count]
    """
    stuck = _exercises(case, not_eased)
    nothing_eases = [message("week_nothing_eases", exercises=stuck)] if stuck else []
    if beyond := _exercises(case, (entry for unit in beyond_most(case) for entry in unit)):
        nothing_eases.append(message("week_more_hurts", exercises=beyond, most=CHOICES.week.most_lifts_searched))
    if not case.now():
        return [*_not_known_to_load(case), message("week_not_computed", region=case.region), *nothing_eases]
    by_the_sum = message("week_by_the_sum", exercise=_leader(case, case.weighting))
    return [
        *_not_known_to_load(case),
        message("week_first_step", region=case.region, target=case.target, weighting=reached),
        *([] if reached == case.weighting else [by_the_sum]),
        *_led_by(case),
        *_left_out_of_sums(case),
        *nothing_eases,
    ]


def _led_by(case: WeekCase) -> list[Message]:
    exercises = {weighting: _leader(case, weighting) for weighting in WEIGHTINGS}
    of_computed = "_of_computed" if case.not_computed else ""
    named = {"region": case.region, "exercise": exercises["linear"]}
    if len(set(exercises.values())) == 1:
        return [message(f"week_led_by{of_computed}", **named)]
    if exercises["linear"] == exercises["tenth_power"]:
        return [message(f"week_led_by_between{of_computed}", **named, between=exercises["squared"])]
    return [message(f"week_led_by_either{of_computed}", **named, heaviest=exercises["tenth_power"])]


def _left_out_of_sums(case: WeekCase) -> list[Message]:
    lifts = _exercises(case, case.not_computed)
    return [message("week_lifts_left_out", region=case.region, lifts=lifts)] if lifts else []


def _not_known_to_load(case: WeekCase) -> list[Message]:
    """Of lifts that hurt and are not known to load the region: what to make sure of first, as of one lift by itself."""
    exercises = _exercises(case, case.hurts - case.loading)
    known = [message("not_known_to_load", region=case.region, exercise=exercise) for exercise in exercises]
    return [*known, message("confirm_the_complaint", region=case.region)] if known else []


def _exercises(case: WeekCase, entries: Iterable[int]) -> list[str]:
    """The exercises at some places of the week, each once."""
    return list(dict.fromkeys(case.week[entry].prescription.exercise for entry in sorted(entries)))


def _leader(case: WeekCase, weighting: Weighting) -> str:
    """The exercise with the largest part of the week under a weighting, all its days counted together."""
    together: dict[str, float] = {}
    for one, part in zip(case.week, case.parts, strict=True):
        if part is not None:
            exercise = one.prescription.exercise
            together[exercise] = together.get(exercise, 0.0) + exposure([part], weighting)
    return max(together, key=lambda exercise: together[exercise])


def what_then(case: WeekCase, options: int) -> list[Message]:
    """What to do with the options, or what helps where there is none.

    Args:
        case: the week
        options: that are offered [count]
    """
    if options:
        return [*_none_named(case), message("one_week_at_a_time")]
    if case.only_less:
        return [message("nothing_sure_of_the_week", limit=CHOICES.adjustments.amber_up_to, region=case.region)]
    if not case.now():
        return [message("ask_of_one_lift", region=case.region)]
    return [message("nothing_brings_the_week_there", region=case.region)]


def _none_named(case: WeekCase) -> list[Message]:
    """What is eased where no lift was named that hurts; in the red tier all that loads the region is."""
    if case.hurts or (case.only_less and case.now()):
        return []
    return [message("week_none_named", region=case.region) if case.now() else message("say_which_lift_hurts")]


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
    if entry in new.back.added:
        shown = prescription_value(one.prescription, unit)
        return message("week_lift_added", days=[one.day], prescription=shown).text
    return message("week_lift", days=[one.day], prescription=prescription_words(one.prescription, unit)).text


def reasons(case: WeekCase, new: NewWeek, reached: Weighting) -> list[Message]:
    """What is changed and why this lift, what it takes off and which weightings disagree, what it costs and restores.

    Args:
        case: the week as it is now
        new: the new week
        reached: weighting under which the options reach the target
    """
    return (
        [*_moved(case, new)]
        if new.new_days
        else [
            *_what(case, new),
            *_left_out(case, new),
            *_relief(case, new),
            *_short(case, new, reached),
            *_cost(new),
            *_to_be_found(new),
            *_restored(case, new),
        ]
    )


def _what(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    known = [(entry, one) for entry, one in enumerate(case.parts) if one is not None and one.moment > 0.0]
    by_weighting = {weighting: shares([one for _, one in known], weighting) for weighting in WEIGHTINGS}
    by_exercise: dict[str, set[int]] = {}
    for change in new.changes:
        by_exercise.setdefault(case.week[change.entries[0]].prescription.exercise, set()).update(change.entries)
    changed = {entry for change in new.changes for entry in change.entries}
    stays = _exercises(case, case.hurts - changed - set(new.left_out))
    if eased := [one for one in _exercises(case, case.hurts & changed) if one not in stays]:
        yield message("week_eased_first", exercises=eased)
    of_computed = "_of_computed" if case.not_computed else ""
    for exercise, entries in by_exercise.items():
        own = [
            sum(part for (entry, _), part in zip(known, by_weighting[weighting], strict=True) if entry in entries)
            for weighting in WEIGHTINGS
        ]
        least, most = min(own), max(own)
        named = {"exercise": exercise, "region": case.region}
        if not most:
            yield message("week_eased_by_direction", **named)
        elif round(least, _PERCENT) == round(most, _PERCENT):
            yield message(f"week_why_this_lift{of_computed}_always", **named, share=most)
        else:
            yield message(f"week_why_this_lift{of_computed}", **named, least=least, most=most)
    yield message("week_others_stay")
    if stays:
        yield message("week_what_hurts_stays" if new.not_computed else "week_not_the_one_that_hurts", exercises=stays)
    free = [one for entry, one in enumerate(case.week) if not (case.only_less or entry in changed | case.staying)]
    for exercise in eased:
        if days := [one.day for one in free if one.prescription.exercise == exercise]:
            yield message("week_same_lift_stays", exercise=exercise, days=days, region=case.region)


def _left_out(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    """In the red tier: what is not done until it is known to be painless, and what stays because it must."""
    if new.left_out:
        exercises = _exercises(case, new.left_out)
        limit = CHOICES.adjustments.amber_up_to
        yield message("week_left_out", exercises=exercises, region=case.region, limit=limit)
    kept = case.loading & case.staying if case.only_less else ()
    if exercises := _exercises(case, kept):
        yield message("week_stays_if_painless", exercises=exercises, region=case.region)


def _relief(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    if new.relief == "by_direction":
        yield message("week_relief_by_direction", region=case.region)
        return
    values = {f"by_{weighting}": new.sore[weighting].value for weighting in WEIGHTINGS}
    yield message("week_comes_to", region=case.region, **values)
    still = [weighting for weighting in WEIGHTINGS if weighting not in new.falls]
    if not new.falls:
        yield message("week_relief_unsure")
    else:
        yield message("week_relief_mixed", weightings=still) if still else message("week_relief_sure")
    if new.not_computed:
        beside = list(dict.fromkeys(new.week[entry].prescription.exercise for entry in new.not_computed))
        yield message("week_relief_of_computed", lifts=beside)


def _short(case: WeekCase, new: NewWeek, reached: Weighting) -> Iterator[Message]:
    if new.relief != "by_direction" and round(new.sore[reached].value, _PERCENT) > case.target:
        yield message("week_short_of_target", target=case.target, weighting=reached)


def _cost(new: NewWeek) -> Iterator[Message]:
    unloaded = list(dict.fromkeys(one.prescription.exercise for one in new.changes if unloads(one.candidate)))
    if unloaded:
        yield message("week_unloads" if new.back.short else "week_unloads_above_floors", exercises=unloaded)
    for change in new.changes:
        kept = change.candidate.stimulus.kept.value
        if kept == 1.0 or unloads(change.candidate):
            continue
        exercise = change.prescription.exercise
        if [one.prescription.exercise for one in new.changes].count(exercise) == 1:
            yield message("week_keeps", exercise=exercise, kept=kept)
        else:
            days = [new.week[entry].day for entry in change.entries]
            yield message("week_keeps_on_days", days=days, exercise=exercise, kept=kept)
    yield from _kept_but_not_counted(new)


def _kept_but_not_counted(new: NewWeek) -> Iterator[Message]:
    """Which of two measures goes for the muscles, where the index says much and the count of hard sets nothing."""
    kept = (one for one in new.changes if one.candidate.stimulus.kept.value < 1.0 and not unloads(one.candidate))
    easy = [one for one in kept if not hard_sets(one.prescription)]
    if exercises := list(dict.fromkeys(one.prescription.exercise for one in easy)):
        yield message("week_keeps_uncounted", exercises=exercises, reserve=CHOICES.effort.hard_set_reserve)


def _to_be_found(new: NewWeek) -> Iterator[Message]:
    """The lifts whose sets are counted as hard ones, though the load at which they are has still to be found."""
    untested = [one.prescription for one in new.changes if one.candidate.trial.untested]
    hard = list(dict.fromkeys(one.exercise for one in untested if hard_sets(one)))
    if hard:
        yield message("week_load_to_be_found", exercises=hard, reserve=CHOICES.effort.hard_set_reserve)


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
    counted, floor = trained_sets(one.prescription for one in new.week), case.floors_of_aim
    for muscle in new.back.short:
        yield message("week_stays_short", muscle=muscle, sets=counted.get(muscle, 0.0), floor=floor[muscle])


def _moved(case: WeekCase, new: NewWeek) -> Iterator[Message]:
    gap, least = shortest_gap(heavy_days(case.now())), least_gap_of(case.region)
    entry, day = next(iter(new.new_days.items()))
    exercises = list(dict.fromkeys(case.week[one].prescription.exercise for one in new.new_days))
    yield message("week_moved", exercises=exercises, day=case.week[entry].day, to=day)
    if len({one.day for one in new.week}) > len({one.day for one in case.week}):
        yield message("week_new_day", day=day)
    yield message("week_apart", region=case.region, gap=gap, least=least)
    yield message("week_asks_the_same")
