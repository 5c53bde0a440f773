"""Text as figures need it: safe to put into XML, wrapped to a width, and numbers as they are written everywhere."""

from __future__ import annotations

import re
from typing import Final, Protocol
from unicodedata import combining, east_asian_width

# Widths of a common sans-serif face, rounded up [em]: a label may take less room than reserved, never more.
_NARROW: Final = frozenset("iljtfrI.,:;'|!()[]- ")
_BROAD: Final = frozenset("mwMW@%&—")
_ELLIPSIS: Final = "…"
_TOLD: Final = (-1.0, 3.0)  # ratios: a span that goes beyond them, of a moment next to nothing, tells nobody anything
_BREAKS: Final = re.compile(r" (?!(?<=[0-9] )(?:%|kg|lb|cm|s|min|N·m)(?![A-Za-z]))")  # not between number and unit


class Span(Protocol):
    """A value with the span in which it is expected."""

    @property
    def value(self) -> float:
        """The value itself [any]."""

    @property
    def low(self) -> float:
        """Lower end [any]."""

    @property
    def high(self) -> float:
        """Upper end [any]."""


def clean(text: str) -> str:
    """Text on one line, without the control characters that XML forbids."""
    if not text.isprintable():
        text = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(text.split())


def width_of(text: str, size: float) -> float:
    """About how wide a line of text is, rather too wide than too narrow.

    Args:
        text: the line
        size: of the font [px]

    Returns:
        The width [px].
    """
    return size * sum(map(_em, text))


def wrapped(text: str, width: float, size: float, most: int = 3) -> list[str]:
    """Text in lines, broken at spaces but for those before a unit or, in a word too long, anywhere.

    Args:
        text: to be broken
        width: of the widest line [px]
        size: of the font [px]
        most: lines, the last of which ends in an ellipsis where text had to be left out [count]

    Returns:
        The lines.
    """
    lines, used, space = [""], 0.0, width_of(" ", size)
    for word in _BREAKS.split(clean(text)):
        rest, needed = word, width_of(word, size)
        if lines[-1] and used + space + needed <= width:
            lines[-1] += f" {rest}"
            used += space + needed
            continue
        if lines[-1]:
            lines.append("")
        while needed > width and len(lines) <= most:
            part = _fitting(rest, width, size)
            lines[-1] = rest[:part]
            lines.append("")
            rest = rest[part:]
            needed = width_of(rest, size)
        if len(lines) > most:  # nobody sees what comes after
            break
        lines[-1], used = rest, needed
    if len(lines) > most:
        last = lines[most - 1]
        while last and width_of(last + _ELLIPSIS, size) > width:
            last = last[:-1]
        lines = [*lines[: most - 1], last + _ELLIPSIS]
    return lines


def number(value: float, decimals: int = 1) -> str:
    """A number with a true minus sign and no minus before zero.

    Args:
        value: the number [any]
        decimals: that are written [count]

    Returns:
        The text.
    """
    text = f"{value:.{decimals}f}"
    return (text if float(text) else text.lstrip("-")).replace("-", "−")


def trimmed(value: float, decimals: int = 2) -> str:
    """A number without the zeros at its end.

    Args:
        value: the number [any]
        decimals: that are written at most [count]

    Returns:
        The text.
    """
    text = number(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


def is_told(share: Span) -> bool:
    """Whether the span of a ratio tells anybody anything.

    Args:
        share: of the present or the original [1]
    """
    return _TOLD[0] <= share.low <= share.high <= _TOLD[1]


def share_in_words(share: Span) -> str:
    """A ratio in per cent with its span, or that hardly anything is known of it.

    Args:
        share: of the present or the original [1]

    Returns:
        The text.
    """
    if not is_told(share):
        return "hardly known"
    value, low, high = (number(100 * end, 0) for end in (share.value, share.low, share.high))
    return f"{value} %" if low == value == high else f"{value} % ({low} to {high})"


def _em(letter: str) -> float:
    if letter > "~" and combining(letter):
        return 0.0
    if letter in _BROAD or (letter > "~" and east_asian_width(letter) in {"W", "F"}):
        return 1.0
    if letter in _NARROW:
        return 0.42
    return 0.76 if letter.isupper() else 0.65


def _fitting(word: str, width: float, size: float) -> int:
    """How many letters of a word fit, at least one."""
    count, used = 0, 0.0
    for letter in word:
        used += size * _em(letter)
        if used > width:
            break
        count += 1
    return max(1, count)
