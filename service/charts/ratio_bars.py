"""Setups against a reference, by region or joint: a bar for each ratio, its span as a whisker, the verdict in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.axes import Scale, ticks
from service.charts.elements.bars import bar as drawn_bar
from service.charts.elements.bars import lines_of_text, whisker
from service.charts.elements.layout import Block, gap, paragraph, together
from service.charts.elements.text_layout import Span, clean, number, trimmed, wrapped
from service.charts.elements.theme import (
    BODY_SIZE,
    HEAD_SIZE,
    LINE_HEIGHT,
    MARGIN,
    Element,
    letters,
    line,
)
from service.vocabulary import Difference

_LABELS: Final = 190.0  # [px]
_PLOT: Final = 320.0  # [px]
_WORDS: Final = 330.0  # [px]
BARS_WIDTH: Final = 2 * MARGIN + _LABELS + _PLOT + _WORDS
_BAR: Final = 14.0  # [px]
_HIGHEST: Final = 980.0  # [px], of the bars of one block
_FURTHEST: Final = 4.0  # ratio beyond which the axis does not go: a whisker that does ends in an arrow
_TOLERANCE: Final = 1e-9
_LONGEST_TITLE: Final = 120  # letters


class Bar(Struct, frozen=True):
    """One setup.

    Attributes:
        label: as the caller named it
        ratio: to the reference with its span, None where there is none [1]
        difference: the verdict where it does not rest on the span of the ratio
    """

    label: str
    ratio: Span | None
    difference: Difference | None = None


class BarGroup(Struct, frozen=True):
    """The setups at one region or joint.

    Attributes:
        name: of the region or joint
        bars: of the setups
    """

    name: str
    bars: Sequence[Bar]


def compared_title(what: str, labels: Sequence[str]) -> str:
    """What is compared: the setups by their labels, or where those are many and long their number.

    Args:
        what: of them is shown
        labels: of the setups, as the caller named them
    """
    title = f"{what}: {', '.join(labels)}"
    return title if len(title) <= _LONGEST_TITLE else f"{what}: {len(labels)} setups"


def comparison_bars(title: str, groups: Sequence[BarGroup]) -> list[Block]:
    """Bars of every setup's ratio to the reference, with the line at 1.

    Args:
        title: what is compared with what
        groups: by region or joint

    Returns:
        One block, or several with an axis of their own where there are too many bars for a sheet.

    Raises:
        ValueError: without any bar
    """
    if not any(group.bars for group in groups):
        raise ValueError("There is nothing to compare.")
    head = paragraph(title, "head", f"{title}. Ratios to the reference.", width=BARS_WIDTH)
    scale = _axis(groups)
    first, *others = [_block(run, scale) for run in _runs(groups)]
    return [together([head, gap(MARGIN / 2), first]), *others]


def _runs(groups: Sequence[BarGroup]) -> Iterator[list[BarGroup]]:
    """As many groups together as a sheet has room for."""
    run: list[BarGroup] = []
    for group in groups:
        if run and sum(map(_group_height, [*run, group])) > _HIGHEST:
            yield run
            run = []
        run.append(group)
    yield run


def _block(groups: Sequence[BarGroup], scale: Scale) -> Block:
    height = sum(map(_group_height, groups)) + 2 * LINE_HEIGHT + MARGIN
    return Block(height, lambda top: _drawn(groups, scale, top), " ".join(map(_in_words, groups)))


def _drawn(groups: Sequence[BarGroup], scale: Scale, top: float) -> Iterator[Element]:
    bottom = top + sum(map(_group_height, groups))
    yield from _grid(scale, top, bottom)
    y = top
    for group in groups:
        name = wrapped(group.name, BARS_WIDTH - 2 * MARGIN, HEAD_SIZE, 1)[0]
        yield letters(name, MARGIN, y + LINE_HEIGHT, "head")
        y += LINE_HEIGHT + 6
        for bar in group.bars:
            height = _row_height(bar)
            yield from _row(bar, scale, y, height)
            y += height
        y += MARGIN / 2
    one = scale.at(1.0)
    yield line(one, top, one, bottom, "one")


def verdict(bar: Bar) -> str:
    """The text beside a bar: the ratio, its span, and what follows from them."""
    if bar.ratio is None:
        return "no ratio" if bar.difference is None else f"no ratio, {_words(bar.difference)}"
    ratio = bar.ratio
    if ratio.low == ratio.high == 1.0:
        return f"{number(1.0, 2)}, as the reference"
    span = f" ({number(ratio.low, 2)} to {number(ratio.high, 2)})" if ratio.low < ratio.high else ""
    return f"{number(ratio.value, 2)}{span}, {_words(_difference(bar.difference, ratio))}"


def _words(difference: Difference) -> str:
    return difference.replace("_", " ")


def _difference(stated: Difference | None, ratio: Span) -> Difference:
    if stated is not None:
        return stated
    if ratio.high < 1.0 - _TOLERANCE:
        return "lower"
    return "higher" if ratio.low > 1.0 + _TOLERANCE else "no_clear_difference"


def _axis(groups: Sequence[BarGroup]) -> Scale:
    ratios = [bar.ratio for group in groups for bar in group.bars if bar.ratio is not None]
    low = max(-_FURTHEST, min([0.0, *(ratio.low for ratio in ratios)]))
    high = min(_FURTHEST, 1.05 * max([1.2, *(ratio.high for ratio in ratios)]))
    start = MARGIN + _LABELS
    return Scale(low, high, start, start + _PLOT)


def _grid(scale: Scale, top: float, bottom: float) -> Iterator[Element]:
    for tick in ticks(scale.low, scale.high, 7):
        x = scale.at(tick)
        yield line(x, top, x, bottom, "grid")
        yield letters(trimmed(tick), x, bottom + LINE_HEIGHT, "quiet", anchor="middle")
    yield line(scale.start, bottom, scale.end, bottom, "axis")
    yield letters(
        "ratio to the reference; lines: its span; dashed: the reference; the word: on average",
        scale.start,
        bottom + 2 * LINE_HEIGHT + 4,
        "quiet",
    )


def _row(bar: Bar, scale: Scale, top: float, height: float) -> Iterator[Element]:
    middle = top + height / 2
    yield from lines_of_text(_label(bar), MARGIN, middle)
    yield letters(verdict(bar), scale.end + 14, middle + 4)
    if bar.ratio is None:
        return
    ratio = bar.ratio
    style = {"lower": "lower", "higher": "higher", "no_clear_difference": "unclear"}[_difference(bar.difference, ratio)]
    yield drawn_bar(ratio.value, scale, middle, _BAR, style, data_ratio=f"{ratio.value:.6g}")
    yield from whisker(ratio, scale, middle)


def _label(bar: Bar) -> list[str]:
    return wrapped(bar.label, _LABELS - 12, BODY_SIZE)


def _row_height(bar: Bar) -> float:
    return max(_BAR + 10, LINE_HEIGHT * len(_label(bar)) + 6)


def _group_height(group: BarGroup) -> float:
    return LINE_HEIGHT + 6 + sum(map(_row_height, group.bars)) + MARGIN / 2


def _in_words(group: BarGroup) -> str:
    bars = "; ".join(f"{clean(bar.label)} {verdict(bar)}" for bar in group.bars)
    return f"{clean(group.name)}: {bars}."
