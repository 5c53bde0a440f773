"""An answer with nothing to draw, in plain words on sheets: refer, leave as it is, or no option."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from service.charts.elements.layout import Block, Sheet, gap, paragraph, rule, sheets, together
from service.charts.elements.theme import MARGIN


class Passage(Struct, frozen=True):
    """A heading with its text.

    Attributes:
        heading: in one line
        paragraphs: the text below it
    """

    heading: str
    paragraphs: Sequence[str]


def notice(title: str, passages: Sequence[Passage]) -> list[Sheet]:
    """Words.

    Args:
        title: what is decided
        passages: why, and what to do

    Returns:
        The sheets, with the same words as their text alternative.

    Raises:
        ValueError: without any passage
    """
    if not passages:
        raise ValueError("There is nothing to say.")
    return sheets(title, [[block for passage in passages for block in _passage(passage)]])


def _passage(passage: Passage) -> Iterator[Block]:
    """The heading stays with the first of its paragraphs."""
    yield rule()
    heading = paragraph(passage.heading, "strong", f"{passage.heading}:")
    first, *others = [_line(text) for text in passage.paragraphs] or [gap(0)]
    yield together([heading, first])
    yield from others


def _line(text: str) -> Block:
    return together([gap(MARGIN / 4), paragraph(text, words=text)])
