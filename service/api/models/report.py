"""An answer as people read it: what is decided, what to do, why, what to watch and when to stop, then the numbers.

One structure for every operation that has a report and for both readers; service.api.reports writes it as a page or as
Markdown, and leaves out for the lifter what only a practitioner needs.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal, get_args

from msgspec import Struct

Audience = Literal["practitioner", "lifter"]
AUDIENCES: Final[tuple[Audience, ...]] = get_args(Audience)
"""Who reads it; the first where nothing is said."""


class SignsOf(Struct, frozen=True):
    """Warning signs that ask for the same.

    Attributes:
        what_to_do: what they ask for
        signs: in plain words
    """

    what_to_do: str
    signs: Sequence[str]


class Choice(Struct, frozen=True):
    """One option.

    Attributes:
        heading: what is changed, in a line
        prescriptions: what to do, a line each
        why: what it takes off, costs and moves elsewhere
        cautions: what to mind in it
    """

    heading: str
    prescriptions: Sequence[str]
    why: Sequence[str]
    cautions: Sequence[str] = ()


class Table(Struct, frozen=True):
    """Numbers or steps.

    Attributes:
        caption: what it shows
        heading: of the columns
        rows: as many cells each
        for_lifter: whether the lifter gets it as well
    """

    caption: str
    heading: Sequence[str]
    rows: Sequence[Sequence[str]]
    for_lifter: bool = False


class Report(Struct, frozen=True, kw_only=True):
    """An answer for people.

    Attributes:
        title: what it is about
        decision: what follows, in a line
        stop: whether training stops, so that this comes first and largest
        halted: whether nothing is trained of it before somebody has looked at it
        ask_first: warning signs to ask about before anything else
        what_to_do: the next thing to do
        when_to_stop: at what to stop, or what not to do
        why: reasons for the decision
        watch: what to observe and write down
        next_time: what would lead to another decision
        signs: warning signs of the region, the most urgent first
        meanwhile: what can be trained where the region may not be
        choices: the options in the order in which to try them
        tables: numbers and steps
        basis: how it was computed, and what was assumed
        sources: authors and years
        cautions: what to mind
        lifters_cautions: those of them that the lifter has to know
    """

    title: str
    decision: str
    stop: bool = False
    halted: bool = False
    ask_first: Sequence[str] = ()
    what_to_do: Sequence[str]
    when_to_stop: Sequence[str]
    why: Sequence[str]
    watch: Sequence[str] = ()
    next_time: Sequence[str] = ()
    signs: Sequence[SignsOf] = ()
    meanwhile: Sequence[str] = ()
    choices: Sequence[Choice] = ()
    tables: Sequence[Table] = ()
    basis: Sequence[str] = ()
    sources: Sequence[str] = ()
    cautions: Sequence[str] = ()
    lifters_cautions: Sequence[str] = ()
