"""The languages of sentences: how each writes numbers, lists and names, and what stands in it in place of English."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from service.knowledge.loader import DATA, UnusableData, read_tables, read_toml, read_whole
from service.knowledge.records import Record

_FOLDER: Final = "messages"
_OF_ITSELF: Final = ("language", "names", "words")
"""Files of a language that hold no sentences."""


class Tempo(Record, frozen=True):
    """How a tempo is said aloud.

    Attributes:
        phases: of a repetition, in the order in which a tempo has them
        seconds: how long a phase takes, with places for it and its seconds
        fast: that a phase is as fast as can be, with a place for it
    """

    phases: tuple[str, str, str, str]
    seconds: str
    fast: str


class Language(Record, frozen=True):
    """How a language writes what sentences are filled with.

    Attributes:
        tag: of RFC 5646, in lower case
        name: in itself
        english_name: in English
        reviewed: whether a professional who speaks it has held its sentences against the English ones
        decimal_mark: between whole numbers and tenths
        span: two ends of a range, with places for `low` and `high`
        last_joined_by: what stands before the last of several
        tempo: how a tempo is said aloud
        joined_before: what stands there instead, by how the last begins
        singular: of words of units that have one
        prepositions: before a name with its article, by the form that asks for it
        contractions: of a preposition and an article, by both
    """

    tag: Annotated[str, Meta(pattern=r"^[a-z]{2,3}\Z")]
    name: str
    english_name: str
    reviewed: bool
    decimal_mark: Annotated[str, Meta(pattern=r"^[.,]\Z")]
    span: str
    last_joined_by: str
    tempo: Tempo
    joined_before: dict[str, str] = msgspec.field(default_factory=dict)
    singular: dict[str, str] = msgspec.field(default_factory=dict)
    prepositions: dict[str, str] = msgspec.field(default_factory=dict)
    contractions: dict[str, str] = msgspec.field(default_factory=dict)


class Names(Record, frozen=True):
    """What things of the catalogue are called, each with its article.

    Attributes:
        exercise: by its id
        region: by its id
        yours: a region as it is said to whom it belongs, by its id
        muscle: by its id
        stance: by its id
    """

    exercise: dict[str, str]
    region: dict[str, str]
    yours: dict[str, str]
    muscle: dict[str, str]
    stance: dict[str, str]


class Said(Record, frozen=True):
    """A sentence in another language than English.

    Attributes:
        text: words with the places of the English one, each in a form of its kind in this language
    """

    text: str


class Translation(msgspec.Struct, frozen=True):
    """What stands in a language in place of English.

    Attributes:
        language: how it writes
        sentences: by their codes, those of files and those of records, by the files that have them
        words: of the ids of closed lists, by the names of the lists
        names: of things of the catalogue
    """

    language: Language
    sentences: dict[str, dict[str, str]]
    words: dict[str, dict[str, str]]
    names: Names


class Accompanied(Record, frozen=True):
    """Sentences that never stand alone in a language that is not reviewed: signs, what they ask for, when to stop.

    Attributes:
        files: files whose sentences are such, without their endings
        begins: how codes of such sentences begin
        codes: of further ones
    """

    files: tuple[str, ...]
    begins: tuple[str, ...]
    codes: tuple[str, ...]


def read_translation(tag: str) -> Translation:
    """What stands in a language.

    Args:
        tag: of the language, and name of its folder

    Raises:
        UnusableData: for a file that cannot be read, and for a code that stands in two of them
    """
    folder = DATA / _FOLDER / tag
    language = read_whole(f"{_FOLDER}/{tag}/language.toml", Language)
    if language.tag != tag:
        raise UnusableData(f"{_FOLDER}/{tag}/language.toml", "tag", f"Expected {tag}, the name of the folder")
    sentences: dict[str, dict[str, str]] = {}
    read: set[str] = set()
    for file in sorted(folder.glob("*.toml")):
        if file.stem in _OF_ITSELF:
            continue
        name = f"{_FOLDER}/{tag}/{file.name}"
        said = read_tables(name, Said)
        if twice := read & said.keys():
            raise UnusableData(name, min(twice), "The code stands in another file as well")
        read |= said.keys()
        sentences[file.stem] = {code: one.text for code, one in said.items()}
    names = read_whole(f"{_FOLDER}/{tag}/names.toml", Names)
    return Translation(language, sentences, read_toml(folder / "words.toml"), names)


ENGLISH: Final = read_whole(f"{_FOLDER}/language.toml", Language)
"""The language in which sentences are written first."""
TRANSLATIONS: Final = {
    folder.name: read_translation(folder.name) for folder in sorted((DATA / _FOLDER).iterdir()) if folder.is_dir()
}
"""The others, by their tags."""
LANGUAGES: Final = {ENGLISH.tag: ENGLISH} | {tag: one.language for tag, one in TRANSLATIONS.items()}
"""All of them by their tags, English first."""
ACCOMPANIED: Final = read_whole(f"{_FOLDER}/accompanied.toml", Accompanied)
