"""What comes before any option: red flags, what a professional has to confirm, and pain that pauses or changes nothing."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TypeAlias

import msgspec

from service.adjustment.meanwhile import meanwhile
from service.adjustment.text.complaint import asked_first, lasting
from service.adjustment.text.decision import asked_by_pain, unchanged, unchanged_rule
from service.adjustment.text.pause import pause_words
from service.adjustment.text.stop import because_of
from service.adjustment.triage import Confirmation, Judgement, Referral, Stop, stop_before_planning
from service.api.models.base import omitted
from service.api.models.clearance import Circumstances, ConfirmationAnswer, circumstances_of, confirm, once_confirmed
from service.api.models.common import Basis
from service.api.models.complaint import Complaint, judged_of, pain_of, told_of
from service.api.models.constraints import Constraints, allowed_of, loads_of
from service.api.models.pause import MeanwhileGroup, PauseAnswer, basis_of_pause, meanwhile_answer, paused
from service.api.models.referral import ReferralAnswer, refer
from service.knowledge.catalogue import EXERCISES
from service.messages import Message, message
from service.units import MassUnit
from service.vocabulary import AdjustmentDecision, Tier


class NoChange(msgspec.Struct, frozen=True):
    """Pain in the tier in which training goes on as it is."""

    judgement: Judgement


class Paused(msgspec.Struct, frozen=True):
    """Pain at which nothing that loads the region is prescribed.

    Attributes:
        judgement: which score, by which rule
        meanwhile: ids of exercises that load none of it, by muscle
    """

    judgement: Judgement
    meanwhile: dict[str, tuple[str, ...]]


Halt: TypeAlias = Stop | Paused | NoChange
"""Why no option is looked for."""


class Halted(msgspec.Struct, frozen=True, kw_only=True):
    """What is answered where no option is looked for, as the answers of both consultations have it."""

    decision: AdjustmentDecision
    tier: Tier
    why: list[Message]
    basis: Basis
    signs_to_ask: list[str] = []
    referral: ReferralAnswer | None = None
    confirmation: ConfirmationAnswer | None = None
    pause: PauseAnswer | None = None
    meanwhile: list[MeanwhileGroup] = []
    confirmed: Sequence[Message] = ()


def halt(
    complaint: Complaint,
    circumstances: Circumstances | msgspec.UnsetType,
    limits: Constraints,
    unit: MassUnit,
    stopped: Collection[str],
) -> Halt | None:
    """What comes before any option; None where options are to be looked for. A red flag outranks everything.

    limits: what may be changed; unit: of the loads; stopped: ids of the exercises that hurt. Raises Refusal for a region
    named twice and an impossible gym.
    """
    stop = stop_before_planning(complaint.signs, circumstances_of(circumstances))
    if stop is not None:
        return stop
    told_of(complaint)
    judgement = judged_of(complaint)
    if judgement.tier == "pause":
        return Paused(judgement, without_region(complaint, limits, unit, stopped))
    if judgement.tier == "green" and omitted(complaint.tolerated):
        return NoChange(judgement)
    return None


def without_region(
    complaint: Complaint, limits: Constraints, unit: MassUnit, stopped: Collection[str]
) -> dict[str, tuple[str, ...]]:
    """What loads neither the sore region nor one to be spared, of what may and can be done, by muscle.

    What is stopped is none of it: it hurt, whatever the catalogue says of what it loads.
    """
    loads = loads_of(limits, unit)
    usable = allowed_of(limits, [one for one in EXERCISES if one not in stopped and loads.can_lift(one)])
    return meanwhile({complaint.region, *complaint.also, *limits.spare}, usable)


def halted(verdict: Halt, complaint: Complaint, circumstances: Circumstances | msgspec.UnsetType) -> Halted:
    """The same as it is answered."""
    judgement, region = judged_of(complaint), complaint.region
    by_pain = asked_by_pain(judgement, region, pain_of(complaint).morning_rise)
    if isinstance(verdict, Referral):
        referral, basis = refer(verdict)
        return Halted(
            decision="refer",
            tier=judgement.tier,
            why=[*because_of(verdict), *(by_pain if verdict.leaves_training else ()), referral.what_to_do],
            basis=basis,
            referral=referral,
            pause=paused(judgement, region) if verdict.leaves_training else None,
        )
    told = told_of(complaint)
    signs = list(told.signs_to_ask())
    if isinstance(verdict, Confirmation):
        first, basis = confirm(verdict)
        return Halted(
            decision="confirm_first",
            tier=judgement.tier,
            why=[*asked_first(told), *by_pain, *first.what_to_do],
            basis=basis,
            confirmation=first,
            pause=paused(judgement, region),
            signs_to_ask=signs,
        )
    if isinstance(verdict, Paused):
        words = pause_words(judgement, region, something_else=bool(verdict.meanwhile))
        return Halted(
            decision="pause_and_review",
            tier=judgement.tier,
            why=[*asked_first(told), *words, *lasting(told)],
            basis=basis_of_pause(),
            pause=paused(judgement, region),
            meanwhile=meanwhile_answer(verdict.meanwhile),
            confirmed=once_confirmed(circumstances_of(circumstances)),
            signs_to_ask=signs,
        )
    return Halted(
        decision="no_change_needed",
        tier=judgement.tier,
        why=[*asked_first(told), *unchanged(judgement), *lasting(told)],
        basis=_basis_of_no_change(judgement),
        signs_to_ask=signs,
    )


def _basis_of_no_change(judgement: Judgement) -> Basis:
    """The basis of what stays as it is."""
    return Basis(
        method=unchanged_rule(judgement),
        sources=["thomee_1997", "silbernagel_2007", "childs_2005", "downie_2013", "design_choice"],
        assumptions=[message("assumed_no_sign"), message("assumed_noise")],
        evidence="practice",
    )
