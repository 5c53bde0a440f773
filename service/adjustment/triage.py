"""What comes before any option: red flags, circumstances to be confirmed, and the tier that the reported pain sets.

The tiers up to 5 follow the pain-monitoring model (thomee_1997: 0 to 2, above 2 to 5, above 5; silbernagel_2007 for the
next morning). That pain above 7, pain above 5 at rest, and pain above 5 again after an adjustment pause a region is our
own choice, and so is the size of the first step: no study links a reduction of load to a pain score.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeAlias

import msgspec

from service.adjustment.clearance import Circumstances, to_confirm
from service.knowledge.confirmations import Condition
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES, Sign, Urgency
from service.vocabulary import PAUSE_RULES, TIERS, PainMoment, PauseRule, Tier, TierRule

PAIN_DECIMALS: Final = 9
"""Decimals kept of a difference of pain scores, so that 2.3 to 4.3 is a rise of 2."""


class Referral(msgspec.Struct, frozen=True):
    """What red flags ask for.

    Attributes:
        urgency: of the most urgent sign, which decides what to do
        signs: all that were reported, the most urgent first
    """

    urgency: Urgency
    signs: tuple[Sign, ...]

    @property
    def leaves_training(self) -> bool:
        """Whether what loads the region goes on as it is, so that pain may ask for more than the signs do."""
        return self.urgency.id == "hold_and_review"


class Confirmation(msgspec.Struct, frozen=True):
    """What a professional has to confirm before anything is planned; no red flag, and nobody is referred for it.

    Attributes:
        conditions: the circumstances, of which there is at least one
    """

    conditions: tuple[Condition, ...]


Stop: TypeAlias = Referral | Confirmation
"""Why nothing is planned: red flags, or circumstances that nobody has confirmed."""


class Pain(msgspec.Struct, frozen=True):
    """Pain scores from 0 to 10; None where not stated.

    Attributes:
        in_session: worst pain in the session [points]
        next_morning: pain the next morning [points]
        usual: pain that is usual in the morning [points]
        at_rest: pain at rest [points]
    """

    in_session: float
    next_morning: float | None = None
    usual: float | None = None
    at_rest: float | None = None

    @property
    def highest(self) -> tuple[PainMoment, float]:
        """When the highest score was felt, and that score [points]; of equal ones that in the session."""
        scores: dict[PainMoment, float | None] = {
            "in_session": self.in_session,
            "at_rest": self.at_rest,
            "next_morning": self.next_morning,
        }
        stated = [(moment, score) for moment, score in scores.items() if score is not None]
        return max(stated, key=lambda one: one[1])

    @property
    def morning_rise(self) -> float | None:
        """Pain next morning above the usual [points], None where it is not known."""
        if self.next_morning is None or self.usual is None:
            return None
        return round(self.next_morning - self.usual, PAIN_DECIMALS)


class Judgement(msgspec.Struct, frozen=True):
    """What pain allows, and why.

    Attributes:
        tier: what it allows
        rule: what decided that
        moment: when the score that decided was felt
        pain: that score [points]
    """

    tier: Tier
    rule: TierRule
    moment: PainMoment
    pain: float

    @property
    def pause_rule(self) -> PauseRule | None:
        """Why the region is paused, None where it is not."""
        return next((rule for rule in PAUSE_RULES if rule == self.rule), None)


def referral(signs: Sequence[str], age: float | None = None) -> Referral | None:
    """What the red flags ask for; None without any.

    The most urgent first; of equally urgent ones those that speak of the lifter's age, which is a reason to name them
    first and never one to leave the others out.

    Args:
        signs: ids that are known to exist
        age: age of the lifter, None where it is not stated [years]
    """
    if not signs:
        return None
    ordered = sorted(
        (SIGNS[sign] for sign in dict.fromkeys(signs)),
        key=lambda sign: (URGENCIES[sign.urgency].rank, -_fit(sign, age)),
    )
    return Referral(URGENCIES[ordered[0].urgency], tuple(ordered))


def _fit(sign: Sign, age: float | None) -> int:
    """1 for a sign of people of this age, -1 for one of people of another age, 0 for one of everybody."""
    if age is None or (sign.age_from is None and sign.age_below is None):
        return 0
    return 1 if sign.speaks_of(age) else -1


def stop_before_planning(signs: Sequence[str], circumstances: Circumstances) -> Stop | None:
    """Why nothing may be planned: red flags, which outrank everything, else circumstances that nobody has confirmed."""
    flagged = referral(signs, circumstances.age)
    if flagged is not None or circumstances.confirmed:
        return flagged
    conditions = to_confirm(circumstances)
    return Confirmation(conditions) if conditions else None


def judged(pain: Pain, *, after_adjustment: bool = False) -> Judgement:
    """What pain allows: by its highest score, and a tier above session and rest where the next morning really rose.

    Args:
        pain: as reported
        after_adjustment: whether it comes after an adjustment, or a session, that was to bring pain above 5 down

    Source: thomee_1997 for the limits of 2 and 5, childs_2005 for the size of a real rise; the rest is our own choice.
    """
    limits = CHOICES.adjustments
    moment, highest = pain.highest
    if pain.at_rest is not None and pain.at_rest > limits.at_rest_up_to:
        return Judgement("pause", "pain_at_rest", "at_rest", pain.at_rest)
    if after_adjustment and is_above_amber(pain):
        return Judgement("pause", "above_again", moment, highest)
    if highest > limits.red_up_to:
        return Judgement("pause", "severe_pain", moment, highest)
    tier = _tier(highest)
    raised = _raised(pain)
    if raised is None or TIERS.index(raised) <= TIERS.index(tier) or pain.next_morning is None:
        return Judgement(tier, "highest_score", moment, highest)
    return Judgement(raised, "morning_rise", "next_morning", pain.next_morning)


def _tier(score: float) -> Tier:
    """The tier of a score by itself."""
    limits = CHOICES.adjustments
    return TIERS[sum(score > limit for limit in (limits.green_up_to, limits.amber_up_to, limits.red_up_to))]


def _raised(pain: Pain) -> Tier | None:
    """One tier above that of the session and of rest, red at the most, where the next morning shows a real rise."""
    rise = pain.morning_rise
    if rise is None or rise < CHOICES.adjustments.real_change:
        return None
    before = _tier(max(pain.in_session, pain.at_rest or 0.0))
    return "red" if before in ("amber", "red") else "amber"


def is_above_amber(pain: Pain) -> bool:
    """Whether any score is above those of the amber tier."""
    return pain.highest[1] > CHOICES.adjustments.amber_up_to


def first_step(tier: Tier) -> float:
    """Share of its present demand to which a sore region is brought first [1]: by adjustments and by a step back alike.

    A step back after pain in the green tier, as for a bad morning, is the smaller one.
    """
    steps = CHOICES.adjustments.first_step
    return steps.amber if tier in ("green", "amber") else steps.red
