"""Formulas of what several cells make together, or one says in other words; nothing is written as nothing."""

from __future__ import annotations


def range_of(low: str, high: str) -> str:
    """The formula of a range from the cells of its ends; the upper one is the lower one where it is empty."""
    return f'IF({low}="","",{low}&"-"&IF({high}="",{low},{high}))'


def listed(texts: str) -> str:
    """The formula of a list from texts that blanks and commas part."""
    return f'SUBSTITUTE(TRIM(SUBSTITUTE({texts},","," "))," ",",")'


def truth(cell: str) -> str:
    """The formula that sends yes and no as an address has them."""
    return f'IF({cell}="yes","true",IF({cell}="no","false",{cell}))'
