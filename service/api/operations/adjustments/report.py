"""The report of a consultation: what to do now, the options beside it, and where the numbers come from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from msgspec.structs import replace

from service.adjustment.text.decision import STOPS_TODAY
from service.adjustment.text.watch import what_to_watch
from service.api.models.report import Choice, Report, Table
from service.api.operations.adjustments.handler import adjustments
from service.api.operations.adjustments.models import Adjustments, AdjustmentsAnswer, Option
from service.api.reports.parts import (
    basis_lines,
    demand_cells,
    headline,
    lifters_cautions,
    meanwhile_lines,
    of_one_option,
    region_name,
    sentence,
    signs_of,
    signs_to_ask,
    source_names,
    span,
    stop_lines,
    stopped,
    texts,
    words,
)
from service.knowledge.message_templates import PHRASES, TEMPLATES
from service.messages import Message, message

_TODAY: Final = STOPS_TODAY | {"from_next_session"}
"""Sentences of the decision that say what to do."""
_HOW: Final = PHRASES.keys() & TEMPLATES.keys() | {
    "ramp",
    "ramp_at_its_end",
    "reserve_of_first_guess",
    "rest_between_sets",
}
"""How an option is set up and its load found; cues, and how a load is held, go by how their codes begin."""
_HOW_BEGINS: Final = ("cue_", "held_", "shins_further", "sound_side")
_NO_OPTION: Final = frozenset(
    {"nothing_sure_of_the_lift", "nothing_known_to_do_that", "lighter_bar_may_do", "first_later"}
)


def adjustments_report(request: Adjustments) -> Report:
    """The consultation for people, from its whole answer. Raises Refusal as the answer does."""
    return report_of(request, adjustments(replace(request, detail="full")))


def report_of(request: Adjustments, answer: AdjustmentsAnswer) -> Report:
    """The report of an answer, which is one in full."""
    region = request.complaint.region
    title = words("about_lift", exercise=request.prescription.exercise, region=region)
    halted = stopped(title, region, answer, request.circumstances, pausable=answer, ask_first=answer.signs_to_ask)
    if halted is not None:
        return halted
    today = [one for one in answer.why if one.code in _TODAY]
    do = [*today, *_what_to_do(answer)]
    said = {one.code for one in do}
    first = answer.options[0].cautions if answer.options else ()
    own = of_one_option(answer.cautions, [one.cautions for one in answer.options])
    return Report(
        title=title,
        decision=_headline(answer),
        stop=answer.tier == "red",
        ask_first=signs_to_ask(answer.signs_to_ask),
        what_to_do=[*texts(today), *([answer.options[0].words] if answer.options else []), *texts(do[len(today) :])],
        when_to_stop=stop_lines(region),
        why=[one.text for one in answer.why if one.code not in said],
        watch=texts(what_to_watch()),
        signs=signs_of(region, request.circumstances),
        meanwhile=meanwhile_lines(answer.meanwhile),
        choices=[_choice(one, own) for one in answer.options],
        tables=_tables(answer),
        basis=[*([] if answer.target is None else [sentence(answer.target.rule.text)]), *basis_lines(answer.basis)],
        sources=source_names([*answer.basis.sources, *(source for one in answer.options for source in one.sources)]),
        cautions=[one.text for one in answer.cautions if one.code not in own],
        lifters_cautions=lifters_cautions(answer.cautions, first),
    )


def _headline(answer: AdjustmentsAnswer) -> str:
    if answer.decision == "adjust" and answer.tier == "red":
        return headline("stop_today")
    if answer.decision == "adjust" and not answer.options:
        return headline("nothing_reaches")
    return headline(answer.decision)


def _what_to_do(answer: AdjustmentsAnswer) -> Sequence[Message]:
    """How the first option is done; what there is without one."""
    if answer.options:
        first = answer.options[0]
        return [one for one in first.why[1:] if one.code in _HOW or one.code.startswith(_HOW_BEGINS)]
    if answer.decision == "no_change_needed":
        return [message("keep_prescription"), *(one for one in answer.why if one.code == "ask_again")]
    return [one for one in answer.why if one.code in _NO_OPTION]


def _choice(option: Option, own: Mapping[str, str]) -> Choice:
    levers = list(option.levers)
    heading = message("option_heading", rank=option.rank, levers=levers)
    if option.program is not None:
        heading = message("program_heading", rank=option.rank, levers=levers, program=option.program)
    return Choice(
        heading.text,
        [option.words],
        texts(option.why[1:]),
        [own[code] for code in option.cautions if code in own],
    )


def _tables(answer: AdjustmentsAnswer) -> list[Table]:
    if not answer.options or answer.target is None:
        return []
    sore = answer.target.region
    regions = list(dict.fromkeys([*_sore(sore, answer.options), *(r for o in answer.options for r in o.demand)]))
    rows = [
        [str(one.rank), one.words, *demand_cells(one.demand, regions), span(one.stimulus.kept)]
        for one in answer.options
    ]
    caption = words("table_demand", region=sore, target=answer.target.ratio)
    heading = [
        words("table_option"),
        words("table_prescription"),
        *map(region_name, regions),
        words("table_effect_kept"),
    ]
    return [Table(caption, heading, rows)]


def _sore(region: str, options: Sequence[Option]) -> list[str]:
    return [region] if any(region in one.demand for one in options) else []
