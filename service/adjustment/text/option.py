"""An option in messages that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case
from service.adjustment.evaluation import below_published
from service.adjustment.levers.effort import easy_by_exposure
from service.adjustment.levers.volume import days_apart
from service.adjustment.options.faults import is_easy, unloads
from service.adjustment.options.ramp import Ramp
from service.adjustment.options.result import Outcome, hardly_loaded
from service.adjustment.options.strict import most_carried
from service.adjustment.prescription import Prescription
from service.adjustment.present import solved
from service.adjustment.region_effect import UPPER_LIMB
from service.adjustment.text.arm_posture import moment_as_it_is, postures
from service.adjustment.text.prescription import is_far_from_failure, prescription_value, reserve_said, technique_value
from service.adjustment.text.start_load import start_load_relieves
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURES
from service.mechanics.setups import Technique
from service.messages import Message, message
from service.messages.setup import depth_instruction, technique_instructions
from service.units import MassUnit, angle, duration, mass

_EXPERIENCE: Final = frozenset({"common_practice", "design_choice"})
_OF_A_PART: Final = frozenset({"part_asks_less", "part_may_ask_less"})
_SAME_SPAN: Final = 0.01
"""A span of no more than a percentage point is not said [1]."""


def reasons(outcome: Outcome, case: Case, unit: MassUnit) -> list[Message]:
    """What is to be done, what it takes off, what it costs and what it moves elsewhere."""
    ramp = outcome.ramp
    return [
        *_instructions(outcome.candidate.prescription, case, unit),
        *reasons_in_short(outcome, case, unit),
        *_cost(outcome, case),
        *([] if ramp is None else [ramp_message(ramp, unit), *_expected(ramp, unit)]),
    ]


def first_later(outcome: Outcome, unit: MassUnit) -> Message:
    """What would be tried first once the pain allows more than less load: what is done otherwise, else the prescription.

    Args:
        outcome: the option that would come first
        unit: of its load
    """
    new, case = outcome.candidate.prescription, outcome.case
    done, *otherwise = _instructions(new, case, unit)
    change = otherwise[0] if otherwise and new.exercise == case.now.exercise else done
    return message("first_later", limit=CHOICES.adjustments.amber_up_to, change=change)


def reasons_in_short(outcome: Outcome, case: Case, unit: MassUnit) -> list[Message]:
    """What it takes off, how much of it the load to start with does, and what it moves elsewhere."""
    one = outcome.candidate
    start = start_load_relieves(one, case, unit) if one.meets_by == "peak" else ()
    return [*_relief(outcome, case), *start, *_at_most(outcome, case), *_moved(outcome, case)]


def _at_most(outcome: Outcome, case: Case) -> Iterator[Message]:
    """The upper end by which relief is sure; an interval of single repetitions does not say it."""
    most = most_carried(case, outcome.candidate) if case.only_sure else None
    if most is not None:
        on_average = case.region in outcome.with_interval and case.region not in UPPER_LIMB
        yield message("carries_at_most_on_average" if on_average else "carries_at_most", region=case.region, most=most)


def option_words(outcome: Outcome, case: Case, unit: MassUnit) -> str:
    """The prescription in one line, with the effort of its sets."""
    one, shown = outcome.candidate, prescription_value(outcome.candidate.prescription, unit)
    if one.prescription.hold is not None:
        return message("in_words", prescription=shown).text
    if outcome.ramp is None and is_far_from_failure(one.prescription):
        return message("in_words_far_from_failure", prescription=shown).text
    bound = one.trial.untested or below_published(case, one.stimulus.relative_load)
    left = reserve_said(one.prescription) if outcome.ramp is None else outcome.ramp.reserve
    code = "in_words_with_at_least" if bound or outcome.ramp is not None else "in_words_with"
    return message(code if left else "in_words_with_none", prescription=shown, **({"left": left} if left else {})).text


def _instructions(new: Prescription, case: Case, unit: MassUnit) -> Iterator[Message]:
    now, shown = case.now, prescription_value(new, unit)
    yield message("do_prescription", prescription=shown)
    held = POSTURES.implements.get(new.exercise, {}).get(new.held)
    if held is not None and held.how and (new.exercise, new.held) != (now.exercise, now.held):
        yield message(held.how)
    if new.depth is not None and new.depth != now.depth:
        code, values = depth_instruction(shown)
        yield message(code, **values)
    usual = Technique() if new.exercise != now.exercise else now.technique or Technique()
    technique = new.technique or Technique()
    for code, values in technique_instructions(
        technique_value(technique, new.depth), technique_value(usual, now.depth)
    ):
        yield message(code, **values)
    if technique.shin_angle is not None and technique.shin_angle != usual.shin_angle:
        yield _shins(case, new, technique, technique.shin_angle)
    yield from (message(f"cue_{cue}") for cue in new.cues if cue not in now.cues)
    if new.tempo is not None and new.tempo != now.tempo and new.hold is None:
        yield message("tempo_figures", tempo=new.tempo)
    if new.rest is not None and new.rest != now.rest:
        yield message("rest_between_sets", rest=duration(new.rest, "s"))


def _shins(case: Case, new: Prescription, technique: Technique, shin: float) -> Message:
    """How far the knees come forward, against the exercise's usual way; shin: from the vertical at the bottom [rad]."""
    usual = replace(technique, shin_angle=None)  # all else as it is: the lifter's hips may hold the knees back
    demand = solved(case.present.body, replace(new, technique=usual))
    code = "shins_further_forward" if shin > demand.posture.shin_angle else "shins_further_back"
    return message(code, shin=angle(shin, "deg"), usual=angle(demand.posture.shin_angle, "deg"))


