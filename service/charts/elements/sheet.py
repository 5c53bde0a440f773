"""Several charts under each other as one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

import drawsvg as draw

_PROLOGUE: Final = re.compile(r"^<\?xml[^>]*\?>\s*")
_SIZE: Final = re.compile(r'<svg[^>]*?width="([\d.]+)"[^>]*?height="([\d.]+)"', re.DOTALL)


def stacked(figures: Sequence[str]) -> str:
    """Figures (SVG text) under each other, each with its own title and text alternative; one alone stays as it is."""
    if len(figures) == 1:
        return figures[0]
    bare = [_PROLOGUE.sub("", figure) for figure in figures]
    sizes = [_size(figure) for figure in bare]
    sheet = draw.Drawing(
        max(width for width, _ in sizes),
        sum(height for _, height in sizes),
        role="group",
        aria_label=f"{len(figures)} figures, each with its own text alternative",
    )
    top = 0.0
    for figure, (_, height) in zip(bare, sizes, strict=True):
        group = draw.Group(transform=f"translate(0 {top:g})")
        group.append(draw.Raw(figure))
        sheet.append(group)
        top += height
    return str(sheet.as_svg())


def _size(figure: str) -> tuple[float, float]:
    size = _SIZE.search(figure)
    if size is None:
        raise ValueError("A figure states its width and height.")
    return float(size[1]), float(size[2])
