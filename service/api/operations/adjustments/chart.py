"""The picture of a consultation: its options on one sheet, or in plain words why there is none and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from msgspec import UNSET

from service.adjustment.prescription import Prescription
from service.adjustment.text.prescription import prescription_words
from service.api.models.common import Caution, reps_range
from service.api.models.lifter import Lifter, body_of
from service.api.models.prescription import AdjustedPrescription, prescription_of
from service.api.models.setup import depth_of, technique_of
from service.charts.elements.demand_bars import Row
from service.charts.elements.notice import Passage, notice
from service.charts.option_sheet import Choice, Present, option_sheet
from service.charts.posture.figure import Panel, panel_for
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import Body
from service.mechanics.demand import setup_demand
from service.units import si

if TYPE_CHECKING:
    from service.api.models.referral import ReferralAnswer
    from service.api.operations.adjustments.models import Adjustments, AdjustmentsAnswer, Option, TargetAnswer

_REASONS_TOLD: Final = 8  # of what was tried without giving an option
_KEPT_NOTE: Final = "Training effect kept: an index of our own, from sets, effort and relative load."


def picture(request: Adjustments, answer: AdjustmentsAnswer) -> str:
    """The answer as SVG text, with the numbers that it gives."""
    if answer.referral is not None:
        return referral_notice(answer.referral, answer.cautions)
    if answer.target is None:
        return _unchanged(answer)
    body, now = body_of(request.lifter), prescription_of(request.prescription, request.lifter)
    region, count = REGIONS[answer.target.region].name.lower(), len(answer.options)
    present = Present(
        f"{EXERCISES[now.exercise].name}, sore {region}: {count or 'no'} option{'' if count == 1 else 's'}",
        prescription_words(now, request.prescription.load.unit),
        region,
        answer.target.ratio,
        _sentence(answer.target.rule),
        _panel("now", body, now),
    )
    if not answer.options:
        return _nothing_found(present, answer)
    choices = [_choice(option, answer.target, now, body, request) for option in answer.options]
    return option_sheet(present, choices, [_KEPT_NOTE, *(caution.text for caution in answer.cautions)])


def _choice(option: Option, target: TargetAnswer, now: Prescription, body: Body, request: Adjustments) -> Choice:
    new = meant(option.prescription, request.lifter)
    changed = (new.exercise, new.depth, new.technique) != (now.exercise, now.depth, now.technique)
    drawn = changed or option.rank == 1
    return Choice(
        _heading(option),
        prescription_words(new, request.prescription.load.unit),
        option.prescription.cues,
        _demand(option, target, new.reps_a_session / now.reps_a_session),
        option.stimulus.kept.value,
        _panel(f"option {option.rank}", body, new) if drawn else None,
        _remark(new, now, drawn=drawn),
    )


def _remark(new: Prescription, now: Prescription, *, drawn: bool) -> str:
    """What is said where no posture is drawn; nothing for presses and pulls, which never have one."""
    if new.exercise in EXERCISE_RULES:
        return "" if drawn else "Posture as now."
    return "No posture is drawn: no planar model covers this exercise." if now.exercise in EXERCISE_RULES else ""


def _demand(option: Option, target: TargetAnswer, repetitions: float) -> list[Row]:
    """Every region, the sore one first; where only the session's sum meets the target, that above it.

    repetitions: a session, against now; they stand for the session's sum where no number of the region is known.
    """
    by_session = option.meets_by == "session_exposure"
    rows = []
    if by_session and option.session_exposure is not None:
        name = f"{REGIONS[target.region].name}, a session"
        rows.append(Row(name, _exact(option.session_exposure), "lower", target.ratio))
    elif by_session:
        rows.append(Row("Repetitions, a session", _exact(repetitions), "lower", target.ratio))
    for region in dict.fromkeys((target.region, *option.direction)):
        found = option.demand.get(region)
        ratio = None if found is None else Interval(found.value, found.low, found.high)
        line = target.ratio if region == target.region and not by_session else None
        rows.append(Row(REGIONS[region].name, ratio, option.direction[region], line))
    return rows


def meant(shown: AdjustedPrescription, lifter: Lifter) -> Prescription:
    """An answer's prescription in SI."""
    helped = 0.0 if shown.assistance is None else si(shown.assistance)
    modelled = shown.exercise in EXERCISE_RULES
    return Prescription(
        shown.exercise,
        shown.sets,
        reps_range(shown.reps, "/reps"),
        si(shown.load) - helped,
        shown.reps_in_reserve,
        shown.days_per_week,
        None if shown.depth is None else depth_of(shown.depth),
        technique_of(UNSET if shown.technique is None else shown.technique, lifter) if modelled else None,
        shown.tempo,
        None if shown.rest is None else si(shown.rest),
        None if shown.hold is None else si(shown.hold),
    )


def _panel(label: str, body: Body, prescription: Prescription) -> Panel | None:
    """The posture at the bottom; None without a planar model."""
    if prescription.exercise not in EXERCISE_RULES:
        return None
    try:
        demand = setup_demand(
            body, prescription.exercise, prescription.load, prescription.depth, prescription.technique
        )
    except Refusal:
        # an answer's angles are rounded: at the very limit of a joint the rounded posture can lie beyond it
        return None
    return panel_for(label, body, demand)


def referral_notice(stop: ReferralAnswer, cautions: Sequence[Caution]) -> str:
    """A referral as a sheet of words: what to do first, then what happens to the training, then why."""
    confirm = stop.urgency == "confirm_first"
    reasons = [sign.text if confirm else f"{_label(sign.urgency)}: {sign.text}" for sign in stop.signs]
    return notice(
        "Confirm with a professional first" if confirm else "Stop and refer",
        [
            Passage("What to do now", [stop.what_to_do]),
            Passage("The training", [stop.stop_rule]),
            Passage("Because of", reasons),
            _notes(cautions),
        ],
    )


def _unchanged(answer: AdjustmentsAnswer) -> str:
    return notice(
        "No change needed",
        [
            Passage("What to do", ["Keep the prescription as it is, and ask for pain again next session and morning."]),
            Passage("Why", [_sentence(answer.basis.method)]),
            _notes(answer.cautions),
        ],
    )


def _nothing_found(present: Present, answer: AdjustmentsAnswer) -> str:
    tried = [f"{one.lever.replace('_', ' ')}: {one.reason}" for one in answer.ruled_out]
    more = len(tried) - _REASONS_TOLD
    return notice(
        present.title,
        [
            Passage("Now", [_sentence(present.prescription)]),
            Passage(
                "Nothing allowed here reaches the target",
                [
                    f"Target for the {present.region}: {100 * present.target:.0f} % of now or less. {present.rule}",
                    "Allow more levers or exercises, a lighter implement or smaller plates; or leave the lift out until it has been looked at.",
                ],
            ),
            Passage(
                "What was tried",
                [
                    *(tried[:_REASONS_TOLD] or ["Nothing: no lever was left."]),
                    *([f"and {more} more"] if more > 0 else []),
                ],
            ),
            _notes(answer.cautions),
        ],
    )


def _notes(cautions: Sequence[Caution]) -> Passage:
    return Passage("To know", [caution.text for caution in cautions])


def _heading(option: Option) -> str:
    *most, last = (lever.replace("_", " ") for lever in option.levers)
    levers = f"{', '.join(most)} and {last}" if most else last
    program = "" if option.program is None else f", {option.program.replace('_', ' ')} program"
    return f"{option.rank}. Change of {levers}{program}"


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}."


def _label(name: str) -> str:
    return name.replace("_", " ").capitalize()


def _exact(value: float) -> Interval:
    return Interval(value, value, value)
