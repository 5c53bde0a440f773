"""The language in which sentences are made: that of the answer being computed, English where none is asked for.

It goes with the computation and not with the thread, so that answers in two languages can be made at the same time.
What is kept from one answer to the next holds no sentences: a test looks for such among all that is kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from service.knowledge.languages import ENGLISH

_SPOKEN: Final = ContextVar("spoken", default=ENGLISH.tag)
spoken_language: Final = _SPOKEN.get
"""The tag of the language that is spoken."""


@contextmanager
def speaking(tag: str) -> Iterator[None]:
    """While it lasts sentences are made in a language, by its tag."""
    token = _SPOKEN.set(tag)
    try:
        yield
    finally:
        _SPOKEN.reset(token)
