"""What rows of bars are made of: the bar from nought to its value, the whisker of its span, lines of text beside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import drawsvg as draw

from service.charts.elements.axes import Scale
from service.charts.elements.palette import look_of
from service.charts.elements.text_layout import Span
from service.charts.elements.theme import LINE_HEIGHT, Element, coordinate, letters, line

_CAP: Final = 5.0  # [px], half of the line at the end of a whisker
_ARROW: Final = 6.0  # [px], length of the arrow head where a span goes beyond the axis


def bar(value: float, scale: Scale, middle: float, height: float, style: str, **names: str) -> Element:
    """A bar from nought to a value.

    Args:
        value: where it ends, in the unit of the axis [any]
        scale: the axis
        middle: of the bar, from above [px]
        height: of the bar [px]
        style: names of looks
        names: further attributes, never a caller's text

    Returns:
        The element.
    """
    start, end = sorted((scale.at(0.0), scale.at(value)))
    return draw.Rectangle(
        coordinate(start), coordinate(middle - height / 2), coordinate(end - start), height, **look_of(style), **names
    )


def whisker(span: Span, scale: Scale, middle: float, cap: float = _CAP) -> Iterator[Element]:
    """A span as a line with its ends, an arrow head where one lies beyond the axis; nothing of a span without width.

    Args:
        span: in the unit of the axis [any]
        scale: the axis
        middle: of the line, from above [px]
        cap: half of the line at each end [px]

    Returns:
        The elements.
    """
    low, high = scale.at(span.low), scale.at(span.high)
    if span.low < span.high:
        yield line(low, middle, high, middle, "whisker")
    for x, beyond, inward in ((low, span.low < scale.low, _ARROW), (high, span.high > scale.high, -_ARROW)):
        if beyond or span.low < span.high:
            base = x + inward if beyond else x
            yield draw.Lines(
                *map(coordinate, (base, middle - cap, x, middle, base, middle + cap)), **look_of("whisker")
            )


def lines_of_text(texts: Sequence[str], x: float, middle: float, style: str = "") -> Iterator[Element]:
    """Lines of text beside a bar.

    Args:
        texts: the lines
        x: where they start [px]
        middle: of all of them, from above [px]
        style: names of looks

    Returns:
        The elements.
    """
    first = middle - LINE_HEIGHT * (len(texts) - 1) / 2 + 4
    for row, text in enumerate(texts):
        yield letters(text, x, first + LINE_HEIGHT * row, style)
