"""The kinds of values in sentences, as the catalogue of messages states them: how each is written, and the words of ids."""

from __future__ import annotations

from collections.abc import Iterator
from string import Formatter
from typing import Final

from service.api.models.base import ResponseModel
from service.knowledge.catalogue import EXERCISES, REGIONS, STANCES
from service.knowledge.cues import CUES
from service.knowledge.message_templates import TEMPLATES, WORDS
from service.knowledge.muscles import MUSCLES
from service.messages import spoken
from service.messages.catalogue import CATALOGUE

CAPITAL: Final = frozenset({"start", "The", "Your"})
"""Forms that are another one with a capital letter."""
PARTS: Final = frozenset({"", "work", "sets", "load", "exercise", "lift"})
"""Forms of a prescription that say more of it than the name of its exercise."""
IDS: Final = {
    "exercise": tuple(EXERCISES),
    "region": tuple(REGIONS),
    "muscle": tuple(MUSCLES),
    "stance": tuple(STANCES),
    "cue": tuple(CUES),
    **{name: tuple(words) for name, words in WORDS.items()},
}
"""The ids of each kind that is written by a word for each."""
WRITING: Final = {
    "number": "In the form after the colon, as Python's format writes it (`.1f`, `.3g`; `g` where none is), never as minus zero; "
    "or by `one|many`: the first word where it is 1, else the second.",
    "share": "Times 100 and without a percent sign, in the form after the colon, `.0f` where none is.",
    "quantity": "The number in the form after the colon, as of a number, a blank, and the word of its unit, in the form `1` "
    "where the number is written 1 and there is such a word; less than a metre in centimetres.",
    "reps": "Low and high joined by the word that a range has, in English `5 to 6`; one number where they are the same. By "
    "`one|many`: the first word where high is 1, else the second.",
    "message": "Its own sentence; with the form `inline` begun with a small letter and without its full stop.",
    "prescription": "In words made of its parts: whole, or with the form `work`, `sets` or `load` that part alone; with `exercise` or "
    "`start` the name of its exercise with a capital letter, with `lift` or another form of exercises the name so.",
    "tempo": "As it is; with the form `aloud` phase by phase.",
    "unit": "Behind the number of a quantity.",
    **dict.fromkeys(("label", "formula", "id"), "As it is."),
}
BY_WORD: Final = (
    "By the word of its id in the form after the colon; `start`, `The` and `Your` are the forms without name, `the` and `your` "
    "with a capital letter. Of a list: `a, b and c`, the capital in the first alone; by `one|many` the first word where it has "
    "one item."
)


class KindWord(ResponseModel, kw_only=True, frozen=True):
    """What an id is called in sentences.

    Attributes:
        id: The id.
        form: The form after the colon of a place; empty where none is.
        word: The word, in the language asked for.
    """

    id: str
    form: str
    word: str


class KindEntry(ResponseModel, kw_only=True, frozen=True):
    """A kind of values in sentences.

    Attributes:
        id: Name of the kind, as values of messages state it.
        meaning: What the value is.
        writing: How a value is written in the place of its name.
        words: What its ids are called; empty where the value is no id.
    """

    id: str
    meaning: str
    writing: str
    words: list[KindWord]


def kinds() -> list[KindEntry]:
    """The kinds of values in the sentences of the language that is spoken."""
    forms = _forms()
    return [
        KindEntry(id=name, meaning=kind.meaning, writing=WRITING.get(name, BY_WORD), words=_words(name, forms[name]))
        for name, kind in spoken().kinds.items()
    ]


def _words(kind: str, forms: set[str]) -> list[KindWord]:
    writer = spoken().kinds[kind].writer
    return [KindWord(id=one, form=form, word=writer(form)(one)) for form in sorted(forms) for one in IDS.get(kind, ())]


def _forms() -> dict[str, set[str]]:
    """The forms in which sentences name what has words, those with a capital letter left out."""
    found: dict[str, set[str]] = {name: {""} for name in spoken().kinds}
    for kind, form in _places():
        if kind in IDS and form not in CAPITAL and "|" not in form:
            found[kind].add(form)
        if kind == "prescription" and form not in PARTS | CAPITAL:
            found["exercise"].add(form)
        found[kind] |= {form.lower()} if kind in IDS and form in ("The", "Your") else set()
    return found


def _places() -> Iterator[tuple[str, str]]:
    """The kind and form of each place in the sentences."""
    for code, template in TEMPLATES.items():
        text = spoken().own[code].written if code in spoken().own else CATALOGUE[code].written
        for _, name, form, _ in Formatter().parse(text):
            if name is not None:
                stated = template.values[name]
                yield stated if isinstance(stated, str) else stated[0], form or ""
