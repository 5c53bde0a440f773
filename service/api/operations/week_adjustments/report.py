"""The report of a week: what changes, the new week day by day, and what it asks of regions and muscles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

import msgspec

from service.adjustment.text.watch import what_to_watch
from service.api.models.report import Choice, Report, Table
from service.api.models.week import PlannedSession
from service.api.operations.week_adjustments.handler import week_adjustments
from service.api.operations.week_adjustments.models import WeekAdjustments, WeekAdjustmentsAnswer, WeekOption
from service.api.reports.parts import (
    basis_lines,
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
from service.messages import spoken

_TODAY: Final = frozenset(
    {"week_stop_today", "week_stop_today_by_rise", "week_from_next_session", "week_all_that_loads"}
)
"""Sentences of the decision that say what to do."""
_MEASURES: Final = ("linear", "squared", "tenth_power", "peak")


def week_adjustments_report(request: WeekAdjustments) -> Report:
    """The week for people. Raises Refusal as the answer does."""
    return report_of(request, week_adjustments(request))


def report_of(request: WeekAdjustments, answer: WeekAdjustmentsAnswer) -> Report:
    """The report of an answer."""
    region = request.complaint.region
    title = words("about_week", region=region)
    halted = stopped(title, region, answer, request.circumstances, pausable=answer, ask_first=answer.signs_to_ask)
    if halted is not None:
        return halted
    today = [one for one in answer.why if one.code in _TODAY]
    rest = [one for one in answer.why if one.code not in _TODAY]
    changes = [one.words for one in answer.options[0].changes] if answer.options else []
    do = [*texts(today), *changes]
    first = answer.options[0].cautions if answer.options else ()
    own = of_one_option(answer.cautions, [one.cautions for one in answer.options])
    red = answer.decision == "adjust" and answer.tier == "red"
    return Report(
        title=title,
        decision=headline("stop_today_of_week") if red else _headline(answer),
        stop=red,
        ask_first=signs_to_ask(answer.signs_to_ask),
        what_to_do=do or texts(rest[-1:]),
        when_to_stop=stop_lines(region),
        why=[*texts(rest), *(texts(answer.options[0].why) if answer.options else [])],
        watch=texts(what_to_watch()),
        signs=signs_of(region, request.circumstances),
        meanwhile=meanwhile_lines(answer.meanwhile),
        choices=[_choice(one, own) for one in answer.options],
        tables=[]
        if not answer.options
        else [_days(answer.options[0], request.week), _demand(answer), *_muscles(answer.options[0])],
        basis=[*([] if answer.target is None else [sentence(answer.target.rule.text)]), *basis_lines(answer.basis)],
        sources=source_names(answer.basis.sources),
        cautions=[one.text for one in answer.cautions if one.code not in own],
        lifters_cautions=lifters_cautions(answer.cautions, first),
    )


def _headline(answer: WeekAdjustmentsAnswer) -> str:
    if answer.decision == "adjust" and not answer.options:
        return headline("nothing_reaches")
    return headline(answer.decision)


def _choice(option: WeekOption, own: Mapping[str, str]) -> Choice:
    return Choice(
        words("table_week_option", rank=option.rank, relief=option.relief),
        [one.words for one in option.changes],
        texts(option.why),
        [own[code] for code in option.cautions if code in own],
    )


def _days(option: WeekOption, before: Sequence[PlannedSession]) -> Table:
    rows = [
        [
            words("table_on_day", day=one.day),
            _words(one, option),
            words("table_as_before" if one in before else "table_new"),
        ]
        for one in sorted(option.week, key=lambda session: session.day)
    ]
    return Table(
        words("table_new_week"),
        [words("table_day"), words("heading_what_to_do"), words("table_against_now")],
        rows,
        for_lifter=True,
    )


def _words(session: PlannedSession, option: WeekOption) -> str:
    """A lift of the new week as its change says it, which names a load that has still to be found; else as it stands."""
    line = spoken().prescriptions.line(_stated(session.prescription))
    name = line.partition(",")[0]
    begins = f"{words('table_on_day', day=session.day)}: "
    said = (text for change in option.changes for text in change.words.split("; "))
    return next((one.removeprefix(begins).rstrip(".") for one in said if one.startswith(f"{begins}{name},")), line)


def _stated(prescription: Any) -> dict[str, Any]:
    shown = msgspec.to_builtins(prescription)
    return {name: part for name, part in shown.items() if part is not None and part != []}


def _demand(answer: WeekAdjustmentsAnswer) -> Table:
    rows = [
        [str(option.rank), region_name(region), *(span(getattr(demand, name)) for name in _MEASURES)]
        for option in answer.options
        for region, demand in option.demand.items()
    ]
    caption = words("table_week_asks")
    if answer.target is not None:
        caption = words("table_week_asks_with_target", region=answer.target.region, target=answer.target.ratio)
    heading = [words("table_week"), words("table_region"), *(words(f"table_{name}") for name in _MEASURES)]
    return Table(caption, heading, rows)


def _muscles(option: WeekOption) -> list[Table]:
    rows = [
        [
            spoken().name("muscle", muscle),
            _sets(one.before),
            _sets(one.after),
            "–" if one.floor is None else _sets(one.floor),
            words("table_below_floor") if one.under_floor else "",
        ]
        for muscle, one in option.muscles.items()
    ]
    heading = ("table_muscle", "table_sets_now", "table_sets_then", "table_floor", "heading_remarks")
    return [Table(words("table_muscles"), list(map(words, heading)), rows)] if rows else []


def _sets(value: float) -> str:
    return spoken().kinds["number"].writer(".3g")(value)
