"""Which language a header prefers, and how much of it is looked at."""

from __future__ import annotations

import pytest

from service.http.languages import LONGEST_TAG, preferred_language

OFFERED = (b"en", b"es")


@pytest.mark.parametrize(
    ("header", "language"),
    [
        (b"", b"en"),
        (b"es", b"es"),
        (b"es-MX, en;q=0.9", b"es"),
        (b"de, es;q=0.5", b"es"),
        (b"*", b"en"),
        (b"en;q=0, *", b"es"),
        (b"es;q=nan, en;q=0.1", b"en"),
        (b"es;q=0", b"en"),
        (b"es" + b"-x" * ((LONGEST_TAG - 2) // 2), b"es"),
        # of thousands of subtags, none is taken off one by one
        (b"es" + b"-x" * LONGEST_TAG, b"en"),
        (b"-" * 16_000, b"en"),
        (b"\xff\r\n,;q=", b"en"),
    ],
)
def test_the_language_that_a_header_prefers(header: bytes, language: bytes) -> None:
    assert preferred_language(header, OFFERED) == language
