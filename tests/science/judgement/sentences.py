"""How a sentence of a closed vocabulary is read and checked against an answer.

A sentence is either about the whole answer, or has a subject (`rank 1`, `one of the first 3`, `any option`, `every
option`) and clauses joined by `and` that have to be true of one and the same option. `any option` and `every option`
differ as they read, and `every option` is not true of no options.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, Final

import msgspec

Json = dict[str, Any]
Sentences = tuple[tuple[re.Pattern[str], Callable[..., Any]], ...]


class Asked(msgspec.Struct, frozen=True):
    """A request with its answer.

    Attributes:
        request: as the service took it
        answer: as JSON
    """

    request: Json
    answer: Json

    @property
    def region(self) -> str:
        """The sore region."""
        return str(self.request["complaint"]["region"])

    @property
    def options(self) -> list[Json]:
        """The options in their order."""
        return list(self.answer["options"])


class Vocabulary(msgspec.Struct, frozen=True):
    """The sentences that there are.

    Attributes:
        of_the_answer: whole sentences
        clauses: what is said of an option
    """

    of_the_answer: Sentences
    clauses: Sentences

    def holds(self, sentence: str, asked: Asked) -> bool:
        """Whether a sentence is true. Raises ValueError where it is none of the vocabulary."""
        for pattern, is_true in self.of_the_answer:
            said = pattern.fullmatch(sentence)
            if said is not None:
                return bool(is_true(asked, *said.groups()))
        for pattern, chosen in _SUBJECTS:
            said = pattern.match(sentence)
            if said is not None:
                clauses = [self._clause(text) for text in sentence[said.end() :].split(" and ")]
                truths = [all(one(asked, option) for one in clauses) for option in chosen(asked, *said.groups())]
                return bool(truths) and (all(truths) if said[0] == "every option " else any(truths))
        raise ValueError(f"not in the vocabulary: {sentence!r}")

    def _clause(self, text: str) -> Callable[[Asked, Json], bool]:
        for pattern, is_true in self.clauses:
            said = pattern.fullmatch(text)
            if said is not None:
                return lambda asked, option: is_true(asked, option, *said.groups())
        raise ValueError(f"not in the vocabulary: {text!r}")


def sentences(*pairs: tuple[str, Callable[..., Any]]) -> Sentences:
    """Sentences or clauses by their pattern, with what says whether they are true."""
    return tuple((re.compile(pattern), is_true) for pattern, is_true in pairs)


def either(words: str) -> set[str]:
    """Words joined by `or`."""
    return set(words.split(" or "))


def messages(part: Any) -> Iterator[str]:  # noqa: ANN401 (any JSON)
    """The codes of all messages in a part of an answer."""
    if isinstance(part, dict):
        if isinstance(part.get("code"), str):
            yield part["code"]
        for inner in part.values():
            yield from messages(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from messages(inner)


_SUBJECTS: Final = sentences(
    (r"rank 1 ", lambda asked: asked.options[:1]),
    (r"one of the first (\d+) ", lambda asked, count: asked.options[: int(count)]),
    (r"any option ", lambda asked: asked.options),
    (r"every option ", lambda asked: asked.options),
)
