"""The chart of a consultation: its options each on a sheet, or in plain words why there is none and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from service.adjustment.consultation import Case, RuledOut
from service.adjustment.options.result import Outcome
from service.adjustment.prescription import Prescription
from service.adjustment.present import solved
from service.adjustment.text.chart import heading, sheet_title
from service.adjustment.text.decision import target_rule
from service.adjustment.text.option import first_later, reasons_in_short
from service.adjustment.text.prescription import prescription_words
from service.adjustment.text.ruled_out import reason_message, tried_message
from service.api.models.base import omitted
from service.api.operations._consultation.halt_chart import halt_notice, meanwhile_passages, notes, sentence
from service.api.operations.adjustments.basis import cautions_of_consultation
from service.api.operations.adjustments.consultation import Consultation, consult
from service.api.operations.adjustments.models import Adjustments
from service.charts.elements.demand_bars import Row
from service.charts.elements.layout import Sheet
from service.charts.elements.notice import Passage, notice
from service.charts.option_sheet import Choice, Present, option_sheets
from service.charts.posture.figure import Panel, panel_for
from service.intervals import exactly
from service.knowledge.catalogue import REGIONS
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import Body
from service.messages import Message, message
from service.units import MassUnit
from service.vocabulary import REGIONS as ALL_REGIONS
from service.vocabulary import SUMMED

_MOST_REASONS: Final = 8  # of what was tried without giving an option
_BY_NUMBERS: Final = frozenset({"peak", *SUMMED})  # what the bars themselves show to meet the target


def adjustments_chart(request: Adjustments) -> list[Sheet]:
    """The consultation on sheets, with the numbers of its answer. Raises Refusal as the answer does."""
    verdict = consult(request)
    if not isinstance(verdict, Consultation):
        return halt_notice(verdict, request.complaint.region)
    return _sheet(request, verdict)


def _sheet(request: Adjustments, consultation: Consultation) -> list[Sheet]:
    case, unit = consultation.case, request.prescription.load.unit
    body, region = case.present.body, REGIONS[case.region].name.lower()
    outcomes = consultation.selection.outcomes
    tolerated = not omitted(request.complaint.tolerated)
    rule = target_rule(case, consultation.pain, consultation.judgement, tolerated=tolerated)
    present = Present(
        sheet_title(case.now.exercise, case.region, len(outcomes)).text,
        prescription_words(case.now, unit),
        region,
        case.target,
        sentence(rule.text),
        _panel("now", body, case.now),
    )
    general = cautions_of_consultation(consultation, request.prescription)
    if not outcomes:
        return _no_option(present, consultation, general, unit)
    choices = [_choice(rank, option, case, unit) for rank, option in enumerate(outcomes, 1)]
    return option_sheets(present, choices, [message("index_of_effect").text, *(caution.text for caution in general)])


def _choice(rank: int, option: Outcome, case: Case, unit: MassUnit) -> Choice:
    new, now = option.candidate.prescription, case.now
    changed = (new.exercise, new.depth, new.technique) != (now.exercise, now.depth, now.technique)
    drawn = changed or rank == 1
    return Choice(
        heading(rank, option).text,
        prescription_words(new, unit),
        [] if option.candidate.meets_by in _BY_NUMBERS else [one.text for one in reasons_in_short(option, case, unit)],
        _demand(option, case),
        option.candidate.stimulus.kept.value,
        _panel(f"option {rank}", case.present.body, new) if drawn else None,
        _remark(new, now, drawn=drawn),
    )


def _remark(new: Prescription, now: Prescription, *, drawn: bool) -> str:
    """What is said where no posture is drawn; nothing for presses and pulls, which never have one."""
    if new.posture is not None:
        return "" if drawn else message("posture_as_now").text
    return message("posture_not_drawn").text if now.posture is not None else ""


def _demand(option: Outcome, case: Case) -> list[Row]:
    """Every region, the sore one first, the others in the answer's order.

    Where only the sum of a session or a week meets the target, that stands above it.

    Where no number of the region is known, the session's repetitions against now stand for its sum.
    """
    candidate = option.candidate
    by_session, by_week = (candidate.meets_by == summed for summed in SUMMED)
    rows = []
    if by_week:
        rows.append(Row("Repetitions, a week", exactly(candidate.stimulus.hard_sets), "lower", case.target))
    elif by_session and candidate.exposure is not None:
        name = f"{REGIONS[case.region].name}, a session"
        rows.append(Row(name, exactly(candidate.exposure), "lower", case.target))
    elif by_session:
        repetitions = candidate.prescription.reps_a_session / case.now.reps_a_session
        rows.append(Row("Repetitions, a session", exactly(repetitions), "lower", case.target))
    for region in dict.fromkeys((case.region, *(one for one in ALL_REGIONS if one in option.direction))):
        line = case.target if region == case.region and candidate.meets_by not in SUMMED else None
        rows.append(Row(REGIONS[region].name, option.demand.get(region), option.direction[region], line))
    return rows


def _panel(label: str, body: Body, prescription: Prescription) -> Panel | None:
    """The posture at the bottom; None without a planar model."""
    if prescription.posture is None:
        return None
    return panel_for(label, body, solved(body, prescription))


def _no_option(present: Present, consultation: Consultation, general: Sequence[Message], unit: MassUnit) -> list[Sheet]:
    tried = [_tried(one, unit) for one in consultation.selection.ruled_out]
    more, region = len(tried) - _MOST_REASONS, consultation.case.region
    red = consultation.judgement.tier == "red"
    return notice(
        present.title,
        [
            Passage("Now", [sentence(present.prescription)]),
            Passage(
                "Nothing allowed here reaches the target",
                [
                    f"{message('target_of_region', region=region, target=present.target).text} {present.rule}",
                    message("nothing_sure_of_the_lift", limit=CHOICES.adjustments.amber_up_to, region=region).text
                    if red
                    else message("allow_more").text,
                    *([] if consultation.later is None else [first_later(consultation.later, unit).text]),
                ],
            ),
            *meanwhile_passages(consultation.meanwhile),
            Passage(
                "What was tried",
                [
                    *(tried[:_MOST_REASONS] or [message("no_lever_was_left").text]),
                    *([message("and_more", more=more).text] if more > 0 else []),
                ],
            ),
            notes(general),
        ],
    )


def _tried(one: RuledOut, unit: MassUnit) -> str:
    tried = tried_message(one, unit)
    levers = ", ".join(one.levers).replace("_", " ")
    return ": ".join([levers, *([] if tried is None else [tried.text]), reason_message(one, unit).text])
