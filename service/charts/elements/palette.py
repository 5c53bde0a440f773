"""The look of every mark: its colours and lines as presentation attributes, and what dark schemes make of the colours.

A mark carries its own colours, so that every program that shows SVG shows them. The style sheet holds nothing but the
colours of the dark scheme, under the names of the looks, for programs that know their reader's scheme.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, TypeAlias

Attributes: TypeAlias = Mapping[str, str | float]

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
_COLOURED: Final = ("fill", "stroke")


def _filled(colour: str, edge: str = "", width: float = 1.0) -> Attributes:
    return {"fill": colour} | ({"stroke": edge, "stroke_width": width} if edge else {})


def _drawn(colour: str, width: float, dashes: str = "", **ends: str) -> Attributes:
    dashed = {"stroke_dasharray": dashes} if dashes else {}
    return {"fill": "none", "stroke": colour, "stroke_width": width, **dashed, **ends}


_MARKS: Final[dict[str, Attributes]] = {
    "paper": _filled("paper"),
    "backing": {**_filled("paper"), "fill_opacity": 0.8},
    "limb": _filled("limb", "bone"),
    "bone": _drawn("bone", 2, stroke_linecap="round"),
    "joint": _filled("paper", "bone", 1.5),
    "load": _filled("load", "paper", 1.5),
    "hub": _filled("paper"),
    "belt": _drawn("load", 5, stroke_linecap="round"),
    "floor": _drawn("quiet", 1.5),
    "lift": _filled("quiet"),
    "guide": _drawn("quiet", 1, "2 3"),
    "leader": _drawn("quiet", 0.75),
    "plumb": _drawn("plumb", 1.5, "7 4"),
    "balance": _filled("plumb"),
    "force": _drawn("plumb", 2.5),
    "arm": {"fill": "none", "stroke_width": 3.5},
    "weight": {"fill": "none", "stroke_width": 1.25, "stroke_dasharray": "3 2"},
    "knee": {"stroke": "knee"},
    "hip": {"stroke": "hip"},
    "lumbosacral": {"stroke": "lumbosacral"},
    "shoulder": {"stroke": "hip"},
    "elbow": {"stroke": "knee"},
    "lower": _filled("lower"),
    "higher": _filled("higher"),
    "unclear": _filled("unclear"),
    "kept": _filled("knee"),
    "linear": _filled("knee"),
    "squared": _filled("hip"),
    "tenth": _filled("lumbosacral"),
    "before": _filled("paper", "bone", 1.25),
    "frame": _drawn("ink", 2),
    "goal": _drawn("ink", 3.5),
    "whisker": _drawn("ink", 1.5),
    "grid": _drawn("faint", 1),
    "axis": _drawn("quiet", 1.25),
    "one": _drawn("ink", 1.5, "5 3"),
    "band": _filled("band"),
    "tread": _drawn("knee", 4),
    "riser": _drawn("knee", 1.5),
    "session": _drawn("lumbosacral", 1.75),
    "untold": _drawn("quiet", 3, "4 3"),
    "gate": _filled("hip", "paper", 1.5),
    "curve": _drawn("knee", 2.5, stroke_linejoin="round"),
    "done": _filled("load", "paper", 1.5),
    "target": _filled("hip", "paper", 1.5),
    "error": _drawn("hip", 2),
}
_LETTERS: Final[dict[str, Attributes]] = {
    "plain": _filled("ink"),
    "head": {**_filled("ink"), "font_weight": "bold"},
    "strong": {**_filled("ink"), "font_weight": "bold"},
    "quiet": _filled("quiet"),
    "note": _filled("quiet"),
    "knee": _filled("knee"),
    "hip": _filled("hip"),
    "lumbosacral": _filled("lumbosacral"),
    "shoulder": _filled("hip"),
    "elbow": _filled("knee"),
}


def look_of(style: str) -> dict[str, str | float]:
    """The attributes of a drawn mark, in the light colours.

    Args:
        style: names of looks, of which later ones outrank earlier ones

    Returns:
        The attributes by name; widths and dashes of lines are lengths [px].
    """
    attributes: dict[str, str | float] = {}
    for name in style.split():
        attributes |= _MARKS[name]
    return _light(attributes) | {"class_": style}


def lettering(style: str) -> dict[str, str | float]:
    """The attributes of a text, in the light colours.

    Args:
        style: name of a look, plain where it is empty

    Returns:
        The attributes by name; the width of an edge is a length [px].
    """
    name = style or "plain"
    return _light(_LETTERS[name]) | {"class_": name}


def stylesheet() -> str:
    """The dark colours of every look, for a reader whose scheme is dark.

    Looks are named as attributes: LibreOffice knows no @media and takes what is inside as said for every scheme, but
    knows no selectors of attributes either.
    """
    rules = [
        *((f"[class~={name}]", _dark(look)) for name, look in _MARKS.items()),
        *((f"text[class~={name}]", f"{_dark(look)}; stroke: none") for name, look in _LETTERS.items()),
    ]
    lines = [f".figure {selector} {{ {dark} }}" for selector, dark in rules if dark]
    return "\n".join(["@media (prefers-color-scheme: dark) {", *lines, "}"])


def _light(look: Attributes) -> dict[str, str | float]:
    return {
        name: PALETTE[value][0] if isinstance(value, str) and value in PALETTE else value
        for name, value in look.items()
    }


def _dark(look: Attributes) -> str:
    coloured = {name: str(look.get(name)) for name in _COLOURED}
    return "; ".join(f"{name}: {PALETTE[colour][1]}" for name, colour in coloured.items() if colour in PALETTE)
