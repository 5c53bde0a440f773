"""The decision of a consultation in messages that a coach can read aloud to the lifter."""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Case
from service.adjustment.text.pause import pause_rule
from service.adjustment.triage import Judgement, Pain
from service.adjustment.triage import first_step as share_of_first_step
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Region

STOPS_TODAY: Final = frozenset({"stop_today", "stop_today_by_rise", "week_stop_today", "week_stop_today_by_rise"})
"""Sentences that say that a lift, or what hurts of a week, stops for today."""


def first_step(case: Case, pain: Pain, judgement: Judgement, options: int, *, full: bool) -> list[Message]:
    """Why the lift is changed, and what to do with the options.

    Args:
        case: the consultation
        pain: as reported
        judgement: what it allows
        options: options that are shown [count]
        full: with what their order goes by
    """
    return [
        message("region_hurts", region=case.region, pain=pain.in_session),
        *(stop_today(pain, judgement) if judgement.tier == "red" else ()),
        *_what_is_aimed_at(case),
        *([message("order_of_options")] if full and options > 1 else []),
        _what_then(case, judgement, options),
    ]


def _what_is_aimed_at(case: Case) -> list[Message]:
    """What the region is to carry, or why nothing can be said of that and what to make sure of first."""
    region, exercise = case.region, case.now.exercise
    if not case.hardly_asked:
        step = message("first_step", region=region, target=case.target)
        return [step] if case.load_relieves else [step, message("load_is_not_the_lever", region=region)]
    code = "asks_next_to_nothing" if region in EXERCISES[exercise].regions else "not_known_to_load"
    return [message(code, region=region, exercise=exercise), message("confirm_the_complaint", region=region)]


def _what_then(case: Case, judgement: Judgement, options: int) -> Message:
    if options:
        return message("one_option_at_a_time")
    if judgement.tier == "red":
        return message("nothing_sure_of_the_lift", limit=CHOICES.adjustments.amber_up_to, region=case.region)
    return message("nothing_known_to_do_that")


def stop_today(pain: Pain, judgement: Judgement) -> list[Message]:
    """Pain in the red tier: the lift stops for today, and what is left of it from the next session on."""
    return [_today(judgement, pain.morning_rise), message("from_next_session")]


def _today(judgement: Judgement, rise: float | None) -> Message:
    limits = CHOICES.adjustments
    if judgement.rule == "morning_rise":
        return message("stop_today_by_rise", pain=judgement.pain, rise=rise, limit=limits.green_up_to)
    return message("stop_today", pain=judgement.pain, moment=judgement.moment, limit=limits.amber_up_to)


def asked_by_pain(judgement: Judgement, region: Region, morning_rise: float | None) -> list[Message]:
    """What pain alone stops, where signs or circumstances by themselves leave the region in training; nothing up to amber.

    Args:
        judgement: what the pain allows
        region: that hurts
        morning_rise: of the next morning above the usual, None where it is not known [points]
    """
    if judgement.pause_rule is not None:
        return [pause_rule(judgement, region), message("pause_stop", region=region)]
    return [_today(judgement, morning_rise)] if judgement.tier == "red" else []


def unchanged(judgement: Judgement) -> list[Message]:
    """Why nothing is changed, and when that would no longer hold."""
    limits = CHOICES.adjustments
    again = message("ask_again", green=limits.green_up_to, rise=limits.real_change)
    felt = {"pain": judgement.pain, "moment": judgement.moment}
    return [message("training_goes_on", **felt, green=limits.green_up_to), again]


def unchanged_rule(judgement: Judgement) -> Message:
    """The rule by which nothing is changed."""
    felt = {"pain": judgement.pain, "moment": judgement.moment}
    return message("rule_of_green_tier", **felt, green=CHOICES.adjustments.green_up_to)


def target_rule(case: Case, pain: Pain, judgement: Judgement, *, tolerated: bool) -> Message:
    """The rule that sets the target; tolerated: whether a load is stated that does not hurt."""
    if not case.load_relieves:
        return message("rule_beside_tolerated_load", target=share_of_first_step(judgement.tier))
    return message("rule_of_tolerated_load") if tolerated else rule_of_pain(pain, judgement)


def rule_of_pain(pain: Pain, judgement: Judgement) -> Message:
    """The rule by which pain sets the target."""
    limits, red = CHOICES.adjustments, judgement.tier == "red"
    values: dict[str, object] = {
        "pain": judgement.pain,
        "above": limits.amber_up_to if red else limits.green_up_to,
        "most": limits.red_up_to if red else limits.amber_up_to,
        "target": share_of_first_step(judgement.tier),
    }
    if judgement.rule == "morning_rise":
        return message("rule_of_morning_rise", **values, rise=pain.morning_rise)
    return message("rule_of_highest_score", **values, moment=judgement.moment)
