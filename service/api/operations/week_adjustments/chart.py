"""The chart of a week's consultation: the first new weeks before and after, or in words why there is none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.week.muscles import sets_of_muscles
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.worked import NewWeek
from service.api.models.common import Estimate
from service.api.operations._consultation.halt_chart import halt_notice, meanwhile_passages, notes
from service.api.operations.week_adjustments.consultation import WeekConsultation, consult
from service.api.operations.week_adjustments.handler import answered
from service.api.operations.week_adjustments.models import (
    DemandOfWeek,
    KindOfChange,
    WeekAdjustments,
    WeekAdjustmentsAnswer,
    WeekOption,
)
from service.charts.elements.demand_bars import Row
from service.charts.elements.layout import Sheet
from service.charts.elements.notice import Passage, notice
from service.charts.week.change_sheet import NewWeekPart, change_sheets
from service.charts.week.compared_grid import compared_grid
from service.charts.week.grid import WEIGHTING_WORDS
from service.charts.week.muscle_bars import MuscleRow
from service.intervals import Interval, exactly
from service.knowledge.catalogue import REGIONS
from service.knowledge.muscles import MUSCLES
from service.messages import message
from service.vocabulary import WEIGHTINGS, Direction, Weighting

_MOST_DRAWN: Final = 3
_WORDS: Final[dict[KindOfChange, str]] = {
    "changed": "changed",
    "replaced": "new here",
    "left_out": "left out",
    "added": "added",
    "more_sets": "more sets",
    "moved": "moved here",
}
_SAME: Final = 1e-6
"""Of a ratio [1]: less than this from 1 comes from rounding, and no answer shows it."""


def week_adjustments_chart(request: WeekAdjustments) -> list[Sheet]:
    """The consultation on sheets, with the numbers of its answer. Raises Refusal as the answer does."""
    verdict = consult(request)
    if not isinstance(verdict, WeekConsultation):
        return halt_notice(verdict, request.complaint.region)
    answer, case = answered(request, verdict), verdict.case
    if not answer.options:
        return _in_words(message("sheet_without_weeks", region=case.region).text, verdict, answer)
    title = message("sheet_of_weeks", region=case.region, options=len(answer.options)).text
    if not case.now():
        return _in_words(title, verdict, answer)
    drawn = list(zip(answer.options, verdict.chosen.weeks, strict=True))[:_MOST_DRAWN]
    more = len(answer.options) - len(drawn)
    return change_sheets(
        title,
        [one.text for one in answer.why],
        [_part(option, new, case, verdict.chosen.weighting) for option, new in drawn],
        [
            *([message("weeks_not_drawn", more=more).text] if more else []),
            *(caution.text for caution in answer.cautions),
        ],
    )


def _part(option: WeekOption, new: NewWeek, case: WeekCase, meant: Weighting) -> NewWeekPart:
    words = {entry: _WORDS[change.kind] for change in option.changes for entry in change.entries}
    spans = sets_of_muscles(one.prescription for one in new.week)
    return NewWeekPart(
        message(f"week_option_{option.relief}", rank=option.rank).text,
        [f"{change.kind.replace('_', ' ').capitalize()}: {change.words}" for change in option.changes],
        [one.text for one in option.why],
        [*_sore(option.demand[case.region], case, meant), *_others(option, case)],
        compared_grid(case, new, words),
        [
            MuscleRow(
                MUSCLES[muscle].name, _spanned(one.after, spans.get(muscle)), one.floor, one.under_floor, one.before
            )
            for muscle, one in option.muscles.items()
        ],
    )


def _spanned(sets: float, counted: Interval | None) -> Interval:
    """Sets that count towards a floor, with the span from direct ones alone to every set counted whole."""
    return exactly(sets) if counted is None else Interval(sets, min(sets, counted.low), max(sets, counted.high))


def _sore(demand: DemandOfWeek, case: WeekCase, meant: Weighting) -> Iterator[Row]:
    """The sore region by each way of counting and at its peak, the target where it is meant."""
    name = REGIONS[case.region].name
    for weighting in WEIGHTINGS:
        target = case.target if weighting == meant else None
        yield _row(f"{name}, {WEIGHTING_WORDS[weighting]}", getattr(demand, weighting), target)
    yield _row(f"{name}, largest moment", demand.peak, None)


def _others(option: WeekOption, case: WeekCase) -> Iterator[Row]:
    """Every other region whose week changes, by the way of counting in which it comes out highest."""
    for region, demand in option.demand.items():
        ratios = {weighting: getattr(demand, weighting) for weighting in WEIGHTINGS}
        if region == case.region or all(abs(ratio.value - 1.0) < _SAME for ratio in ratios.values()):
            continue
        highest = max(WEIGHTINGS, key=lambda weighting: ratios[weighting].value)
        yield _row(f"{REGIONS[region].name}, {WEIGHTING_WORDS[highest]}", ratios[highest], None)


def _row(name: str, ratio: Estimate, target: float | None) -> Row:
    return Row(name, Interval(ratio.value, ratio.low, ratio.high), _direction(ratio), target)


def _direction(ratio: Estimate) -> Direction:
    if ratio.high < 1.0:
        return "lower"
    return "higher" if ratio.low > 1.0 else "no_clear_difference"


def _in_words(title: str, verdict: WeekConsultation, answer: WeekAdjustmentsAnswer) -> list[Sheet]:
    """The answer without drawings: where there is no new week, or nothing of the region is computed to be drawn."""
    return notice(
        title,
        [
            Passage("What to do", [one.text for one in answer.why]),
            *(
                Passage(
                    message(f"week_option_{one.relief}", rank=one.rank).text,
                    [*(change.words for change in one.changes), *(reason.text for reason in one.why)],
                )
                for one in answer.options
            ),
            *meanwhile_passages(verdict.meanwhile),
            notes(answer.cautions),
        ],
    )
