"""What is said of a text that is written almost as it is taken, or that a spreadsheet has made a date of."""

from __future__ import annotations

import re
from typing import Final

from service.api.serialization import typed
from service.api.serialization.scalars import TextForm

RANGES: Final = (typed.span, typed.both_ends)
_MONTH: Final = "(?:jan|feb|mar|apr|ma[iy]|jun|jul|aug|sep|o[ck]t|nov|de[cz])[a-z]{0,6}[.]?"
_DATE: Final = re.compile(
    rf"[0-9]{{1,2}}[. -]{{1,2}}{_MONTH}(?:[ -][0-9]{{2,4}})?|{_MONTH}[ -][0-9]{{1,4}}"
    r"|[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[T ].*)?|[0-9]{1,2}([./-])[0-9]{1,2}\1[0-9]{2,4}|[0-9]{1,2}[./][0-9]{1,2}[.]?",
    re.IGNORECASE,
)
_DAY: Final = re.compile(r"[345][0-9]{4}")
"""A day as spreadsheets count them, from 1982 to 2064: no lifter does so many repetitions."""
MADE_A_DATE: Final = (
    "This looks like a date that a spreadsheet made of a range: format the column as text, then write the range again."
)


def mistyped(text: str, form: TextForm) -> tuple[str, str] | None:
    """A sentence on what to do about a text that does not fit, and a text that would; None where nothing is known."""
    plain = text.strip()
    if form.typed in RANGES and (_DATE.fullmatch(plain) or _DAY.fullmatch(plain.partition("-")[0])):
        return MADE_A_DATE, "4-6"
    pointed = typed.point_for_comma(plain) if form.decimals else None
    mended = form.typed(pointed) if pointed else plain
    if not re.search(r"[\s,]", text) or not _fits(mended, form):
        return None
    return f"It has to be written {mended}: with a decimal point and without blanks.", mended


def _fits(text: str, form: TextForm) -> bool:
    pattern = form.schema.get("pattern")
    return not isinstance(form.read(text), str) and (pattern is None or re.fullmatch(pattern, text) is not None)
