"""What week-adjustments is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.adjustment.week.worked import Relief
from service.api.models.base import RequestModel, ResponseModel
from service.api.models.by_region import ByRegion
from service.api.models.clearance import Circumstances, ConfirmationAnswer
from service.api.models.common import Basis, Estimate, whole
from service.api.models.complaint import Complaint
from service.api.models.constraints import WhatMayChange
from service.api.models.lifter import Lifter
from service.api.models.pause import MeanwhileGroup, PauseAnswer
from service.api.models.referral import ReferralAnswer
from service.api.models.week import MOST_LIFTS, Day, PlannedSession, Week
from service.messages import Message
from service.vocabulary import AdjustmentDecision, Aim, Lever, Region, Tier, Weighting

Entry = Annotated[float, whole(0, MOST_LIFTS - 1)]
Entries = Annotated[list[Entry], Meta(max_length=MOST_LIFTS)]
KindOfChange = Literal["changed", "replaced", "left_out", "added", "more_sets", "moved"]


class WeekConstraints(WhatMayChange, kw_only=True, frozen=True):
    """What may be changed of a week and what there is. Left out: everything.

    Attributes:
        staying: Places of lifts in `week`, counted from 0, that stay as they are, their day included.
        days: Days of the week on which the lifter can train, 1 to 7. Left out: every day.
    """

    staying: Entries = []
    days: Annotated[list[Day], Meta(min_length=1, max_length=7)] | UnsetType = UNSET


class WeekAdjustments(RequestModel, kw_only=True, frozen=True):
    """A week that hurts: the lifter, its lifts, the complaint and the aim.

    Attributes:
        lifter: Who lifts.
        week: The lifts of the week as it is done now, up to 40.
        complaint: What hurts, how much and how.
        hurts: Places in `week` of the lifts that hurt, counted from 0 (the first lift is 0). Empty: not known.
        aim: What the lifter trains for.
        circumstances: What a professional has to confirm first. Left out: nothing of the kind.
        constraints: What may be changed and what there is. Left out: everything.
        limit: Most options in the answer.
    """

    lifter: Lifter
    week: Week
    complaint: Complaint
    hurts: Entries = []
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: WeekConstraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 5)] = 3


class WeekTarget(ResponseModel, kw_only=True, frozen=True):
    """The share of its present size to which the region's week is brought.

    Attributes:
        region: The sore region.
        ratio: That share: 0.85 is 15 % less.
        weighting: The weighting under which it is meant.
        rule: The rule that says so.
    """

    region: Region
    ratio: float
    weighting: Weighting
    rule: Message


class WeekChange(ResponseModel, kw_only=True, frozen=True):
    """One part of a change of the week.

    Attributes:
        entries: Places in the week that was asked about, from 0; of a lift that is added the next after them.
        kind: What becomes of them.
        levers: By which kinds of change.
        words: The lift as a coach would say it.
    """

    entries: list[int]
    kind: KindOfChange
    levers: list[Lever]
    words: str


class DemandOfWeek(ResponseModel, kw_only=True, frozen=True):
    """What the new week asks of a region against now: 0.8 is a fifth less.

    Attributes:
        linear: Each repetition counted by its moment as it is.
        squared: Each repetition counted by its moment squared; on the scale of a moment.
        tenth_power: Each repetition counted by the tenth power of its moment; on the scale of a moment.
        peak: The largest moment of the week.
    """

    linear: Estimate
    squared: Estimate
    tenth_power: Estimate
    peak: Estimate


class WeekDemandByRegion(ByRegion[DemandOfWeek], kw_only=True, frozen=True):
    """What a new week asks of each region whose demand is computed, against the present week."""


class MuscleOfOption(ResponseModel, kw_only=True, frozen=True):
    """Fractional sets a week of a muscle; those that only steady it are left out.

    Attributes:
        before: Sets now.
        after: Sets in the new week.
        floor: Below which the muscle is taken to get too little, as in week-demand of the present week; null where that
            does not train it.
        under_floor: Whether the new week is below the floor.
    """

    before: float
    after: float
    floor: float | None
    under_floor: bool


class WeekOption(ResponseModel, kw_only=True, frozen=True):
    """A whole new week to choose.

    Attributes:
        rank: Its place in the order in which to try them, from 1.
        changes: What is changed.
        week: Every lift on its day; any operation takes the prescriptions as they are.
        relief: How sure it is that the sore region is asked for less.
        falls: The weightings under which its week falls, the whole interval.
        demand: What the week asks of regions against now.
        muscles: By id, the muscles whose sets change or are restored.
        why: What it takes off, what it moves elsewhere and what is restored.
        cautions: Codes of what to mind, whose words are among the cautions of the answer.
    """

    rank: int
    changes: list[WeekChange]
    week: list[PlannedSession]
    relief: Relief
    falls: list[Weighting]
    demand: WeekDemandByRegion
    muscles: dict[str, MuscleOfOption]
    why: list[Message]
    cautions: list[str]


class WeekAdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The decision and why, and the weeks in the order in which to try them.

    Attributes:
        decision: What follows for the week.
        tier: What the highest pain allows.
        why: The decision in words for the lifter.
        signs_to_ask: Ids of the red flags to ask about before anything else, where the complaint came on suddenly, see
            GET /v1/signs. Left out where there is nothing to ask.
        referral: How urgently and because of which signs. Left out where no red flag was reported.
        confirmation: What a professional has to confirm first. Left out where nothing has to.
        pause: Why nothing that loads the region is prescribed. Left out where something may be.
        meanwhile: What can be trained where nothing may load the region. Left out where something may.
        target: What the region's week is brought to. Left out where none is set.
        options: The new weeks, the first to try first; empty unless the decision is `adjust`.
        considered: How many weeks were put together.
        basis: Where the numbers come from.
        cautions: What to mind, of the whole answer, and once what options name by code.
    """

    decision: AdjustmentDecision
    tier: Tier
    why: list[Message]
    signs_to_ask: list[str] = []
    referral: ReferralAnswer | None = None
    confirmation: ConfirmationAnswer | None = None
    pause: PauseAnswer | None = None
    meanwhile: list[MeanwhileGroup] = []
    target: WeekTarget | None = None
    options: list[WeekOption]
    considered: int
    basis: Basis
    cautions: list[Message]
