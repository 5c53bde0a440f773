"""The way back from an adjusted prescription to the original one, as every operation asks for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, get_args

from msgspec import Meta
from msgspec.structs import replace

from service.adjustment.prescription import Prescription, total_load
from service.adjustment.present import peak_moments, present_demand
from service.adjustment.return_plan.kept import keeping, kept_of
from service.adjustment.return_plan.plan import Step
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.sore_region import check_loaded
from service.adjustment.text.return_plan import trial_messages
from service.adjustment.week.rise import WeekAround
from service.api.models.base import ResponseModel
from service.api.models.gym import GymLoads, check_held
from service.api.models.lifter import Lifter, body_of
from service.api.models.prescription import Prescription as PrescriptionModel
from service.api.models.prescription import lifters_prescription
from service.api.models.prescription_shown import shown
from service.api.models.setup import located
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.units import Mass, MassUnit, mass
from service.vocabulary import KeptForGood, Region, TrialReason

Keep = Annotated[list[KeptForGood], Meta(max_length=len(get_args(KeptForGood)))]


class TrialSetAnswer(ResponseModel, kw_only=True, frozen=True):
    """A single set that has to go well before a step is taken.

    Attributes:
        reason: Why a test comes first.
        prescription: The set to be done.
        warm_up: Loads of the warm-up sets to it, the lightest first.
        text: What to do and what has to hold, in plain words.
    """

    reason: TrialReason
    prescription: PrescriptionModel
    warm_up: list[Mass]
    text: list[Message]


def way_back(
    lifter: Lifter,
    original: PrescriptionModel,
    adjusted: PrescriptionModel,
    region: Region,
    *,
    loads: GymLoads,
    step: float = CHOICES.return_plan.step,
    weeks_off: float = 0.0,
    tolerated: float | None = None,
    adjusted_name: str = "adjusted",
    week: WeekAround | None = None,
    keep: Sequence[KeptForGood] = (),
) -> ReturnCase:
    """The return to be searched.

    loads: what can be loaded; step: largest rise in a week, of the original's demand; tolerated: load of the original lift [kg]; adjusted_name: of the field with the adjusted prescription; week: of which the lift is a part; keep: what of the adjusted prescription is kept for good.
    Raises Refusal with pointers into the request.
    """
    body = body_of(lifter)
    end = lifters_prescription(original, lifter, "/original")
    now = lifters_prescription(adjusted, lifter, f"/{adjusted_name}", as_basis=False)
    if week is not None and week.listed and now.days is None:
        now = replace(now, days=week.listed)
    kept = kept_of(now, end, keep)
    end = keeping(end, now, kept)
    start = _completed(now, end)
    if not total_load(end, body.mass) and total_load(start, body.mass):
        raise Refusal.one(
            f"{adjusted_name}/load",
            "The original has no load, and to none no way back from a load can be measured.",
            "0",
        )
    try:
        present = present_demand(body, end, sore=region)
    except Refusal as refusal:
        raise located(refusal, "/original", original, lifter) from None
    try:
        peak_moments(body, present.as_lifted(start))
    except Refusal as refusal:
        raise located(refusal, f"/{adjusted_name}", adjusted, lifter) from None
    if start.exercise != end.exercise:
        check_loaded(end.exercise, region, "region")
    check_held(loads, end, original.load.unit, "original")
    check_held(loads, start, adjusted.load.unit, adjusted_name)
    return ReturnCase(
        present,
        start,
        region,
        step,
        weeks_off,
        loads.down,
        tolerated,
        week,
        kept,
        now.days,
    )


def cautions_of_keep(case: ReturnCase, keep: Sequence[KeptForGood]) -> list[str | Message]:
    """What is kept for good of what is wished for, and what is not since it belongs to another lift."""
    left = set(keep) - set(case.kept)
    return [
        *([message("kept_for_good", kept=list(case.kept))] if case.kept else []),
        *([message("left_with_the_lift", before=case.adjusted.exercise, after=case.original.exercise)] if left else []),
    ]


def _completed(adjusted: Prescription, original: Prescription) -> Prescription:
    """The adjusted prescription with the original's tempo, rest and days where it states none, or the original none."""
    return replace(
        adjusted,
        tempo=adjusted.tempo or original.tempo,
        rest=original.rest if adjusted.rest is None else adjusted.rest,
        days=original.days if original.days is None or adjusted.days is None else adjusted.days,
    )


def trial_set(case: ReturnCase, before: Prescription, step: Step, unit: MassUnit) -> TrialSetAnswer | None:
    """The test before a step, None where none is needed; before: what is done before the step."""
    if step.test is None:
        return None
    return TrialSetAnswer(
        reason=step.test.reason,
        prescription=shown(step.test.prescription, unit),
        warm_up=[mass(load, unit) for load in step.test.warm_up],
        text=trial_messages(case, before, step, unit),
    )
