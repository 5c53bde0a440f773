"""The sentences of answers by their codes, as the catalogue lists them: for clients that say them in another language."""

from __future__ import annotations

from typing import Any

from service.api.models.base import ResponseModel
from service.knowledge.languages import ENGLISH, LANGUAGES
from service.knowledge.message_templates import TEMPLATES
from service.messages import spoken, spoken_language
from service.messages.catalogue import BOOKS, CATALOGUE, KINDS, accompanied, beside


class MessageValue(ResponseModel, kw_only=True, frozen=True):
    """A value of a message.

    Attributes:
        name: Its name in `values` of the message, and between braces in the text.
        kind: What kind of value it is, such as number, share, quantity, reps, region or prescription.
        listed: Whether it is a list of values of this kind, written as "a, b and c".
        meaning: The kind in words.
        example: The value, as an answer might have it.
    """

    name: str
    kind: str
    listed: bool
    meaning: str
    example: Any


class LanguageEntry(ResponseModel, kw_only=True, frozen=True):
    """A language of answers.

    Attributes:
        language: Its tag, as Accept-Language and `language` take it.
        name: Its name in itself.
        english_name: Its name in English.
        reviewed: Whether a professional who speaks it has held its sentences against the English ones.
        sentences: How many of the messages it has; the others stay in English.
    """

    language: str
    name: str
    english_name: str
    reviewed: bool
    sentences: int


class MessageEntry(ResponseModel, kw_only=True, frozen=True):
    """A sentence of answers, by its code, with what it takes: for clients that say it in another language.

    Attributes:
        id: The `code` of the message.
        language: The language of the text; English where the one asked for has no such sentence.
        text: The sentence, in English or in the language asked for, with a place in braces for each value: `{name}`, or `{name:form}` where the value
            is written in one of several forms. `kinds` in the list says how each kind is written, and has the words.
        english_beside: Whether it never stands alone in a language that is not reviewed: signs, what they ask for, and
            at what to stop have the English sentence behind it there.
        values: What the sentence says, by name; empty where it has none.
    """

    id: str
    language: str
    text: str
    english_beside: bool
    values: list[MessageValue]


def message_entry(code: str) -> MessageEntry:
    """The entry of a code. Raises KeyError for one that the catalogue does not have."""
    template, language = TEMPLATES[code], spoken_language()
    values = [_value(name, kind, CATALOGUE[code].example[name]) for name, kind in template.values.items()]
    said = spoken().own.get(code)
    return MessageEntry(
        id=code,
        language=ENGLISH.tag if said is None else language,
        text=template.text if said is None else _written(code, said.written),
        english_beside=accompanied(code),
        values=values,
    )


def _written(code: str, text: str) -> str:
    """A sentence of its own language, with the English one beside it where that may not stand alone."""
    alone = spoken().reviewed or not accompanied(code)
    return text if alone else beside(text, TEMPLATES[code].text)


def languages() -> list[LanguageEntry]:
    """The languages of answers, English first."""
    return [
        LanguageEntry(
            language=tag,
            name=one.name,
            english_name=one.english_name,
            reviewed=one.reviewed,
            sentences=len(BOOKS[tag].own),
        )
        for tag, one in LANGUAGES.items()
    ]


def _value(name: str, stated: str | tuple[str], example: Any) -> MessageValue:
    """A value of a message; stated: its kind, for a list in a list of its own."""
    listed = not isinstance(stated, str)
    kind = stated if isinstance(stated, str) else stated[0]
    return MessageValue(name=name, kind=kind, listed=listed, meaning=KINDS[kind].meaning, example=example)
