"""What the guide consists of: steps of a consultation, and mistakes with their mends."""

from __future__ import annotations

from typing import Any, Final, TypeAlias

import msgspec

Json: TypeAlias = Any
ADDRESS: Final = "http://127.0.0.1:8000"
"""Where the snippets ask; a page puts the address of its own server in its place."""


class Snippet(msgspec.Struct, frozen=True):
    """A request in one language, to be copied.

    Attributes:
        language: id of the language, such as `curl`
        label: its name for people
        code: the whole text, which runs as it is
    """

    language: str
    label: str
    code: str


class Message(msgspec.Struct, frozen=True):
    """A request as it goes over the wire.

    Attributes:
        method: of HTTP
        target: path and query
        body: text of the body, empty where there is none
        media_type: of the body
    """

    method: str
    target: str
    body: str = ""
    media_type: str = "application/json"


class GuideStep(msgspec.Struct, frozen=True):
    """One step of the consultation.

    Attributes:
        id: for links
        title: in a few words
        paragraphs: what one asks and how the answer is read; what stands between backticks is code
        method: of HTTP
        target: path and query
        request: the question, None for a GET
        question: the same as text, empty for a GET
        answer: the part of the service's answer that is shown
        shown: the same as text
        remark: what of the answer is left out, empty where it is whole
        snippets: the request in each language, and in a cell where it has an address
    """

    id: str
    title: str
    paragraphs: list[str]
    method: str
    target: str
    request: Json
    question: str
    answer: Json
    shown: str
    remark: str
    snippets: list[Snippet]


class Mistake(msgspec.Struct, frozen=True):
    """Something that clients get wrong, with what the service says and the mend.

    Attributes:
        id: for links
        title: what is wrong, in a few words
        paragraphs: how it comes about and what to do; what stands between backticks is code
        asked: the request with the mistake
        status: of the answer, of HTTP
        answer: the problem, or the answer where the mistake is in how it is read
        shown: the same as text, long texts in it shortened
        mended: the request that is answered
        snippets: the mended request in each language
    """

    id: str
    title: str
    paragraphs: list[str]
    asked: Message
    status: int
    answer: Json
    shown: str
    mended: Message
    snippets: list[Snippet]
