"""What week-adjustments is asked and what it answers."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from service.adjustment.week.worked import Relief
from service.api.models.base import RequestModel, ResponseModel
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

Entry = Annotated[float, whole(0, MOST_LIFTS - 1, "Place of a lift in the week, from 0.")]
Entries = Annotated[list[Entry], Meta(max_length=MOST_LIFTS)]
KindOfChange = Literal["changed", "replaced", "left_out", "added", "more_sets", "moved"]


class WeekConstraints(WhatMayChange, kw_only=True, frozen=True):
    """What may be changed of a week and what there is. Left out: every lever, every exercise, the usual bar, every day.

    exercises: that may come into the week; exclude: that may not. spare: regions that may be asked for no more than now
    under any weighting. staying: places of lifts that stay as they are, their day included. days: of the week on which
    the lifter can train.
    """

    staying: Entries = []
    days: Annotated[list[Day], Meta(min_length=1, max_length=7)] | UnsetType = UNSET


class WeekAdjustments(RequestModel, kw_only=True, frozen=True):
    """A week that hurts: the lifter, its lifts, the complaint and the aim; hurts: places of the lifts that hurt, where that is known."""

    lifter: Lifter
    week: Week
    complaint: Complaint
    hurts: Entries = []
    aim: Aim
    circumstances: Circumstances | UnsetType = UNSET
    constraints: WeekConstraints | UnsetType = UNSET
    limit: Annotated[float, whole(1, 5, "Most options in the answer, 1 to 5.")] = 3


class WeekTarget(ResponseModel, kw_only=True, frozen=True):
    """The share of its present size to which the region's week is brought, under which weighting, and the rule that says so."""

    region: Region
    ratio: float
    weighting: Weighting
    rule: Message


class WeekChange(ResponseModel, kw_only=True, frozen=True):
    """One part of a change: places in the week, what kind it is, by which levers, and the lift as a coach would say it.

    entries: places of the week that was asked about; of a lift that is added the next after them. left_out: not done
    until it is known to be painless, and not among the lifts of the new week.
    """

    entries: list[int]
    kind: KindOfChange
    levers: list[Lever]
    words: str


class DemandOfWeek(ResponseModel, kw_only=True, frozen=True):
    """What the new week asks of a region against now: its size under each weighting, on the scale of a moment, and the largest moment."""

    linear: Estimate
    squared: Estimate
    tenth_power: Estimate
    peak: Estimate


class MuscleOfOption(ResponseModel, kw_only=True, frozen=True):
    """Fractional sets a week of a muscle now and in the new week, those that only steady it left out, and its floor as in week-demand of the present week, null where that does not train it."""

    before: float
    after: float
    floor: float | None
    under_floor: bool


class WeekOption(ResponseModel, kw_only=True, frozen=True):
    """A whole new week, every prescription of which any operation takes as it is.

    relief: sure where the sore region's week falls under every weighting, the whole interval; of_computed where what is
    computed of it does, and other lifts load the region too; mixed where it does not fall under all (falls: those under
    which it does); by_direction where nothing that changes is computed; spacing where only the days change. demand: by region where it is
    computed; muscles: those whose sets change or are restored. cautions: codes, whose words are among the cautions of the answer.
    """

    rank: int
    changes: list[WeekChange]
    week: list[PlannedSession]
    relief: Relief
    falls: list[Weighting]
    demand: dict[str, DemandOfWeek]
    muscles: dict[str, MuscleOfOption]
    why: list[Message]
    cautions: list[str]


class WeekAdjustmentsAnswer(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """The decision and why, in words for the lifter, and the weeks in the order in which to try them.

    tier, signs_to_ask, referral, confirmation, pause, meanwhile: as in adjustments. target: null where none is set.
    considered: weeks that were put together.
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
