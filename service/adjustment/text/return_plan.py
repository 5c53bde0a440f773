"""A way back in messages that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from service.adjustment.prescription import Prescription, lifts_the_body
from service.adjustment.return_plan.plan import Gate, Step
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase
from service.adjustment.text.prescription import prescription_to_do, prescription_value
from service.adjustment.text.week_step import week_of_step
from service.knowledge.cues import CUES
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.training.return_to_training import Transition, judged
from service.units import MassUnit, duration, mass

_SMALLEST_CHANGE: Final = 0.005
"""A change of demand below half a percentage point is called none [1]."""


def step_reasons(
    case: ReturnCase, before: Prescription, step: Step, rule: Transition | None, unit: MassUnit
) -> list[Message]:
    """What is done in a step, what changes, what that asks of the region, and what a week after a break allows."""
    return [
        message("return_week", week=step.week, do=prescription_to_do(step.prescription, unit)),
        *change_reasons(case, before, step, unit),
        *([] if step.of_week is None else week_of_step(case.region, case.step, step.of_week)),
        *_by_test(step, unit),
        *_break(case.original, step, rule),
    ]


def change_reasons(case: ReturnCase, before: Prescription, step: Step, unit: MassUnit) -> list[Message]:
    """What changes in a step, and what that asks of the region."""
    return [*_changes(case.original, before, step, unit), *_demand(case, before, step, unit)]


def gate_messages(gate: Gate, fallback: int, *, last: bool) -> list[Message]:
    """When to go on, when to repeat, and when and where to go back.

    Args:
        gate: what has to be passed
        fallback: week to go back to, 0 for the adjusted prescription [count]
        last: whether the step is the original
    """
    calm = {"pain": gate.pain_in_session, "morning": gate.pain_above_usual_next_morning}
    code, left = "gate_back" if last else "gate_on", round(gate.reserve)
    stop = {"stop": gate.stop_above, "morning": gate.step_back_from}
    return [
        message(f"{code}_with_reserve", sessions=gate.sessions, **calm, reserve=left)
        if left
        else message(code, sessions=gate.sessions, **calm),
        message("gate_morning_stays", **calm, real=gate.step_back_from, sessions=gate.sessions),
        message("gate_repeat", pain=gate.pain_in_session, stop=gate.stop_above),
        message("gate_step_back", **stop, week=fallback) if fallback else message("gate_to_adjusted", **stop),
    ]


def trial_messages(case: ReturnCase, before: Prescription, step: Step, unit: MassUnit) -> list[Message]:
    """The test before a step: the set and why it comes first, the warm-up to it, and what has to hold; none without one."""
    test, gate = step.test, step.gate
    if test is None:
        return []
    shown, left = prescription_value(test.prescription, unit), round(gate.reserve)
    said: dict[str, Any] = {"prescription": shown}
    match test.reason:
        case "untested":
            said["before"] = before.exercise
        case "unknown_demand":
            said["region"] = case.region
        case "after_break":
            said["weeks"] = case.weeks_off
        case "over_step":
            said["step"] = case.step
    loads = [mass(load, unit) for load in test.warm_up]
    holds = {"pain": gate.pain_in_session, "morning": gate.pain_above_usual_next_morning}
    ends = {"pain": gate.pain_in_session, "reserve": max(1, left)}
    return [
        message(f"test_{test.reason}", **said),
        *([message("test_warm_up", loads=loads, **ends)] if loads else []),
        message("test_holds_with_reserve", **holds, reserve=left) if left else message("test_holds", **holds),
    ]


def weeks_meaning() -> Message:
    """What the two ends of the weeks until the original mean."""
    return message("return_weeks", repeated=CHOICES.return_plan.repeated_share)


def _changes(original: Prescription, before: Prescription, step: Step, unit: MassUnit) -> Iterator[Message]:
    new = step.prescription
    was, now = prescription_value(before, unit), prescription_value(new, unit)
    load_changes = "load" in step.changed or "assistance" in step.changed
    if before.exercise != new.exercise:
        yield message("return_other_lift" if load_changes else "return_other_lift_same_load", before=was, after=now)
    elif load_changes:
        more = "return_load_up" if min(before.load, new.load) >= 0 else "return_less_help"
        less = "return_load_down" if min(before.load, new.load) >= 0 else "return_more_help"
        yield message(more if new.load > before.load else less, before=was, after=now)
    if before.depth != new.depth:
        nearer = "return_range_nearer" if before.exercise == new.exercise else "return_range_other"
        yield message("return_range_original" if new.depth == original.depth else nearer)
    if "technique" in step.changed:
        yield message("return_technique" if new.technique == original.technique else "return_technique_nearer")
    if "cues" in step.changed:
        yield from _cues(before, new)
    if "hold" in step.changed:
        yield _hold(before, new)
    yield from (message(f"return_{name}") for name in ("implement", "side") if name in step.changed)
    yield from _dose(before, step)


def _cues(before: Prescription, new: Prescription) -> Iterator[Message]:
    left, added = ([cue for cue in one.cues if cue not in other.cues] for one, other in ((before, new), (new, before)))
    habits = [cue for cue in left if CUES[cue].lever == "technique"]
    if habits:
        yield message("return_cues_free", cues=habits)
    if others := [cue for cue in left if cue not in habits]:
        yield message("return_cues_left", cues=others)
    if added:
        yield message("return_cues_back", cues=added)


def _hold(before: Prescription, new: Prescription) -> Message:
    if new.hold is None:
        return message("return_hold_ends", hold=duration(before.hold or 0.0, "s"))
    return message("return_hold", hold=duration(new.hold, "s"))


def _dose(before: Prescription, step: Step) -> Iterator[Message]:
    new, changed = step.prescription, step.changed
    if "sets" in changed:
        yield message("return_sets", after=new.sets, before=before.sets)
    if "reps" in changed and before.hold == new.hold:
        yield message("return_reps", after=new.reps, before=before.reps)
    if "tempo" in changed:
        yield message("return_tempo" if new.tempo else "return_tempo_free")
    if "rest" in changed:
        yield message("return_rest")
    if "days" in changed and new.days is not None and before.days is not None:
        yield message("return_days", after=new.days, before=before.days)


def _demand(case: ReturnCase, before: Prescription, step: Step, unit: MassUnit) -> Iterator[Message]:
    said = {"region": case.region, "session": step.exposure}
    if not step.has_scale:
        yield message("return_asks_unknown", region=case.region)
    elif step.has_number:
        yield message("return_asks", repetition=step.peak, **said)
    elif not step.prescription.load and not lifts_the_body(step.prescription.exercise):
        yield message("return_asks_by_body", **said)
    else:
        yield message("return_asks_by_load", repetition=step.peak, **said)
    if step.test is None and before.exercise != step.prescription.exercise and case.tolerated is not None:
        yield message("return_tolerated", load=mass(case.tolerated, unit))
    if step.rise is not None:
        yield _rise(step.rise, case.step, over_step=step.over_step and step.rise > case.step + TOLERANCE)
    if "days" in step.changed and step.weekly is not None:
        yield message("return_week_sum", week=step.weekly)


def _rise(rise: float, allowed: float, *, over_step: bool) -> Message:
    points = round(100 * abs(rise))
    if over_step:
        return message("return_rise_over_step", points=points, step=allowed)
    if rise > _SMALLEST_CHANGE:
        return message("return_rise", points=points, step=allowed)
    return message("return_fall", points=points) if rise < -_SMALLEST_CHANGE else message("return_no_rise")


def _by_test(step: Step, unit: MassUnit) -> Iterator[Message]:
    if step.by_test is not None and step.prescription.load > 0:
        load = step.by_test.load
        low, high = mass(load.low, unit), mass(load.high, unit)
        yield message("return_by_test", share=step.by_test.share, low=low, high=high)


def _break(original: Prescription, step: Step, rule: Transition | None) -> Iterator[Message]:
    if rule is None or rule.volume_share >= 1:
        return
    if rule.most_days is None:
        yield message("return_break_allows", share=rule.volume_share)
    else:
        yield message("return_break_allows_on_days", share=rule.volume_share, days=rule.most_days)
    if step.prescription.reps_a_week > rule.volume_share * original.reps_a_week + TOLERANCE:
        yield message("return_smallest_dose")
    if step.relative_volume is not None and judged(step.relative_volume) == "low":
        yield message("return_low_volume", volume=step.relative_volume, low=rule.irv_low, high=rule.irv_high)
