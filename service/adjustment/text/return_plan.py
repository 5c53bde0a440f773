"""A way back in words that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.prescription import Prescription, lifts_the_body
from service.adjustment.return_plan.plan import Gate, Step
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase
from service.adjustment.text.prescription import counted, load_words, prescription_words, reps_words
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.return_to_training import Transition, judged
from service.units import MassUnit

_SMALLEST_CHANGE: Final = 0.005
"""A change of demand below half a percentage point is called none [1]."""


def step_reasons(
    case: ReturnCase, before: Prescription, step: Step, rule: Transition | None, unit: MassUnit
) -> list[str]:
    """What is done in a step, what changes, what that asks of the region, and what a week after a break allows."""
    return [
        f"Week {step.week}: {prescription_words(step.prescription, unit)}.",
        *_changes(case.original, before, step, unit),
        *_demand(case, step),
        *_break(case.original, step, rule),
    ]


def gate_lines(gate: Gate, fallback: int, *, last: bool) -> list[str]:
    """When to go on, when to repeat, and when and where to go back.

    Args:
        gate: what has to be passed
        fallback: week to go back to, 0 for the adjusted prescription [count]
        last: whether the step is the original
    """
    on = "You are back when" if last else "Go on when"
    earlier = "the adjusted prescription" if fallback == 0 else f"week {fallback}"
    left = round(gate.reserve)
    between, reserve = (", ", f", and at least {counted(left, 'repetition')} left") if left else (" and ", "")
    pass_mark = (
        f"{on} {gate.sessions} sessions in a row went well: pain up to {gate.pain_in_session:g} of 10{between}the next "
        f"morning less than {gate.pain_above_usual_next_morning:g} above the usual{reserve}."
    )
    repeat = (
        f"Pain above {gate.pain_in_session:g} and up to {gate.stop_above:g}, or a morning not written down: do the "
        "step again."
    )
    step_back = (
        f"Pain above {gate.stop_above:g}: stop the lift for the day. After that, or after a morning "
        f"{gate.step_back_from:g} or more above the usual, with swelling or with lost sleep, go back to {earlier}."
    )
    return [pass_mark, repeat, step_back]


def weeks_meaning() -> str:
    """What the two ends of the weeks until the original mean."""
    repeated = 100 * CHOICES.return_plan.repeated_share
    return f"low: every gate passed the first time; high: {repeated:.0f} % of the weeks done twice (our own choice)"


def _changes(original: Prescription, before: Prescription, step: Step, unit: MassUnit) -> Iterator[str]:
    new = step.prescription
    was, now = (EXERCISES[one.exercise].name.lower() for one in (before, new))
    if before.exercise != new.exercise:
        load = f"From {was} at {load_words(before, unit)} to {now} at {load_words(new, unit)}."
    else:
        way = "up" if new.load > before.load else "down"
        load = f"The load goes {way} from {load_words(before, unit)} to {load_words(new, unit)}."
    depth = "as deep as in the original" if new.depth == original.depth else "to another depth than before"
    sentences = {
        "load": load,
        "range_of_motion": f"You go {depth}.",
        "technique": "The lift is done in its original way again.",
        "sets": f"{counted(new.sets, 'set')} a session instead of {before.sets}.",
        "reps": f"Sets of {reps_words(new.reps)} {'repetition' if new.reps.high == 1 else 'repetitions'} instead of {reps_words(before.reps)}.",
        "tempo": "The tempo is the original's again." if new.tempo else "The tempo is free again.",
        "rest": "The rest between sets is the original's again.",
        "days": f"{counted(new.days or 0, 'day')} a week instead of {before.days}.",
    }
    if was != now and "load" not in step.changed:
        yield f"From {was} to {now}, with the same load."
    if new.depth == before.depth:
        del sentences["range_of_motion"]  # another lift, whose range is its own
    yield from (sentences[lever] for lever in step.changed if lever in sentences)


def _demand(case: ReturnCase, step: Step) -> Iterator[str]:
    region = REGIONS[case.region].name.lower()
    peak, exposure = f"{100 * step.peak:.0f} %", f"{100 * step.exposure:.0f} %"
    if step.has_number:
        yield f"Each repetition asks about {peak} of what the original asks of your {region}, and a session {exposure}."
    elif not step.prescription.load and not lifts_the_body(step.prescription.exercise):
        yield (
            f"How much your {region} carries is not known in numbers; with body mass alone a repetition asks what it asks "
            f"in the original, and a session {exposure} of it."
        )
    else:
        yield (
            f"How much your {region} carries is not known in numbers; by the load it is about {peak} of the original, "
            f"and {exposure} in a session."
        )
    if step.rise is not None:
        yield _rise(step.rise, case.step)
    if "days" in step.changed and step.weekly is not None:
        yield f"Over the week it comes to {100 * step.weekly:.0f} % of the original."


def _rise(rise: float, allowed: float) -> str:
    points = counted(round(100 * abs(rise)), "percentage point")
    if rise > _SMALLEST_CHANGE:
        return f"That is {points} more than before; the plan allows {100 * allowed:.3g}."
    return f"That is {points} less than before." if rise < -_SMALLEST_CHANGE else "That is no more than before."


def _break(original: Prescription, step: Step, rule: Transition | None) -> Iterator[str]:
    if rule is None or rule.volume_share >= 1:
        return
    days = "" if rule.most_days is None else f" on at most {rule.most_days} days"
    yield f"After the break this week allows {100 * rule.volume_share:.0f} % of the normal repetitions{days}."
    if step.prescription.reps_a_week > rule.volume_share * original.reps_a_week + TOLERANCE:
        yield "One repetition a week is more than that, but there is no smaller dose."
    if step.relative_volume is not None and judged(step.relative_volume) == "low":
        yield (
            f"Sets times repetitions times the share of your maximum is {step.relative_volume:.0f}, below the "
            f"{rule.irv_low:.0f} to {rule.irv_high:.0f} of the rule: neither its share of the normal volume nor the "
            "step leaves room for more."
        )
