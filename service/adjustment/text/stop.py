"""Why nothing is planned, and what to do first: for red flags and for circumstances that have to be confirmed."""

from __future__ import annotations

from typing import Final

from service.adjustment.triage import Referral, Stop
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import Sign
from service.messages import Message, from_facts, message

_LIMITS: Final = {"at_rest": CHOICES.adjustments.at_rest_up_to}
"""The limits of ours that a sign may name."""


def what_to_do(stop: Stop) -> list[Message]:
    """What the lifter does first."""
    if isinstance(stop, Referral):
        return [message(f"urgency_{stop.urgency.id}")]
    return [message(f"before_{one.id}") for one in stop.conditions]


def stop_rule(stop: Stop) -> Message:
    """What the coach does with the training."""
    return message(f"stop_rule_{stop.urgency.id}" if isinstance(stop, Referral) else "no_plan_before_confirmation")


def sign_words(sign: Sign) -> Message:
    """A sign in plain words."""
    return from_facts(f"sign_{sign.id}", _LIMITS)


def because_of(stop: Stop) -> list[Message]:
    """The signs, the most urgent first, or the circumstances."""
    if isinstance(stop, Referral):
        return list(map(sign_words, stop.signs))
    return [message(f"confirm_{one.id}") for one in stop.conditions]
