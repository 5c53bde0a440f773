"""The prescription for next time: the present one with what the review changed, and all else of it kept.

With an original, a step on is the next step of the way back; without one it is double progression. What protects the
region (depth, tempo, technique, cues, assistance) goes only where a step of the way back says so.
"""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec.structs import replace

from service.adjustment.changes import changes_between
from service.adjustment.loads import Loads
from service.adjustment.prescription import Prescription
from service.adjustment.return_plan.plan import Step
from service.adjustment.return_plan.plan import next_step as next_on_the_way
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.session_review.course import Course
from service.adjustment.session_review.progression import progressed
from service.adjustment.session_review.rules import RULES, RuleId, Verdict, step_back_reasons, went_well
from service.adjustment.session_review.shortfall import doable, stayed_short_before
from service.adjustment.session_review.step_back import (
    asks_more,
    lighter_load,
    mass_of,
    reduced,
    relieves,
    returned,
)
from service.adjustment.session_review.whole_week import StepInWeek, step_in_week, week_is_over, within_week
from service.adjustment.triage import first_step
from service.adjustment.week.rise import WeekAround
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import Body
from service.vocabulary import Change, Region

SetAside = Literal["original_not_loadable", "previous_not_loadable", "previous_asks_as_much"]
"""What of a request a review goes on without, and why."""


class Reviewed(msgspec.Struct, frozen=True):
    """What is under review.

    Attributes:
        present: the prescription under review
        previous: a prescription to go back to, None where none is named
        region: region that is sore
        loads: what can be loaded
        body: the lifter, None where not stated
        way_back: from the present prescription to the original, None where no original is stated
        set_aside: what of the request is left out of account, and why
        week: of which the lift is a part, None where it is reviewed by itself
    """

    present: Prescription
    previous: Prescription | None
    region: Region
    loads: Loads
    body: Body | None = None
    way_back: ReturnCase | None = None
    set_aside: tuple[SetAside, ...] = ()
    week: WeekAround | None = None


class OnTheWay(msgspec.Struct, frozen=True):
    """A step of a way back.

    Attributes:
        case: the return, from what is done now
        step: the next step of it
        after_failure: whether what was tried before was too much, so that the step is a smaller one
    """

    case: ReturnCase
    step: Step
    after_failure: bool


class NextStep(msgspec.Struct, frozen=True):
    """The prescription for next time.

    Attributes:
        verdict: as it can be carried out
        prescription: what to do, None where the present one cannot be made smaller, or where nothing is to be done
        changed: what differs from the present prescription
        to_previous: whether it is the previous prescription
        share: of now to which a step back brings what is asked [1], None where there is none
        for_region: whether that is of what the sore region carries, and not of the load alone
        load_falls_by_more: whether the load has to fall by more than what is asked, since the body weighs too
        large_rise: what the smallest step of the load adds to it where that is a large one [1], None otherwise
        on_the_way: the step of the way back that it is, None where it is none
        set_aside: what of the request was left out of account, and why
        of_week: what it adds to the whole week, None without one and where that is not known
    """

    verdict: Verdict
    prescription: Prescription | None = None
    changed: tuple[Change, ...] = ()
    to_previous: bool = False
    share: float | None = None
    for_region: bool = False
    load_falls_by_more: bool = False
    large_rise: float | None = None
    on_the_way: OnTheWay | None = None
    set_aside: tuple[SetAside, ...] = ()
    of_week: StepInWeek | None = None


def next_step(verdict: Verdict, course: Course, reviewed: Reviewed) -> NextStep:
    """The prescription for next time, with what of the request was left out of account.

    Args:
        verdict: what the review decided
        course: the sessions that it rests on
        reviewed: the prescription under review, and what there is to change it with

    Returns:
        the next prescription; its load is loadable and not above what was decided

    Raises:
        Refusal: where no way back leads to the original
    """
    step = _decided(verdict, course, reviewed)
    return replace(step, set_aside=(*reviewed.set_aside, *step.set_aside))


def _decided(verdict: Verdict, course: Course, reviewed: Reviewed) -> NextStep:
    if verdict.decision in ("refer", "pause_and_review"):
        return NextStep(verdict)
    if verdict.decision == "step_back":
        short = verdict.rules[0].id == "stays_short"
        return _less_to_do(verdict, course, reviewed) if short else _stepped_back(verdict, reviewed)
    return _held(verdict, reviewed) if verdict.decision == "hold" else _onward(verdict, course, reviewed)


def _onward(verdict: Verdict, course: Course, reviewed: Reviewed) -> NextStep:
    present = reviewed.present
    if reviewed.week is not None and not week_is_over(course, present, reviewed.week):
        return _held_for_week(verdict, reviewed, "week_not_over")
    if reviewed.way_back is not None:
        return _on_the_way_back(verdict, reviewed, reviewed.way_back, after_failure=_failed_before(course, present))
    step = progressed(
        present,
        at_the_top=_at_the_top(course, present),
        reserve=_reserve(course, present),
        above=reviewed.loads.above,
        body_mass=mass_of(reviewed.body),
    )
    if step is None:
        return _held(replace(verdict, decision="hold", rules=(RULES["heaviest_reached"],)), reviewed)
    new, of_week = within_week(reviewed.week, present, step.prescription)
    if new is None:
        return _held_for_week(verdict, reviewed, "week_rise", of_week)
    return NextStep(verdict, new, changes_between(present, new), large_rise=step.large_rise, of_week=of_week)


