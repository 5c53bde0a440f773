"""Which page of a picture is wanted, and how finely one in pixels is drawn: `page` and `scale` of a question's query."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from msgspec import Struct

from service.api.serialization.field_faults import shortened
from service.http.media_types import PNG, SVG
from service.http.problems import HttpProblem, ProblemFault, invalid

PAGE: Final = "page"
SCALE: Final = "scale"
PICTURES: Final = (SVG, PNG)
MOST_PAGES: Final = 99
LARGEST_SCALE: Final = 2
_MOST: Final = {PAGE: MOST_PAGES, SCALE: LARGEST_SCALE}
_MEANT_FOR: Final = {
    PAGE: (PICTURES, "Only a picture has pages.", "with as=svg or as=png"),
    SCALE: ((PNG,), "Only a picture in pixels is scaled.", "with as=png"),
}


class PictureWanted(Struct, frozen=True):
    """What is wanted of a picture.

    Attributes:
        page: from 1 on [count]
        scale: pixels of a PNG for each of the SVG's, across and down [count]
    """

    page: int = 1
    scale: int = 1


def picture_faults(parameters: Iterable[tuple[str, str]], media_type: bytes) -> Iterator[ProblemFault]:
    """What is wrong with the parameters of a picture in a query whose answer is of a media type, repeats apart."""
    for name, text in dict(parameters).items():
        if name not in _MOST:
            continue
        meant_for, detail, allowed = _MEANT_FOR[name]
        number = _whole(text, _MOST[name])
        if number is None:
            yield ProblemFault("", name, f'"{shortened(text)}" is not allowed.', f"a whole number 1 to {_MOST[name]}")
        elif number > 1 and media_type not in meant_for:  # 1 is what is meant where it is left out
            yield ProblemFault("", name, detail, allowed)


def repeated(parameters: Iterable[tuple[str, str]], names: Sequence[str]) -> Iterator[ProblemFault]:
    """Those of some parameters that a query has more than once."""
    for name, count in Counter(name for name, _ in parameters if name in names).items():
        if count > 1:
            yield ProblemFault("", name, "This parameter is given more than once.", "once")


def picture_wanted(parameters: Iterable[tuple[str, str]]) -> PictureWanted:
    """What a query without faults wants of a picture."""
    stated = dict(parameters)
    page, scale = (_whole(stated.get(name, ""), most) for name, most in _MOST.items())
    return PictureWanted(page or 1, scale or 1)


def no_such_page(pages: int) -> HttpProblem:
    """That a picture has fewer pages than the one that is wanted."""
    has = "one page" if pages == 1 else f"{pages} pages"
    return invalid(
        [ProblemFault("", PAGE, f"The picture has {has}.", "1" if pages == 1 else f"a whole number 1 to {pages}")]
    )


def _whole(text: str, most: int) -> int | None:
    """A number from 1 on; None where the text is no such number."""
    number = int(text) if text.isascii() and text.isdigit() and len(text) <= len(str(most)) else 0
    return number if 1 <= number <= most else None
