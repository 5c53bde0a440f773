"""A review in plain language: what a coach can read aloud, made from the numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.arm import REGIONS_OF_ARM
from service.adjustment.prescription import Prescription
from service.adjustment.session_review.course import (
    AFTER_EFFECTS,
    Course,
    morning_rise,
    morning_stays,
    weekly_rise,
)
from service.adjustment.session_review.next_prescription import NextStep, OnTheWay
from service.adjustment.text.decision import asked_by_pain
from service.adjustment.text.pause import pause_words
from service.adjustment.text.prescription import prescription_to_do, prescription_value
from service.adjustment.text.return_plan import change_reasons, trial_messages
from service.adjustment.text.review_due import review_due
from service.adjustment.text.review_rules import FACTS, reasons_of_hold
from service.adjustment.text.stop import because_of, what_to_do
from service.adjustment.text.week_step import week_of_review
from service.adjustment.triage import Pain, judged
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import MassUnit, duration
from service.vocabulary import Region

_NOTICEABLE: Final = 1.0
"""Change of what is left in reserve that is said [count]: a lifter counts whole repetitions."""


def why(
    step: NextStep,
    course: Course,
    present: Prescription,
    region: Region,
    unit: MassUnit,
    *,
    something_else: bool,
    in_week: bool = False,
) -> list[Message]:
    """The reasons for a decision and what follows.

    something_else: whether anything does not load a paused region; in_week: whether the lift is part of a stated week.
    """
    reported = list(_reported(course, region))
    stop = step.verdict.referral
    if stop is not None:
        by_pain = stopped_by_pain(step, course, region) if stop.leaves_training else []
        return [*because_of(stop), *by_pain, *what_to_do(stop), *reported]
    if step.verdict.decision == "pause_and_review":
        return [*reported, *pause_words(step.verdict.judgement, region, something_else=something_else)]
    of_week = [] if step.of_week is None else week_of_review(region, step.of_week)
    others = [message("review_other_lifts")] if in_week and step.verdict.decision == "back_to_original" else []
    return [
        *stopped_by_pain(step, course, region),
        *reported,
        *review_due(step.verdict.review, course),
        *_done(step, course, present, unit),
        *reasons_of_hold(step.verdict),
        *_next(step, present, region, unit),
        *of_week,
        *others,
    ]


def stopped_by_pain(step: NextStep, course: Course, region: Region) -> list[Message]:
    """What the pain of the last session stops, whatever signs or circumstances ask for."""
    return asked_by_pain(step.verdict.judgement, region, morning_rise(course.sessions[-1], course.usual_pain))


def _reported(course: Course, region: Region) -> Iterator[Message]:
    last = course.sessions[-1]
    level = judged(Pain(last.pain_in_session)).tier
    limits = {"green": ("green",), "amber": ("green", "amber"), "red": ("amber", "red"), "pause": ("red",)}[level]
    yield message(
        f"review_pain_{level}",
        region=region,
        pain=last.pain_in_session,
        **{name: FACTS[name] for name in limits},
    )
    if last.pain_at_rest is not None:
        yield message("review_pain_at_rest", pain=last.pain_at_rest)
    yield _morning(course)
    for effect in AFTER_EFFECTS:
        if getattr(last, effect):
            yield message("review_after_effect", effect=effect)
    if last.form_lost:
        yield message("review_form_lost")
    rise, means = weekly_rise(course.weekly_pain), list(course.weekly_pain)
    if rise is not None and rise <= 0:
        yield message("review_weeks_not_rising", means=means)
    elif rise is not None:
        real = rise >= CHOICES.review.weekly_rise
        yield message("review_weeks_well_up" if real else "review_weeks_up", means=means, by=rise)


def _morning(course: Course) -> Message:
    morning, usual = course.sessions[-1].pain_next_morning, course.usual_pain
    if morning is None:
        return message("review_morning_not_reported")
    if usual is None:
        return message("review_morning_without_usual", morning=morning)
    rise = morning_rise(course.sessions[-1], usual) or 0.0
    if rise == 0:
        return message("review_morning_same", morning=morning, usual=usual)
    if rise < 0:
        code = "review_morning_below"
    elif rise >= CHOICES.adjustments.real_change:
        code = "review_morning_well_above"
    elif rise < CHOICES.review.morning_hold:
        code = "review_morning_slightly_above"
    else:
        code = "review_morning_stays" if morning_stays(course, len(course.sessions) - 1) else "review_morning_above"
    return message(code, morning=morning, usual=usual, by=abs(rise))


def _done(step: NextStep, course: Course, present: Prescription, unit: MassUnit) -> Iterator[Message]:
    last = course.sessions[-1]
    yield message("review_good_sessions", count=step.verdict.good_sessions, needed=CHOICES.review.good_sessions)
    if last.earlier:
        return
    if last.reps_done is not None:
        code = "review_reps_done" if present.hold is None else "review_holds_done"
        yield message(code, done=list(last.reps_done), present=prescription_value(present, unit))
    if last.reserve is not None:
        yield message("review_reserve", left=last.reserve, needed=step.verdict.least_left)


def _next(step: NextStep, present: Prescription, region: Region, unit: MassUnit) -> Iterator[Message]:
    yield from _set_aside(step, region)
    if step.share is not None:
        code = "first_step" if step.for_region else "review_less_without_lifter"
        yield message(code, region=region, target=step.share)
    if step.load_falls_by_more:
        of_arm = "_of_arm" if region in REGIONS_OF_ARM else ""
        yield message(f"review_load_falls_by_more{of_arm}", region=region)
    new = step.prescription
    if new is None:
        red = step.verdict.judgement.tier == "red"
        facts = {"limit": CHOICES.adjustments.amber_up_to, "region": region}
        yield message("nothing_sure_of_the_lift", **facts) if red else message("review_no_smaller")
        return
    yield message("review_next", do=prescription_to_do(new, unit))
    if step.verdict.decision == "back_to_original":
        yield message("review_back_to_original", sessions=CHOICES.review.good_sessions)
        return
    if step.to_previous:
        yield message("review_previous")
    if step.on_the_way is not None:
        yield from _on_the_way(step.on_the_way, unit)
        yield _changed(step, present, new)
        return
    yield from _changes(step, present, new, unit)
    if step.large_rise is not None:
        taken = "load" in step.changed or "assistance" in step.changed
        code = "review_large_step" if taken else "review_large_step_waits"
        yield message(code, step=step.large_rise, most=CHOICES.review.most_load_step)


def _set_aside(step: NextStep, region: Region) -> Iterator[Message]:
    """What of the request was left out of account."""
    for one in step.set_aside:
        if one == "original_not_loadable":
            yield message("review_original_not_loadable")
        elif step.verdict.decision == "step_back":
            yield message(f"review_{one}", **({"region": region} if one == "previous_asks_as_much" else {}))


def _on_the_way(way: OnTheWay, unit: MassUnit) -> Iterator[Message]:
    """The step of the way back with its reasons, and the test that comes before it."""
    case, step = way.case, way.step
    yield message("review_way_back")
    if way.after_failure:
        yield message("review_smaller_step", step=case.step)
    yield from change_reasons(case, case.adjusted, step, unit)
    yield from trial_messages(case, case.adjusted, step, unit)


def _changes(step: NextStep, present: Prescription, new: Prescription, unit: MassUnit) -> Iterator[Message]:
    """What differs from the present prescription: in numbers where the lift is the same, else by name alone."""
    if not step.changed:
        yield message("review_same")
        return
    if step.verdict.decision == "hold":
        yield message("review_same_as_loadable")
        return
    if present.exercise == new.exercise:
        other_load = bool({"load", "assistance"} & set(step.changed))
        if other_load:
            yield _load(present, new, unit)
        if not step.to_previous:
            yield from _dose(present, new)
        yield from _hold(present, new)
        if step.verdict.decision == "progress" and new.load > present.load and new.hold is None:
            yield from _bottom_of_the_range(present, new)
    yield _changed(step, present, new)


def _changed(step: NextStep, present: Prescription, new: Prescription) -> Message:
    """What differs, and what is left in reserve where that is noticeably more or less with it."""
    changed = list(step.changed)
    if present.reserve is None or new.reserve is None or new.hold is not None:
        return message("review_changed", changed=changed)
    before, after = round(present.reserve, 1), round(new.reserve, 1)
    if round(abs(after - before), 1) < _NOTICEABLE:
        return message("review_changed", changed=changed)
    return message("review_changed_with_reserve", changed=changed, before=before, after=after)


def _load(present: Prescription, new: Prescription, unit: MassUnit) -> Message:
    before, after = prescription_value(present, unit), prescription_value(new, unit)
    if present.load <= 0 or new.load <= 0:
        return message("review_load_from", before=before, after=after)
    by = new.load / present.load - 1
    return message("review_load_up" if by > 0 else "review_load_down", by=abs(by), before=before, after=after)


def _dose(present: Prescription, new: Prescription) -> Iterator[Message]:
    before, after = present.reps, new.reps
    if after.high < before.high:
        yield message("review_fewer_reps", before=before, after=after)
    elif after.high > before.high:
        yield message("review_wider_reps", high=after.high)
    elif after.low > before.low:
        yield message("review_more_reps", low=after.low, high=after.high)
    if new.sets != present.sets:
        code = "review_more_sets" if new.sets > present.sets else "review_fewer_sets"
        yield message(code, before=present.sets, after=new.sets)


def _hold(present: Prescription, new: Prescription) -> Iterator[Message]:
    if new.hold is None or new.hold == present.hold:
        return
    if present.hold is None:
        yield message("review_holds_again", hold=duration(new.hold, "s"))
        return
    code = "review_longer_hold" if new.hold > present.hold else "review_shorter_hold"
    yield message(code, before=duration(present.hold, "s"), after=duration(new.hold, "s"))


def _bottom_of_the_range(present: Prescription, new: Prescription) -> Iterator[Message]:
    low, high = new.reps.low, new.reps.high
    if low < present.reps.low:
        yield message("review_range_opened", low=low, high=high)
    elif low < high:
        yield message("review_range_begins_again", low=low, high=high)
