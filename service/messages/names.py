"""What ids are called in sentences, in each of the forms that a language has for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeAlias

from msgspec import Struct

from service.knowledge.catalogue import EXERCISES, REGIONS, STANCES
from service.knowledge.cues import CUES
from service.knowledge.languages import ENGLISH, Language, Names, Translation
from service.knowledge.loader import UnusableData
from service.knowledge.message_templates import WORDS
from service.knowledge.muscles import MUSCLES

IdWords: TypeAlias = Callable[[str], str]
"""The words of an id; raises KeyError for one that has none."""
Forms: TypeAlias = Callable[[str], IdWords]
"""The words of ids in a form, of which the empty one is the usual; raises KeyError for a form that there is not."""


class Vocabulary(Struct, frozen=True):
    """What a language calls things.

    Attributes:
        language: how it writes
        words: of the ids of closed lists, by the names of the lists
        exercise: of exercises
        region: of regions of the body, with the forms "your" and "Your" for whose it is
        muscle: of muscles
        stance: of stances
        cue: of cues, as a part of a sentence
    """

    language: Language
    words: Mapping[str, Mapping[str, str]]
    exercise: Forms
    region: Forms
    muscle: Forms
    stance: Forms
    cue: Forms


def started(words: IdWords) -> IdWords:
    """Words with a capital letter at their beginning."""

    def capital(one: str) -> str:
        said = words(one)
        return said[:1].upper() + said[1:]

    return capital


def with_start(words: IdWords, **others: IdWords) -> Forms:
    """The usual words, the form "start" with a capital letter, and other forms by their names."""
    return {"": words, "start": started(words), **others}.__getitem__


def inline(sentence: str) -> str:
    """A sentence as a part of another one."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def english() -> Vocabulary:
    """English: names of the catalogue, whose article sentences write themselves."""
    return Vocabulary(
        ENGLISH,
        WORDS,
        with_start(lambda lift: EXERCISES[lift].in_a_sentence),
        with_start(
            lambda region: REGIONS[region].name.lower(),
            your=lambda region: REGIONS[region].yours,
            Your=lambda region: REGIONS[region].yours.capitalize(),
        ),
        with_start(lambda muscle: MUSCLES[muscle].name.lower()),
        with_start(lambda stance: STANCES[stance].name),
        with_start(lambda cue: inline(CUES[cue].text)),
    )


def translated(translation: Translation) -> Vocabulary:
    """Another language: what it does not name is called as in English."""
    names, language = translation.names, translation.language
    cues = {
        code.removeprefix("cue_"): inline(text)
        for said in translation.sentences.values()
        for code, text in said.items()
        if code.startswith("cue_")
    }
    in_english = english()
    _check_names(names, language.tag)
    return Vocabulary(
        language,
        {name: {**words, **translation.words.get(name, {})} for name, words in WORDS.items()},
        _with_article(names.exercise, language),
        _with_article(names.region, language, your=names.yours.__getitem__, Your=started(names.yours.__getitem__)),
        _with_article(names.muscle, language),
        _with_article(names.stance, language),
        with_start(lambda cue: cues.get(cue) or in_english.cue("")(cue)),
    )


def _check_names(names: Names, tag: str) -> None:
    """Raise UnusableData for a thing without a name, and for a name of nothing."""
    for table, ids in (
        ("exercise", EXERCISES),
        ("region", REGIONS),
        ("yours", REGIONS),
        ("muscle", MUSCLES),
        ("stance", STANCES),
    ):
        if odd := getattr(names, table).keys() ^ ids.keys():
            raise UnusableData(
                f"messages/{tag}/names.toml", table, f"Expected a name of each, and no others: {min(odd)}"
            )


def _with_article(names: Mapping[str, str], language: Language, **others: IdWords) -> Forms:
    """Names that stand with their article: without it, with it as "the" and "The", and after each preposition."""

    def after(preposition: str) -> IdWords:
        def words(one: str) -> str:
            article, _, noun = names[one].partition(" ")
            both = f"{preposition} {article}"
            return f"{language.contractions.get(both, both)} {noun}"

        return words

    return with_start(
        lambda one: names[one].partition(" ")[2],
        the=names.__getitem__,
        The=started(names.__getitem__),
        **{form: after(preposition) for form, preposition in language.prepositions.items()},
        **others,
    )
