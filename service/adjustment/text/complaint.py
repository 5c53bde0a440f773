"""A complaint as it is told, in messages that a coach can read aloud to the lifter."""

from __future__ import annotations

from service.adjustment.complaint import Complaint, is_one_sided
from service.adjustment.consultation import Case
from service.adjustment.options.result import Outcome
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message


def asked_first(complaint: Complaint) -> list[Message]:
    """The signs of a fresh injury that come before everything else, where it came on suddenly."""
    count = len(complaint.signs_to_ask())
    return [message("fresh_injury_signs_first", region=complaint.region, count=count)] if count else []


def as_told(case: Case) -> list[Message]:
    """What comes sooner or later because of how the complaint is told."""
    changing = (one for one in case.rules if one.prefers or one.puts_off or one.narrower_first or one.supported_soon)
    said = [message(f"told_{rule.id}") for rule in changing]
    return [*said, *([message("told_elsewhere_too", regions=list(case.also))] if case.also else [])]


def lasting(complaint: Complaint) -> list[Message]:
    """That a professional should look at a complaint that has lasted."""
    if complaint.weeks is None or complaint.weeks < CHOICES.complaint.weeks:
        return []
    return [message("professional_after_weeks", weeks=complaint.weeks, limit=CHOICES.complaint.weeks)]


def other_side(outcome: Outcome, case: Case) -> list[str]:
    """The code of what the sound side does, in a lift that is done on one side at a time."""
    new, side = outcome.candidate.prescription, case.sore_side
    if side is None or new.side != side or not is_one_sided(new.exercise):
        return []
    return ["sound_side_trains_on" if new.exercise == case.now.exercise else "sound_side_finds_its_load"]
