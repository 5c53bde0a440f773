"""What a figure's text holds: its words, the room that they take, and the ends of its lines."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import atan2, degrees, isfinite
from xml.etree import ElementTree as ET

from service.charts.elements.layout import Sheet
from service.charts.elements.palette import PALETTE
from service.charts.elements.text_layout import width_of
from service.charts.elements.theme import Element

SVG = "{http://www.w3.org/2000/svg}"
MARKS = ("path", "rect", "circle", "text")
LIGHT = {"none", *(light for light, _ in PALETTE.values())}


def read(svg: str) -> ET.Element:
    return ET.fromstring(svg.encode())  # noqa: S314 - made here, by the code under test


def texts(svg: str) -> list[ET.Element]:
    return list(read(svg).iter(f"{SVG}text"))


def words(svg: str) -> list[str]:
    return [element.text or "" for element in texts(svg)]


def description(svg: str) -> str:
    return read(svg).findtext(f"{SVG}desc") or ""


def box(element: ET.Element) -> tuple[float, float, float, float]:
    """About the room of a line of text: left, top, right, bottom."""
    size, x, y = (float(element.attrib[name]) for name in ("font-size", "x", "y"))
    width = width_of(element.text or "", size)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.attrib["text-anchor"]] * width
    return left, y - 0.8 * size, left + width, y + 0.2 * size


def ends(element: ET.Element) -> list[tuple[float, float]]:
    """The ends of a path's steps: the last two numbers of each."""
    steps = re.findall(r"[MLA]([^MLAZ]*)", element.attrib["d"])
    return [(float(x), float(y)) for x, y in (step.strip().split(",")[-2:] for step in steps)]


def lean_of(trunk: ET.Element) -> float:
    """Lean of a trunk as drawn [deg], from its hip end to its shoulder end."""
    (x1, y1), (x2, y2) = ends(trunk)
    return degrees(atan2(abs(x2 - x1), abs(y2 - y1)))


def overlapping(svg: str) -> list[tuple[str | None, str | None]]:
    """Pairs of texts that take the same room."""
    boxes = [(element.text, box(element)) for element in texts(svg)]
    return [
        (one, other)
        for index, (one, a) in enumerate(boxes)
        for other, b in boxes[:index]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def outside(svg: str) -> list[tuple[float, float]]:
    """Corners of what is drawn that are not inside the view box."""
    root = read(svg)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    corners = [corner for element in texts(svg) for corner in (box(element)[:2], box(element)[2:])]
    corners += [corner for path in root.iter(f"{SVG}path") for corner in ends(path)]
    for rect in root.iter(f"{SVG}rect"):
        x, y, wide, high = (float(rect.attrib[side]) for side in ("x", "y", "width", "height"))
        corners += [(x, y), (x + wide, y + high)]
    return [
        (x, y)
        for x, y in corners
        if not (isfinite(x) and isfinite(y) and left <= x <= left + width and top <= y <= top + height)
    ]


def colourless(svg: str) -> list[str]:
    """What is drawn without colours of its own, or in one that is not of the light scheme."""
    drawn = [element for element in read(svg).iter() if element.tag.removeprefix(SVG) in MARKS]
    return [
        ET.tostring(element, "unicode")
        for element in drawn
        if element.get("fill") not in LIGHT or element.get("stroke", "none") not in LIGHT
    ]


def assert_title_and_alternative(svg: str) -> None:
    """A picture is told to those who do not see it: by a title and a description, both named as its label."""
    root = read(svg)
    named = {element.get("id"): element.text for element in root if element.tag in {f"{SVG}title", f"{SVG}desc"}}
    assert root.get("role") == "img"
    assert (root.get("aria-labelledby") or "").split() == list(named)
    assert len(named) == 2
    assert all(named.values())


def whole(pages: Sequence[Sheet]) -> str:
    """All pages of a picture as one SVG text, one below the other, the first title and all text alternatives."""
    tops = list(accumulate((page.height for page in pages), initial=0.0))

    def drawn(top: float) -> Iterator[Element]:
        for start, page in zip(tops, pages, strict=False):
            yield from page.drawn(top + start)

    alternative = " ".join(page.description for page in pages)
    return Sheet(pages[0].title, alternative, max(page.width for page in pages), tops[-1], drawn).svg()
