"""Sheets narrow enough for a phone held upright: blocks one below the other, on as many sheets as they need."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.charts.elements.text_layout import clean, wrapped
from service.charts.elements.theme import BODY_SIZE, HEAD_SIZE, LINE_HEIGHT, MARGIN, Element, canvas, letters, line, svg
from service.messages.citations import cited

WIDTH: Final = 560.0  # [px]
INNER: Final = WIDTH - 2 * MARGIN  # [px], between the margins
LARGEST: Final = 1200.0  # [px], of a sheet either way
_SIZES: Final = {"head": (HEAD_SIZE, LINE_HEIGHT), "note": (12, 16)}  # [px], of letters and lines, by look
_MOST_LINES: Final = 25  # of one paragraph; longer ones end in an ellipsis
_LINES_OF_TITLE: Final = 3
_TWO_COLUMNS: Final = 900.0  # [px], width of a sheet from which notes stand in two


class Block(Struct, frozen=True):
    """Words or a drawing that stay whole.

    Attributes:
        height: room that it takes [px]
        drawn: its elements, by where it starts
        words: what it adds to the text alternative
        spacer: whether it only parts others, so that no sheet begins or ends with it
    """

    height: float
    drawn: Callable[[float], Iterable[Element]]
    words: str = ""
    spacer: bool = False


class Sheet(Struct, frozen=True):
    """One picture.

    Attributes:
        title: short name
        description: text alternative with its numbers
        width: natural width [px]
        height: natural height [px]
        drawn: its elements, by where it starts
    """

    title: str
    description: str
    width: float
    height: float
    drawn: Callable[[float], Iterable[Element]]

    def svg(self) -> str:
        """The sheet as SVG text."""
        drawing = canvas(self.width, self.height, self.title, self.description)
        drawing.extend(self.drawn(0.0))
        return svg(drawing)


def sheets(title: str, chapters: Sequence[Sequence[Block]], width: float = WIDTH) -> list[Sheet]:
    """Chapters that each begin on a sheet of their own and go on on more where one is too small.

    Args:
        title: at the head of every sheet
        chapters: of blocks in their order
        width: of every sheet [px]

    Returns:
        The sheets, none larger than LARGEST unless a block alone is.
    """
    head = paragraph(title, "head", f"{title.rstrip('.')}.", width=width, most=_LINES_OF_TITLE)
    room = LARGEST - 2.75 * MARGIN - head.height - LINE_HEIGHT
    runs = [run for chapter in chapters for run in _runs(chapter, room)]
    return [
        _sheet(title, [head, gap(MARGIN / 2), *run, *_number(number, runs)], width)
        for number, run in enumerate(runs, 1)
    ]


def paragraph(
    text: str, style: str = "", words: str = "", *, width: float = WIDTH, left: float = MARGIN, most: int = _MOST_LINES
) -> Block:
    """A paragraph.

    Args:
        text: to be wrapped
        style: name of a look, of which "head" is set larger and "note" smaller
        words: what it adds to the text alternative
        width: of the sheet, or where the column ends [px]
        left: where the lines start [px]
        most: lines, the last of which ends in an ellipsis where text had to be left out [count]
    """
    size, height = _SIZES.get(style, (BODY_SIZE, LINE_HEIGHT))
    rows = wrapped(cited(text), width - left - MARGIN, size, most)

    def drawn(top: float) -> Iterator[Element]:
        for number, row in enumerate(rows):
            yield letters(row, left, top + height * (number + 0.8), style, size=size)

    return Block(height * len(rows), drawn, cited(clean(words)))


def gap(height: float) -> Block:
    """Room between two blocks.

    Args:
        height: of the room [px]
    """
    return Block(height, lambda _: (), spacer=True)


def rule(width: float = WIDTH) -> Block:
    """A thin line across, with room around it.

    Args:
        width: of the sheet [px]
    """
    return Block(
        MARGIN, lambda top: [line(MARGIN, top + MARGIN / 2, width - MARGIN, top + MARGIN / 2, "grid")], spacer=True
    )


def together(blocks: Sequence[Block], words: str = "") -> Block:
    """Blocks that stay on one sheet; words: what they add to the text alternative, where it is not that of each."""
    return Block(
        sum(block.height for block in blocks),
        lambda top: _below_each_other(blocks, top),
        words or _words(blocks),
    )


def notes(texts: Iterable[str], *, width: float = WIDTH) -> list[Block]:
    """Paragraphs at the end, below a line; on a wide sheet in two columns. Nothing without any.

    Args:
        texts: of the paragraphs
        width: of the sheet [px]
    """
    shown = list(texts)
    if not shown:
        return []
    if width < _TWO_COLUMNS:
        return [rule(width), *_notes(shown, MARGIN, width)]
    halfway = (width + MARGIN) / 2
    columns = [
        (together(_notes(shown[:cut], MARGIN, halfway)), together(_notes(shown[cut:], halfway, width)))
        for cut in range(1, len(shown) + 1)
    ]
    left, right = min(columns, key=lambda pair: max(pair[0].height, pair[1].height))
    height = max(left.height, right.height)
    return [rule(width), Block(height, lambda top: (*left.drawn(top), *right.drawn(top)), _words([left, right]))]


def _notes(texts: Sequence[str], left: float, width: float) -> list[Block]:
    return [
        block for text in texts for block in (paragraph(text, "note", text, width=width, left=left), gap(MARGIN / 4))
    ]


def _runs(blocks: Sequence[Block], room: float) -> Iterator[list[Block]]:
    """The blocks of each sheet."""
    run: list[Block] = []
    for block in blocks:
        if run and sum(one.height for one in run) + block.height > room and not block.spacer:
            yield _trimmed(run)
            run = []
        if run or not block.spacer:
            run.append(block)
    yield _trimmed(run)


def _trimmed(run: list[Block]) -> list[Block]:
    while run and run[-1].spacer:
        run = run[:-1]
    return run


def _number(number: int, runs: Sequence[object]) -> list[Block]:
    return [gap(MARGIN / 4), paragraph(f"Page {number} of {len(runs)}", "quiet")] if len(runs) > 1 else []


def _sheet(title: str, blocks: Sequence[Block], width: float) -> Sheet:
    whole = together(blocks)
    return Sheet(title, whole.words, width, whole.height + 2 * MARGIN, lambda top: whole.drawn(top + MARGIN))


def _below_each_other(blocks: Sequence[Block], top: float) -> Iterator[Element]:
    for block in blocks:
        yield from block.drawn(top)
        top += block.height


def _words(blocks: Sequence[Block]) -> str:
    return " ".join(block.words for block in blocks if block.words)
