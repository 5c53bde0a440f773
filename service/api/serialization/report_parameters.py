"""For whom a report is written: `for` of a question's query."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from service.api.models.report import AUDIENCES, Audience
from service.api.serialization.field_faults import shortened
from service.http.media_types import HTML, MARKDOWN
from service.http.problems import ProblemFault

FOR: Final = "for"
WRITTEN: Final = {"html": HTML, "markdown": MARKDOWN}
"""Forms of a report, as `as` names them."""
REPORTS: Final = tuple(WRITTEN.values())


def audience_faults(parameters: Iterable[tuple[str, str]], media_type: bytes) -> Iterator[ProblemFault]:
    """What is wrong with the reader named in a query whose answer is of a media type, repeats apart."""
    stated = dict(parameters).get(FOR)
    if stated is None:
        return
    if stated not in AUDIENCES:
        yield ProblemFault("", FOR, f'"{shortened(stated)}" is not allowed.', f"one of: {', '.join(AUDIENCES)}")
    elif stated != AUDIENCES[0] and media_type not in REPORTS:  # the first is what is meant where it is left out
        yield ProblemFault("", FOR, "Only a report has a reader.", "with as=html or as=markdown")


def audience_of(parameters: Iterable[tuple[str, str]]) -> Audience:
    """The reader whom a query without faults names."""
    stated = dict(parameters).get(FOR)
    return next((one for one in AUDIENCES if one == stated), AUDIENCES[0])
