"""What the service answers to a consultation, and whether each thing that an expert wants of it holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import msgspec

from service.errors import Refusal
from tests.science.judgement.sentences import Asked
from tests.science.judgement.vocabulary import holds
from tests.science.judgement.wanted import EVERYWHERE, Consultation, Line, Lines, Request, everywhere
from tests.support.asking import ask, in_full


class Verdict(msgspec.Struct, frozen=True):
    """A line against the answer.

    Attributes:
        line: what is wanted
        must: whether it has to be true
        true: whether it is
    """

    line: Line
    must: bool
    true: bool

    @property
    def holds(self) -> bool:
        """Whether the service does as an expert would."""
        return self.true == self.must


def answer(request: Request) -> Asked | None:
    """A request with its answer, None where the service refuses it."""
    try:
        given = ask("adjustments", in_full(request))
    except Refusal:
        return None
    return Asked(request, msgspec.to_builtins(given))


def wanted_of(
    consultation: Consultation, asked: Asked | None, of_all: Path = EVERYWHERE
) -> Iterator[tuple[bool, Line]]:
    """Its own lines, and with options those of every consultation; each with whether it has to be true."""
    common = [_everywhere(of_all)] if asked is not None and asked.options else []
    for lines in (Lines(consultation.must, consultation.must_not), *common):
        yield from ((True, line) for line in lines.must)
        yield from ((False, line) for line in lines.must_not)


def verdicts(
    consultation: Consultation,
    asked: Asked | None,
    of_all: Path = EVERYWHERE,
    says: Callable[[str, Asked], bool] = holds,
) -> list[Verdict]:
    """Every line against the answer; of a refused one nothing that has to be true is, and all that must not be."""
    return [
        Verdict(line, must, says(line.it, asked) if asked is not None else not must)
        for must, line in wanted_of(consultation, asked, of_all)
    ]


_everywhere = cache(everywhere)
