"""Text for the cells of spreadsheets, which take some texts for formulas (CSV injection)."""

from __future__ import annotations

from typing import Final

FORMULA_STARTS: Final = frozenset("=+-@\t\r\n＝＋－＠")
BLANKS: Final = "".join(map(chr, (*range(9), 11, 12, *range(14, 33), 127, 0xA0, 0x200B, 0x3000, 0xFEFF)))
"""What some programs drop before they look at a text: blanks, control characters, a byte order mark."""
SUSPECT: Final = FORMULA_STARTS | frozenset(BLANKS)
"""With what a text begins that may be a formula; any other is none."""
APOSTROPHE: Final = "'"


def no_formula(text: str) -> str:
    """The text, behind an apostrophe where a spreadsheet would calculate it."""
    if text[:1] in SUSPECT and text.lstrip(BLANKS)[:1] in FORMULA_STARTS:
        return APOSTROPHE + text
    return text