def _relief(outcome: Outcome, case: Case) -> Iterator[Message]:
    one, region = outcome.candidate, case.region
    if one.meets_by == "session_exposure":
        yield message("session_asks_less", region=region, less=1 - (1.0 if one.exposure is None else one.exposure))
    elif one.meets_by == "week_exposure":
        less, days = 1 - one.stimulus.hard_sets, one.prescription.days
        yield message("week_asks_less", region=region, less=less, days=days, apart=days_apart(region))
    elif one.meets_by == "posture":
        yield moment_as_it_is(region, outcome.demand[region])
    elif one.meets_by == "direction_only":
        code, whole = _direction_code(outcome, case), REGIONS[region].whole
        yield message(code, region=region, **({"whole": whole} if code in _OF_A_PART else {}))
    else:
        yield _less(outcome, case)
        if one.exposure is not None and one.exposure > CHOICES.adjustments.rise_worth_telling:
            yield message("session_asks_more", more=one.exposure - 1)
    posture = one.effects[region].posture
    if posture is not None:
        yield from postures(posture)


def _direction_code(outcome: Outcome, case: Case) -> str:
    effect, new = outcome.candidate.effects[case.region], outcome.candidate.prescription
    if case.region not in EXERCISES[new.exercise].regions and new.exercise != case.now.exercise:
        return "hardly_loads_region"
    if effect.stand_in is not None and not effect.sources:
        return "part_asks_less" if outcome.direction[case.region] == "lower" else "part_may_ask_less"
    if not effect.sources:
        return "less_with_less_load"
    if effect.by_load:
        return "less_below_own_load"
    if set(effect.sources) == {"statics"}:
        return "less_by_statics"
    by = "experience" if _EXPERIENCE.issuperset(effect.sources) else "publications"
    added = (CUES[cue] for cue in new.cues if cue not in case.now.cues)
    postural = case.region == "shoulder" and any(cue.postural and cue.lowers("shoulder") for cue in added)
    return f"posture_by_{by}" if postural else f"less_by_{by}"


def _less(outcome: Outcome, case: Case) -> Message:
    """How much less a repetition asks of the sore region, with the span where there is one."""
    region, ratio = case.region, outcome.demand[case.region]
    spread = region in outcome.with_interval or region in outcome.of_arm
    sure = not spread or outcome.direction[region] == "lower"
    code, less = "repetition_asks_less" if sure else "repetition_may_ask_less", 1 - ratio.value
    least, most = round(1 - ratio.high, 2), min(1.0, round(1 - ratio.low, 2))
    if not spread or round(most - least, 2) <= _SAME_SPAN:
        return message(code, region=region, less=less)
    if least == 0:
        return message(f"{code}_up_to", region=region, less=less, most=most)
    if least > 0:
        return message(f"{code}_within", region=region, less=less, least=least, most=most)
    return message(f"{code}_or_more", region=region, less=less, more=-least, most=most)


