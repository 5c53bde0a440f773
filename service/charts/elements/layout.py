"""A sheet that grows downwards: words and drawings one below the other, narrow enough for a phone held upright."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from service.charts.elements.text_layout import wrapped
from service.charts.elements.theme import BODY_SIZE, HEAD_SIZE, LINE_HEIGHT, MARGIN, Element, canvas, letters, line, svg

WIDTH: Final = 560.0  # [px]
INNER: Final = WIDTH - 2 * MARGIN  # [px], between the margins
_MOST_LINES: Final = 25  # of one paragraph; longer ones end in an ellipsis


class Column:
    """The sheet while it is being filled.

    Attributes:
        bottom: where the next part starts [px]
    """

    def __init__(self, width: float = WIDTH) -> None:
        """width: of the sheet [px]."""
        self.bottom = MARGIN
        self._width = width
        self._parts: list[Element] = []

    def write(self, text: str, style: str = "") -> None:
        """Add a paragraph; style: classes of the style sheet, of which "head" is set larger."""
        size = HEAD_SIZE if style == "head" else BODY_SIZE
        for row in wrapped(text, self._width - 2 * MARGIN, size, _MOST_LINES):
            self._parts.append(letters(row, MARGIN, self.bottom + 0.8 * LINE_HEIGHT, style, size=size))
            self.bottom += LINE_HEIGHT

    def draw(self, parts: Iterable[Element], height: float) -> None:
        """Add a drawing.

        Args:
            parts: that start at `bottom`
            height: that they take [px]
        """
        self._parts.extend(parts)
        self.bottom += height

    def skip(self, height: float) -> None:
        """Leave room.

        Args:
            height: of the room [px]
        """
        self.bottom += height

    def rule(self) -> None:
        """Add a thin line across, with room around it."""
        self.bottom += MARGIN / 2
        self._parts.append(line(MARGIN, self.bottom, self._width - MARGIN, self.bottom, "grid"))
        self.bottom += MARGIN / 2

    def finished(self, title: str, description: str) -> str:
        """The sheet as SVG text; title: short name; description: text alternative with the sheet's numbers."""
        drawing = canvas(self._width, self.bottom + MARGIN, title, description)
        drawing.extend(self._parts)
        return svg(drawing)