def _held_for_week(verdict: Verdict, reviewed: Reviewed, rule: RuleId, of_week: StepInWeek | None = None) -> NextStep:
    held = _held(replace(verdict, decision="hold", rules=(RULES[rule],)), reviewed)
    return replace(held, of_week=of_week)


def _held(verdict: Verdict, reviewed: Reviewed) -> NextStep:
    """The same again, as near as it can be loaded; the original as it is, for that has been loaded."""
    present, way_back = reviewed.present, reviewed.way_back
    if way_back is not None and (present.exercise, present.load) == (
        way_back.original.exercise,
        way_back.original.load,
    ):
        return NextStep(verdict, present)
    load = reviewed.loads.down(present.exercise, present.load, present.implement)
    if load is None:
        return NextStep(verdict)
    same = replace(present, load=load)
    return NextStep(verdict, same, changes_between(present, same))


def _stepped_back(verdict: Verdict, reviewed: Reviewed) -> NextStep:
    present, down = reviewed.present, reviewed.loads.down
    before = None if reviewed.previous is None else returned(reviewed.previous, present, down)
    judgement, region, body = verdict.judgement, reviewed.region, reviewed.body
    if before is not None and not asks_more(before, present, region, body):
        return NextStep(verdict, before, changes_between(present, before), to_previous=True)
    share = first_step(judgement.tier)
    load = None if body is None else lighter_load(body, present, region, share, down)
    less = reduced(present, share, load, down, body)
    red = judgement.tier == "red" and judgement.rule == "highest_score"  # above 5 nothing at the full load
    if red and less is not None and not relieves(less, present, region, share, body):
        less = None
    alike = down(present.exercise, share * present.load, present.implement)
    return NextStep(
        verdict,
        less,
        () if less is None else changes_between(present, less),
        share=share,
        for_region=body is not None,
        load_falls_by_more=less is not None and alike is not None and present.load > 0 and less.load < alike,
        set_aside=() if before is None else ("previous_asks_as_much",),
    )


def _less_to_do(verdict: Verdict, course: Course, reviewed: Reviewed) -> NextStep:
    present, mass = reviewed.present, mass_of(reviewed.body)
    less = doable(course, present, verdict.least_left, reviewed.loads.down, mass)
    return NextStep(verdict, less, () if less is None else changes_between(present, less))


def _failed_before(course: Course, present: Prescription) -> bool:
    """Whether what was done before the present prescription was stepped back from, after sessions that went well.

    Without any such session it was no step, but what hurt to begin with.
    """
    before = [position for position, one in enumerate(course.sessions) if one.earlier]
    hurt = bool(before) and bool(step_back_reasons(course.sessions[before[-1]], course))
    after_good = any(went_well(course, position) for position in before[:-1])
    return (hurt and after_good) or stayed_short_before(course, present)


def _on_the_way_back(verdict: Verdict, reviewed: Reviewed, way_back: ReturnCase, *, after_failure: bool) -> NextStep:
    present, original = reviewed.present, way_back.original
    if after_failure:
        way_back = replace(way_back, step=CHOICES.review.step_after_failure * way_back.step)
    step = next_on_the_way(way_back)
    if step is not None:
        new, of_week = step.prescription, step_in_week(way_back, step)
        # another exercise has a least load below which there is nothing to test; all else can wait
        if step.over_week and new.exercise == way_back.adjusted.exercise:
            return _held_for_week(verdict, reviewed, "week_rise", of_week)
        way = OnTheWay(way_back, step, after_failure)
        return NextStep(verdict, new, changes_between(present, new), on_the_way=way, of_week=of_week)
    rest = changes_between(present, original)
    if rest:  # it asks no less than the original, and yet is another prescription
        new_or_none, of_week = within_week(reviewed.week, way_back.adjusted, original)
        if new_or_none is None:
            return _held_for_week(verdict, reviewed, "week_rise", of_week)
        return NextStep(verdict, original, rest, of_week=of_week)
    return NextStep(replace(verdict, decision="back_to_original", rules=(RULES["original_reached"],)), original)


def _at_the_top(course: Course, present: Prescription) -> bool:
    """Whether every set of the last sessions had the most repetitions of the range."""
    return all(one.reps_done is not None and min(one.reps_done) >= present.reps.high for one in course.recent)


def _reserve(course: Course, present: Prescription) -> float:
    """Repetitions that were left in the last sessions [count]: those prescribed, or more where more were reported."""
    reported = [one.reserve for one in course.recent if one.reserve is not None]
    sure = min(*reported, CHOICES.effort.hard_set_reserve) if len(reported) == len(course.recent) else 0.0
    return max(present.counted_reserve, sure)
