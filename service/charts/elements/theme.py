"""What all charts are drawn with: an accessible canvas, lines of text and straight lines, in looks of the palette."""

from __future__ import annotations

from typing import Any, Final, TypeAlias
from zlib import crc32

import drawsvg as draw

from service.charts.elements.palette import lettering, look_of, stylesheet
from service.charts.elements.text_layout import clean, width_of

Element: TypeAlias = Any  # what is drawn: the drawing library has no types of its own

BODY_SIZE: Final = 13  # [px]
HEAD_SIZE: Final = 15  # [px]
LINE_HEIGHT: Final = 18  # [px]
MARGIN: Final = 16.0  # [px]
FONTS: Final = "system-ui, sans-serif"


def canvas(width: float, height: float, title: str, description: str) -> Element:
    """An empty drawing with its title, its text alternative, the shared style and a background.

    Args:
        width: natural width [px]
        height: natural height [px]
        title: short name
        description: text alternative with the chart's numbers

    Returns:
        A drawing that takes elements by append and extend.
    """
    title, description = clean(title), clean(description)
    key = f"{crc32((title + description).encode()):08x}"  # two figures in one page must not share an id
    names = f"figure-title-{key}", f"figure-text-{key}"
    drawing = draw.Drawing(
        round(width),
        round(height),
        class_="figure",
        role="img",
        aria_labelledby=" ".join(names),
        font_family=FONTS,
    )
    drawing.append_css(stylesheet())
    drawing.append(draw.Title(title, id=names[0]))
    alternative = draw.Title(description, id=names[1])
    alternative.TAG_NAME = "desc"
    drawing.append(alternative)
    drawing.append(draw.Rectangle(0, 0, round(width), round(height), **look_of("paper")))
    return drawing


def letters(
    content: str, x: float, y: float, style: str = "", *, anchor: str = "start", size: int = BODY_SIZE
) -> Element:
    """One line of text.

    Args:
        content: escaped by the drawing library
        x: of the anchor [px]
        y: of the base line [px]
        style: name of a look
        anchor: start, middle or end
        size: of the font [px]

    Returns:
        The element.
    """
    return draw.Text(clean(content), size, coordinate(x), coordinate(y), text_anchor=anchor, **lettering(style))


def backing(content: str, x: float, y: float, *, anchor: str = "start", size: int = BODY_SIZE) -> Element:
    """What keeps a line of text readable on lines and bands, to be drawn before it.

    Args:
        content: the text
        x: of its anchor [px]
        y: of its base line [px]
        anchor: start, middle or end
        size: of its font [px]

    Returns:
        The element.
    """
    width = width_of(clean(content), size)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * width
    return draw.Rectangle(
        coordinate(left), coordinate(y - 0.9 * size), coordinate(width), 1.2 * size, **look_of("backing")
    )


def line(x1: float, y1: float, x2: float, y2: float, style: str, **names: str) -> Element:
    """A straight line.

    Args:
        x1: of the start [px]
        y1: of the start [px]
        x2: of the end [px]
        y2: of the end [px]
        style: names of looks
        names: further attributes, never a caller's text

    Returns:
        The element.
    """
    return draw.Line(coordinate(x1), coordinate(y1), coordinate(x2), coordinate(y2), **look_of(style), **names)


def coordinate(pixels: float) -> float:
    """A coordinate as finely as it is worth writing down.

    Args:
        pixels: across or down [px]

    Returns:
        The coordinate to a hundredth [px].
    """
    return round(pixels, 2)


def svg(drawing: Element) -> str:
    """The drawing as SVG text."""
    return str(drawing.as_svg())
