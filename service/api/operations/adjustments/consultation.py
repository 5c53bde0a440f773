"""From the request to what the domain makes of it: a referral, something to confirm, a pause, no change, or a case with its options."""

from __future__ import annotations

from typing import Final, TypeAlias

import msgspec

from service.adjustment.clearance import Circumstances
from service.adjustment.complaint import Complaint
from service.adjustment.consultation import Case
from service.adjustment.options.result import Outcome
from service.adjustment.options.selection import Selection, select
from service.adjustment.triage import Judgement, Pain
from service.api.models.base import omitted, or_default
from service.api.models.clearance import circumstances_of
from service.api.models.complaint import judged_of, pain_of, told_of
from service.api.models.constraints import Constraints
from service.api.operations._consultation.case import LiftAsked, case_of
from service.api.operations._consultation.gate import Halt, halt, without_region
from service.api.operations.adjustments.models import Adjustments
from service.knowledge.design_choices import CHOICES

_SCORES: Final = ("pain_in_session", "pain_next_morning")


class Consultation(msgspec.Struct, frozen=True):
    """A consultation that was searched.

    Attributes:
        case: what was searched
        complaint: as it is told
        pain: as reported
        judgement: what the pain allows
        circumstances: of the lifter; what needs a professional's confirmation has it
        selection: the options and what fell
        meanwhile: where no option is left in the red tier, exercises that do not load the region, by muscle
        later: there, what would come first once the pain is in the tier below; None elsewhere, and where nothing would
    """

    case: Case
    complaint: Complaint
    pain: Pain
    judgement: Judgement
    circumstances: Circumstances
    selection: Selection
    meanwhile: dict[str, tuple[str, ...]]
    later: Outcome | None


Verdict: TypeAlias = Halt | Consultation


def consult(request: Adjustments) -> Verdict:
    """What the consultation comes to. A red flag outranks everything; raises Refusal for what no method covers."""
    complaint, limits = request.complaint, or_default(request.constraints, Constraints())
    unit, stopped = request.prescription.load.unit, [request.prescription.exercise]
    verdict = halt(complaint, request.circumstances, limits, unit, stopped)
    if verdict is not None:
        return verdict
    judgement, told = judged_of(complaint), told_of(complaint)
    case = case_of(LiftAsked(request.lifter, request.prescription, complaint, request.aim, limits), told, judgement)
    selection = select(case, int(request.limit))
    stops = case.only_sure and not selection.ranked
    instead = without_region(complaint, limits, unit, stopped) if stops else {}
    circumstances = circumstances_of(request.circumstances)
    return Consultation(
        case, told, pain_of(complaint), judgement, circumstances, selection, instead, _later(request) if stops else None
    )


def _later(request: Adjustments) -> Outcome | None:
    """What would be tried first with the pain at the upper end of the amber tier; None where nothing would."""
    complaint, most = request.complaint, CHOICES.adjustments.amber_up_to
    scores = {name: min(getattr(complaint, name), most) for name in _SCORES if not omitted(getattr(complaint, name))}
    milder = msgspec.structs.replace(complaint, **scores)
    judgement, limits = judged_of(milder), or_default(request.constraints, Constraints())
    if judgement.tier != "amber":
        return None
    asked = LiftAsked(request.lifter, request.prescription, milder, request.aim, limits)
    return next(iter(select(case_of(asked, told_of(milder), judgement), 1).outcomes), None)