def _moved(outcome: Outcome, case: Case) -> Iterator[Message]:
    """What other regions are asked for more."""
    for region, span in outcome.demand.items():
        if region == case.region or span.value <= CHOICES.adjustments.rise_worth_telling:
            continue
        sure = outcome.direction[region] == "higher"
        if hardly_loaded(case, region):
            present = abs(case.present.moments[REGIONS[region].whole])
            code = "moves_work_to_idle_region" if sure else "may_move_work_to_idle_region"
            yield message(code, region=region, moment=_moment(present * span.value), present=_moment(present))
        else:
            code = "asks_more_elsewhere" if sure else "may_ask_more_elsewhere"
            yield message(code, region=region, more=span.value - 1)
    higher = [
        region
        for region, direction in outcome.direction.items()
        if direction == "higher" and region not in outcome.demand and region != case.region
    ]
    if higher:
        yield message("asks_more_without_number", regions=higher)


def _moment(newton_metres: float) -> dict[str, float | str]:
    return {"value": newton_metres, "unit": "N·m"}


def _cost(outcome: Outcome, case: Case) -> Iterator[Message]:
    one, new = outcome.candidate, outcome.candidate.prescription
    if new.hold is None:
        yield _reserve(outcome, case)
    if case.only_sure and is_easy(one, case):
        yield message("easy_at_this_pain", limit=CHOICES.adjustments.amber_up_to)
    elif easy_by_exposure(case, one):
        yield message("easy_by_exposure", region=case.region, most=case.most_exposure)
    if one.stimulus.set_seconds is not None:
        yield message("set_lasts", seconds=duration(one.stimulus.set_seconds.value, "s"))
    if new.hold is None and new.weekly_sets != case.now.weekly_sets:
        code = "week_has_sets" if new.days is not None else "session_has_sets"
        yield message(code, sets=new.weekly_sets, present=case.now.weekly_sets)
    if unloads(one):
        yield message("effect_of_unloading", below=CHOICES.adjustments.unloading_below)
    else:
        yield _effect(one.stimulus.kept.index, untested=one.trial.untested)


def ramp_message(ramp: Ramp, unit: MassUnit) -> Message:
    """How the load of a new lift is found."""
    most, left = mass(ramp.at_most, unit), ramp.reserve
    if ramp.step is None:
        return message("ramp_at_its_end", most=most, left=left)
    return message("ramp", start=mass(ramp.start, unit), step=mass(ramp.step, unit), left=left, most=most)


def _expected(ramp: Ramp, unit: MassUnit) -> Iterator[Message]:
    """The load that the published ratio expects, or that there is none."""
    if ramp.step is None:
        return
    if ramp.expected is None:
        yield message("ramp_without_ratio")
        return
    least, greatest = (mass(round(end, 1), unit) for end in (ramp.expected.low, ramp.expected.high))
    yield message("ramp_with_ratio", least=least, greatest=greatest)


def _effect(kept: Interval, *, untested: bool) -> Message:
    """What is kept, with the span where there is one."""
    code = "effect_of_first_load" if untested else "effect_kept"
    if round(100 * kept.low) == round(100 * kept.high):
        return message(code, kept=kept.value)
    return message(f"{code}_within", kept=kept.value, least=kept.low, most=kept.high)


def _reserve(outcome: Outcome, case: Case) -> Message:
    one, left = outcome.candidate, reserve_said(outcome.candidate.prescription)
    present = case.now.counted_reserve
    if one.trial.untested:
        return message("reserve_of_first_guess", left=CHOICES.adjustments.untested_reserve)
    if is_far_from_failure(one.prescription):
        return message("reserve_far_from_failure", least=CHOICES.adjustments.far_from_failure, present=present)
    if below_published(case, one.stimulus.relative_load):
        return message("reserve_at_least", left=left, present=present)
    if left == int(present + 0.5):
        return message("reserve_as_now", left=left) if left else message("reserve_none_as_now")
    return message("reserve_about", left=left, present=present) if left else message("reserve_none", present=present)
