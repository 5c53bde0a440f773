"""The look that all charts share: colours for light and dark, lettering, line widths, and an accessible canvas.

Colours are custom properties of the figure itself, so that it follows the reader's scheme wherever it is shown. A
program that knows no custom properties keeps the light colours.
"""

from __future__ import annotations

from typing import Any, Final, TypeAlias
from zlib import crc32

import drawsvg as draw

from service.charts.elements.text_layout import clean

Element: TypeAlias = Any  # what is drawn: the drawing library has no types of its own

BODY_SIZE: Final = 13  # [px]
HEAD_SIZE: Final = 15  # [px]
LINE_HEIGHT: Final = 18  # [px]
MARGIN: Final = 16.0  # [px]

# Each colour in the light scheme and in the dark one.
PALETTE: Final[dict[str, tuple[str, str]]] = {
    "paper": ("#fbfaf7", "#15181c"),
    "ink": ("#21262c", "#e7e9ec"),
    "quiet": ("#565e68", "#a6afba"),
    "faint": ("#d3d6db", "#363c44"),
    "limb": ("#dfe2e7", "#333a43"),
    "bone": ("#59626d", "#aeb7c2"),
    "load": ("#2c3137", "#dfe3e8"),
    "knee": ("#0b6a80", "#5fc6dd"),
    "hip": ("#a3480c", "#f2a463"),
    "lumbosacral": ("#86307a", "#e294d6"),
    "plumb": ("#3f5a2c", "#9fcb82"),
    "lower": ("#2b7a52", "#62bd8c"),
    "higher": ("#a8432f", "#ef8d76"),
    "unclear": ("#7a828c", "#868f9a"),
    "band": ("#cfe1e6", "#23414b"),
}

_RULES: Final[dict[str, str]] = {
    "text": "font-family: system-ui, sans-serif; fill: {ink}",
    ".head": "font-weight: bold",
    ".strong": "font-weight: bold",
    ".quiet": "fill: {quiet}",
    ".paper": "fill: {paper}",
    ".limb": "fill: {limb}; stroke: {bone}; stroke-width: 1",
    ".bone": "fill: none; stroke: {bone}; stroke-width: 2; stroke-linecap: round",
    ".joint": "fill: {paper}; stroke: {bone}; stroke-width: 1.5",
    ".load": "fill: {load}; stroke: {paper}; stroke-width: 1.5",
    ".hub": "fill: {paper}",
    ".belt": "fill: none; stroke: {load}; stroke-width: 5; stroke-linecap: round",
    ".floor": "fill: none; stroke: {quiet}; stroke-width: 1.5",
    ".lift": "fill: {quiet}",
    ".guide": "fill: none; stroke: {quiet}; stroke-width: 1; stroke-dasharray: 2 3",
    ".leader": "fill: none; stroke: {quiet}; stroke-width: 0.75",
    ".plumb": "fill: none; stroke: {plumb}; stroke-width: 1.5; stroke-dasharray: 7 4",
    ".balance": "fill: {plumb}",
    ".arm": "fill: none; stroke-width: 3.5",
    ".weight": "fill: none; stroke-width: 1.25; stroke-dasharray: 3 2",
    ".knee": "stroke: {knee}",
    ".hip": "stroke: {hip}",
    ".lumbosacral": "stroke: {lumbosacral}",
    ".shoulder": "stroke: {hip}",
    ".elbow": "stroke: {knee}",
    "text.shoulder": "fill: {hip}; stroke: none",
    "text.elbow": "fill: {knee}; stroke: none",
    ".force": "fill: none; stroke: {plumb}; stroke-width: 2.5",
    "text.knee": "fill: {knee}; stroke: none",
    "text.hip": "fill: {hip}; stroke: none",
    "text.lumbosacral": "fill: {lumbosacral}; stroke: none",
    ".lower": "fill: {lower}",
    ".higher": "fill: {higher}",
    ".unclear": "fill: {unclear}",
    ".kept": "fill: {knee}",
    ".linear": "fill: {knee}",
    ".squared": "fill: {hip}",
    ".tenth": "fill: {lumbosacral}",
    ".before": "fill: {paper}; stroke: {bone}; stroke-width: 1.25",
    ".frame": "fill: none; stroke: {ink}; stroke-width: 2",
    ".goal": "fill: none; stroke: {ink}; stroke-width: 3.5",
    ".whisker": "fill: none; stroke: {ink}; stroke-width: 1.5",
    ".grid": "fill: none; stroke: {faint}; stroke-width: 1",
    ".axis": "fill: none; stroke: {quiet}; stroke-width: 1.25",
    ".one": "fill: none; stroke: {ink}; stroke-width: 1.5; stroke-dasharray: 5 3",
    ".band": "fill: {band}; stroke: none",
    ".tread": "fill: none; stroke: {knee}; stroke-width: 4",
    ".riser": "fill: none; stroke: {knee}; stroke-width: 1.5",
    ".session": "fill: none; stroke: {lumbosacral}; stroke-width: 1.75",
    ".untold": "fill: none; stroke: {quiet}; stroke-width: 3; stroke-dasharray: 4 3",
    ".gate": "fill: {hip}; stroke: {paper}; stroke-width: 1.5",
    ".curve": "fill: none; stroke: {knee}; stroke-width: 2.5; stroke-linejoin: round",
    ".done": "fill: {load}; stroke: {paper}; stroke-width: 1.5",
    ".target": "fill: {hip}; stroke: {paper}; stroke-width: 1.5",
    ".error": "fill: none; stroke: {hip}; stroke-width: 2",
    ".halo": "paint-order: stroke; stroke: {paper}; stroke-width: 4; stroke-linejoin: round",
}


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
    drawing = draw.Drawing(round(width), round(height), class_="figure", role="img", aria_labelledby=" ".join(names))
    drawing.append_css(stylesheet())
    drawing.append(draw.Title(title, id=names[0]))
    alternative = draw.Title(description, id=names[1])
    alternative.TAG_NAME = "desc"
    drawing.append(alternative)
    drawing.append(draw.Rectangle(0, 0, round(width), round(height), class_="paper"))
    return drawing


