"""A consultation's options, each on a sheet: what to do, posture before and after, demand by region, effect kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.axes import Scale
from service.charts.elements.demand_bars import (
    VERDICTS,
    Row,
    directions_height,
    drawn_directions,
    drawn_rows,
    in_words,
    rows_height,
    shared_axis,
    sign,
)
from service.charts.elements.layout import Block, Sheet, gap, notes, paragraph, rule, sheets, together
from service.charts.elements.text_layout import clean, number, width_of
from service.charts.elements.theme import BODY_SIZE, LINE_HEIGHT, MARGIN, Element, letters, line
from service.charts.posture.comparison import LEGEND, common_scale, drawn_pair, pair_height, pair_in_words
from service.charts.posture.figure import Panel
from service.intervals import Interval

_KEY: Final = 26.0  # [px], a sign or line of the key
_KEPT: Final = "Training effect kept"


class Present(Struct, frozen=True):
    """What the options are compared with.

    Attributes:
        title: of the sheet
        prescription: as it is now, in words
        region: the sore one, in words
        target: share of its present demand [1]
        rule: why that target, in words
        panel: the present posture, None where no model covers the lift
    """

    title: str
    prescription: str
    region: str
    target: float
    rule: str
    panel: Panel | None


class Choice(Struct, frozen=True):
    """One option.

    Attributes:
        heading: rank and levers
        prescription: in words
        notes: instructions that come with it
        demand: of every region, the sore one first
        kept: index of the training effect [1]
        panel: its posture, None where it is not drawn
        remark: written instead of a posture
    """

    heading: str
    prescription: str
    notes: Sequence[str]
    demand: Sequence[Row]
    kept: float
    panel: Panel | None = None
    remark: str = ""


def option_sheets(present: Present, choices: Sequence[Choice], footnotes: Sequence[str]) -> list[Sheet]:
    """Each option on a sheet of its own, with bars on one axis.

    Args:
        present: what they are compared with
        choices: the options, the first to be tried first
        footnotes: paragraphs at the end of each

    Returns:
        The sheets, with the same numbers in their text alternatives.

    Raises:
        ValueError: without any option
    """
    if not choices:
        raise ValueError("There is no option to draw.")
    panels = [choice.panel for choice in choices if choice.panel is not None]
    if present.panel is not None:
        panels.append(present.panel)
    axis = shared_axis([row for choice in choices for row in _bars(choice)])
    scale = common_scale(panels) if panels else 0.0
    return sheets(
        present.title,
        [
            [
                *_now(present),
                rule(),
                *_option(present, choice, axis, scale),
                *notes(_footnotes(present, choice, footnotes)),
            ]
            for choice in choices
        ],
    )


def _now(present: Present) -> Iterator[Block]:
    target = f"Target for the {present.region}: {_percent(present.target)} of now or less."
    yield paragraph(f"Now: {present.prescription}.", words=f"Now: {present.prescription}.")
    yield paragraph(f"{target} {present.rule}", "quiet", target)
    yield gap(MARGIN / 4)
    yield Block(2 * LINE_HEIGHT, lambda top: _key(top, present))


def _option(present: Present, choice: Choice, axis: Scale, scale: float) -> Iterator[Block]:
    rows, others, pair = _bars(choice), _directions(choice), _pair(present, choice)
    yield paragraph(choice.heading, "head", f"{choice.heading}:")
    yield paragraph(f"{choice.prescription}.", words=f"{choice.prescription}.")
    yield from (paragraph(note, words=note) for note in choice.notes)
    yield gap(MARGIN / 2)
    if pair is not None:
        yield Block(pair_height(*pair, scale), lambda top: drawn_pair(*pair, scale, top), pair_in_words(*pair))
        yield gap(MARGIN / 2)
    elif choice.remark:
        yield paragraph(choice.remark, "quiet", choice.remark)
        yield gap(MARGIN / 2)
    yield Block(rows_height(rows, axis), lambda top: drawn_rows(rows, axis, top), _against_now(choice))
    if others:
        yield gap(MARGIN / 2)
        yield together(
            [
                paragraph("No number is known:", "quiet"),
                Block(directions_height(others), lambda top: drawn_directions(others, top)),
            ]
        )


def _footnotes(present: Present, choice: Choice, footnotes: Sequence[str]) -> list[str]:
    return [*([LEGEND] if _pair(present, choice) else []), *footnotes]


def _pair(present: Present, choice: Choice) -> tuple[Panel, Panel] | None:
    return None if present.panel is None or choice.panel is None else (present.panel, choice.panel)


def _bars(choice: Choice) -> list[Row]:
    """The sore region whatever is known of it, the others that have a number, and the effect kept."""
    rows = [row for index, row in enumerate(choice.demand) if index == 0 or row.ratio is not None]
    return [*rows, Row(_KEPT, Interval(choice.kept, choice.kept, choice.kept))]


def _directions(choice: Choice) -> list[Row]:
    return [row for row in choice.demand[1:] if row.ratio is None]


def _key(top: float, present: Present) -> Iterator[Element]:
    """What the lines and signs mean, in two lines."""
    middle, x = top + LINE_HEIGHT / 2, MARGIN
    for style, text in (
        ("one", "as now, 100 %"),
        ("goal", f"target, {_percent(present.target)}"),
        ("whisker", "span"),
    ):
        if style == "whisker":
            yield line(x, middle, x + _KEY - 8, middle, style)
        else:
            yield line(x + 8, middle - 8, x + 8, middle + 8, style)
        yield letters(text, x + _KEY, middle + 4, "quiet")
        x += _KEY + width_of(text, BODY_SIZE) + MARGIN
    middle, x = middle + LINE_HEIGHT, MARGIN
    for direction, text in VERDICTS.items():
        yield from sign(direction, x + 6, middle)
        yield letters(text, x + 16, middle + 4, "quiet")
        x += 16 + width_of(text, BODY_SIZE) + MARGIN


def _percent(share: float) -> str:
    return f"{number(100 * share, 0)} %"


def _against_now(choice: Choice) -> str:
    rows = [*choice.demand, Row(_KEPT, Interval(choice.kept, choice.kept, choice.kept))]
    return "Against now: " + "; ".join(f"{clean(row.name)} {in_words(row)}" for row in rows) + "."
