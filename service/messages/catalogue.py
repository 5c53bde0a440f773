"""A sentence for people with what it says as values, so that another language can be made of code and values."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import msgspec

from service.knowledge.languages import ACCOMPANIED, ENGLISH, TRANSLATIONS, Translation
from service.knowledge.loader import UnusableData
from service.knowledge.message_templates import FILES, PHRASES, TEMPLATES, MessageTemplate
from service.messages.kinds import single_kinds
from service.messages.language import spoken_language
from service.messages.names import Vocabulary, english, translated
from service.messages.prescription import PrescriptionWords, prescription_kind
from service.messages.template import Kind, Template, Value, Writer


class Book(msgspec.Struct, frozen=True):
    """How one language says things.

    Attributes:
        vocabulary: what it calls them
        kinds: every kind of value in sentences, by its name
        prescriptions: prescriptions in words
        own: sentences of its own, by their codes
        texts: how each sentence is made of what is shown, by its code, in English where it has none of its own
        fixed: the texts of sentences without values, by their codes
    """

    vocabulary: Vocabulary
    kinds: Mapping[str, Kind]
    prescriptions: PrescriptionWords
    own: Mapping[str, Template]
    texts: Mapping[str, Writer]
    fixed: Mapping[str, str]

    @property
    def reviewed(self) -> bool:
        """Whether a professional has held its sentences against the English ones."""
        return self.vocabulary.language.reviewed

    def name(self, kind: str, one: str) -> str:
        """What something is called, with a capital letter; kind: exercise, region, muscle or stance, and one its id."""
        return self.kinds[kind].writer("start")(one)


def _book(vocabulary: Vocabulary, phrases: Mapping[str, str], sentences: Mapping[str, str]) -> Book:
    """A language; phrases, sentences: its templates by code. Raises UnusableData for one that cannot be filled."""
    single = single_kinds(vocabulary)
    parts = {
        code: Template(code, MessageTemplate(phrases.get(code, phrase.text), phrase.values), single).text
        for code, phrase in PHRASES.items()
    }
    prescriptions = PrescriptionWords(parts, vocabulary.exercise, vocabulary.cue)
    kinds = single | {"prescription": prescription_kind(prescriptions, single["number"].joined)}
    own = {
        code: Template(code, MessageTemplate(text, TEMPLATES[code].values), kinds) for code, text in sentences.items()
    }
    texts: dict[str, Writer] = {code: template.text for code, template in own.items()}
    return Book(vocabulary, kinds, prescriptions, own, texts, {})


def _translated(translation: Translation, original: Book) -> Book:
    """Another language, with English where it has no sentence, and beside its own where that may not stand alone."""
    phrases = {code: text for said in translation.sentences.values() for code, text in said.items() if code in PHRASES}
    sentences = {
        code: text for said in translation.sentences.values() for code, text in said.items() if code in TEMPLATES
    }
    for file, said in translation.sentences.items():
        if unknown := said.keys() - TEMPLATES.keys() - PHRASES.keys():
            raise UnusableData(
                f"messages/{translation.language.tag}/{file}.toml", min(unknown), "English has no such code"
            )
    book = _book(translated(translation), phrases, sentences)
    texts = dict(original.texts)
    for code, write in book.texts.items():
        alone = translation.language.reviewed or not accompanied(code)
        texts[code] = write if alone else _beside(write, original.texts[code])
    return msgspec.structs.replace(book, texts=texts)


def _beside(write: Writer, in_english: Writer) -> Writer:
    return lambda shown: beside(write(shown), in_english(shown))


def beside(text: str, in_english: str) -> str:
    """A sentence with the English one behind it, for whoever shows only its text."""
    return f"{text} (English: {in_english})"


def accompanied(code: str) -> bool:
    """Whether a sentence never stands alone in a language that is not reviewed."""
    return code.startswith(ACCOMPANIED.begins) or code in ACCOMPANIED.codes or FILES.get(code) in ACCOMPANIED.files


def _with_fixed(book: Book) -> Book:
    fixed = {code: write({}) for code, write in book.texts.items() if not TEMPLATES[code].values}
    return msgspec.structs.replace(book, fixed=fixed)


_ENGLISH: Final = _with_fixed(_book(english(), {}, {code: template.text for code, template in TEMPLATES.items()}))
KINDS: Final = _ENGLISH.kinds
"""Every kind of value in sentences, by its name."""
CATALOGUE: Final = _ENGLISH.own
"""Every sentence for people by its code, in English."""
BOOKS: Final = {ENGLISH.tag: _ENGLISH} | {
    tag: _with_fixed(_translated(translation, _ENGLISH)) for tag, translation in TRANSLATIONS.items()
}
"""How each language says things, by its tag."""


class Message(msgspec.Struct, frozen=True, kw_only=True):
    """A sentence for people, with what it says as values, so that another language can be made of code and values.

    Attributes:
        code: What is said: stable, and always with the same names of values.
        values: What the sentence says, by name: numbers, shares of 1, ids, quantities, ranges of repetitions,
            prescriptions, messages, and lists of these. Empty where the sentence has none.
        text: The sentence, made of the values alone; it may be reworded. In English, or in the language that the
            request prefers of those that GET /v1/messages lists.
    """

    code: str
    values: dict[str, Any]
    text: str


_FIXED: Final = {
    tag: {code: Message(code=code, values={}, text=text) for code, text in book.fixed.items()}
    for tag, book in BOOKS.items()
}


def message(code: str, **values: object) -> Message:
    """A sentence of the catalogue, in the language that is spoken.

    Args:
        code: of data/messages
        values: exactly those that the catalogue describes for it

    Raises:
        KeyError: for a code that the catalogue does not have
        TypeError: for values that are not those of the code, or not of their kinds
    """
    language = spoken_language()
    if not values and code in _FIXED[language]:
        return _FIXED[language][code]
    shown = CATALOGUE[code].shown(values)
    return Message(code=code, values=shown, text=BOOKS[language].texts[code](shown))


def ready_message(code: str, **values: object) -> Callable[[], Message]:
    """A sentence of which no answer changes a value, made once in every language; it gives the one that is spoken."""
    shown = CATALOGUE[code].shown(values)
    made = {tag: Message(code=code, values=shown, text=book.texts[code](shown)) for tag, book in BOOKS.items()}
    return lambda: made[spoken_language()]


def from_facts(code: str, facts: Mapping[str, object]) -> Message:
    """A sentence of the catalogue, with those of the facts that it names."""
    return message(code, **{name: facts[name] for name in CATALOGUE[code].kinds})


def text_of(code: str, values: Mapping[str, Value], language: str = ENGLISH.tag) -> str:
    """The sentence of a code and its values as an answer shows them."""
    return BOOKS[language].texts[code](values)


def spoken() -> Book:
    """The language that is spoken."""
    return BOOKS[spoken_language()]