def stylesheet() -> str:
    """The style sheet of a chart: the palette for both schemes and the rules that use it."""
    light = "; ".join(f"--{name}: {pair[0]}" for name, pair in PALETTE.items())
    dark = "; ".join(f"--{name}: {pair[1]}" for name, pair in PALETTE.items())
    lines = [f".figure {{ {light} }}", f"@media (prefers-color-scheme: dark) {{ .figure {{ {dark} }} }}"]
    lines += [f".figure {selector} {{ {_declarations(rule)} }}" for selector, rule in _RULES.items()]
    return "\n".join(lines)


def letters(
    content: str, x: float, y: float, style: str = "", *, anchor: str = "start", size: int = BODY_SIZE
) -> Element:
    """One line of text.

    Args:
        content: escaped by the drawing library
        x: of the anchor [px]
        y: of the base line [px]
        style: classes of the style sheet
        anchor: start, middle or end
        size: of the font [px]

    Returns:
        The element.
    """
    return draw.Text(clean(content), size, coordinate(x), coordinate(y), class_=style or "plain", text_anchor=anchor)


def line(x1: float, y1: float, x2: float, y2: float, style: str, **names: str) -> Element:
    """A straight line.

    Args:
        x1: of the start [px]
        y1: of the start [px]
        x2: of the end [px]
        y2: of the end [px]
        style: classes of the style sheet
        names: further attributes, never a caller's text

    Returns:
        The element.
    """
    return draw.Line(coordinate(x1), coordinate(y1), coordinate(x2), coordinate(y2), class_=style, **names)


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


def _declarations(rule: str) -> str:
    """A rule in the light colours, and again in those of the reader's scheme."""
    declared = []
    for declaration in rule.split("; "):
        if "{" in declaration:
            declared.append(declaration.format(**{name: pair[0] for name, pair in PALETTE.items()}))
        declared.append(declaration.format(**{name: f"var(--{name})" for name in PALETTE}))
    return "; ".join(declared)
