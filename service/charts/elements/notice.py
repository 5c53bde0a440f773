"""An answer with nothing to draw, in plain words on a sheet: refer, leave as it is, or no option."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from service.charts.elements.layout import Column
from service.charts.elements.text_layout import clean
from service.charts.elements.theme import MARGIN


class Passage(Struct, frozen=True):
    """A heading with its text.

    Attributes:
        heading: in one line
        paragraphs: the text below it
    """

    heading: str
    paragraphs: Sequence[str]


def notice(title: str, passages: Sequence[Passage]) -> str:
    """A sheet of words.

    Args:
        title: what is decided
        passages: why, and what to do

    Returns:
        SVG text, with the same words as its text alternative.

    Raises:
        ValueError: without any passage
    """
    if not passages:
        raise ValueError("There is nothing to say.")
    sheet = Column()
    sheet.write(title, "head")
    for passage in passages:
        sheet.rule()
        sheet.write(passage.heading, "strong")
        for text in passage.paragraphs:
            sheet.skip(MARGIN / 4)
            sheet.write(text)
    alternative = " ".join(" ".join([f"{clean(one.heading)}:", *map(clean, one.paragraphs)]) for one in passages)
    return sheet.finished(title, alternative)
