"""The decision of a consultation in messages that a coach can read aloud to the lifter."""

from __future__ import annotations

from service.adjustment.consultation import Case
from service.adjustment.triage import Pain
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Band


def first_step(case: Case, pain: Pain, options: int) -> list[Message]:
    """Why the lift is changed, and what to do with the options.

    Args:
        case: the consultation
        pain: as reported
        options: options that are shown [count]
    """
    return [
        message("region_hurts", region=case.region, pain=pain.in_session),
        message("first_step", region=case.region, target=case.target),
        message("one_option_at_a_time" if options else "nothing_known_to_do_that"),
    ]


def unchanged(pain: Pain) -> list[Message]:
    """Why nothing is changed, and when that would no longer hold."""
    limits = CHOICES.adjustments
    again = message("ask_again", green=limits.green_up_to, rise=limits.real_change, amber=limits.amber_up_to)
    return [message("training_goes_on", pain=pain.in_session), again]


def unchanged_rule(pain: Pain) -> Message:
    """The rule by which nothing is changed."""
    return message("rule_of_green_band", pain=pain.in_session, green=CHOICES.adjustments.green_up_to)


def target_rule(level: Band, *, tolerated: bool) -> Message:
    """The rule that sets the target; tolerated: whether a load is stated that does not hurt."""
    if tolerated:
        return message("rule_of_tolerated_load")
    return message("rule_of_first_step", band=level, target=CHOICES.adjustments.first_step[level])
