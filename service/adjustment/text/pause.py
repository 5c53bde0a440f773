"""A paused region in messages: which score is above which limit, what to do, and who looks at it when."""

from __future__ import annotations

from service.adjustment.triage import Judgement
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Region

URGENCY = "urgent_refer"
"""How soon a professional looks at a region that is not to be loaded before: as signs of that urgency ask for."""


def pause_rule(judgement: Judgement, region: Region) -> Message:
    """The rule that paused the region; the judgement is one that does."""
    limits = CHOICES.adjustments
    limit = {
        "pain_at_rest": limits.at_rest_up_to,
        "above_again": limits.amber_up_to,
        "severe_pain": limits.red_up_to,
    }[judgement.rule]
    felt = {"pain": judgement.pain, "moment": judgement.moment}
    return message(f"pause_{judgement.rule}", **felt, limit=limit, region=region)


def professional_first(judgement: Judgement) -> bool:
    """Whether nothing loads the region again before a professional has looked at it, however the pain goes."""
    return judgement.rule != "severe_pain"


def look_again_days(judgement: Judgement) -> int:
    """When the pain is asked about again [days]: at once after a professional had to look at it."""
    pause = CHOICES.adjustments.pause
    return pause.professional_within_days if professional_first(judgement) else pause.look_again_days


def when_a_professional(judgement: Judgement) -> list[Message]:
    """When a professional has to look at it."""
    limits, days = CHOICES.adjustments, CHOICES.adjustments.pause.professional_within_days
    if professional_first(judgement):
        first = message("pause_professional_first", days=days)
    else:
        first = message("pause_professional_if", limit=limits.amber_up_to, days=days, at_rest=limits.at_rest_up_to)
    return [first, message("pause_professional_at_once")]


def pause_words(judgement: Judgement, region: Region, *, something_else: bool) -> list[Message]:
    """What a coach can read aloud; something_else: whether anything is left to be trained meanwhile."""
    return [
        pause_rule(judgement, region),
        message("pause_stop", region=region),
        message("pause_meanwhile" if something_else else "pause_no_meanwhile", region=region),
        message("pause_look_again", days=look_again_days(judgement)),
        *when_a_professional(judgement),
    ]
