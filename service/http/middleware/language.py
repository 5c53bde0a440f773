"""The language of answers: chosen before what is asked is read, so that every form of every answer is made in it.

Problems stay in English, and pictures, which say in English what they show.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import Final

from service.http.headers import value_of, varying
from service.http.languages import preferred_language, without_language
from service.http.types import ASGIApp, Message, Receive, Scope, Send

ACCEPT_LANGUAGE: Final = b"accept-language"
_OK: Final = 200
_PICTURE: Final = b"image/"


class Languages:
    """Answers in the language that a request prefers.

    Args:
        app: the application
        offered: tags of the languages, the first of which is spoken where nothing else is asked for
        speaking: what makes sentences in a language while it lasts, by its tag
        has_sentences: whether answers of a path have sentences
    """

    def __init__(
        self,
        app: ASGIApp,
        offered: tuple[str, ...],
        speaking: Callable[[str], AbstractContextManager[None]],
        has_sentences: Callable[[str], bool],
    ) -> None:
        self._app = app
        self._offered = tuple(tag.encode() for tag in offered)
        self._speaking = speaking
        self._has_sentences = has_sentences

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http" or not self._has_sentences(scope["path"]):
            await self._app(scope, receive, send)
            return
        language, query = without_language(scope["query_string"], self._offered)
        if language is not None:
            scope = {**scope, "query_string": query}
        else:
            accepted = value_of(scope["headers"], ACCEPT_LANGUAGE)
            language = preferred_language(accepted, self._offered) if accepted else self._offered[0]

        async def send_with_language(message: Message) -> None:
            if message["type"] == "http.response.start" and message["status"] == _OK:
                headers = varying(message["headers"], ACCEPT_LANGUAGE)
                pictured = value_of(headers, b"content-type").startswith(_PICTURE)
                message["headers"] = [*headers, (b"content-language", self._offered[0] if pictured else language)]
            await send(message)

        if language == self._offered[0]:
            await self._app(scope, receive, send_with_language)
        else:
            with self._speaking(language.decode()):
                await self._app(scope, receive, send_with_language)
