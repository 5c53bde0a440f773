"""The language of an answer, by what a request prefers or states."""

from __future__ import annotations

import pytest

from service.http.languages import preferred_language, without_language

OFFERED = (b"en", b"es", b"pt")


@pytest.mark.parametrize(
    ("accepted", "language"),
    [
        (b"pt-BR, es;q=0.9", b"pt"),
        (b"es;q=0.9, pt;q=0.9", b"es"),
        (b"*;q=0.5, es;q=0", b"en"),
        (b"en;q=0, *;q=0.5", b"es"),
        (b"en;q=0", b"en"),
        (b"es-ES;q=0.2, es;q=0.8, en;q=0.5", b"es"),
        (b"es;q=2, en;q=0.1", b"en"),
        (b"zh, ja", b"en"),
        (b"", b"en"),
        (b"es" + b"-x" * 20_000, b"es"),  # thousands of subtags are not taken off one by one
        (b"-" * 16_000, b"en"),
        (b"\xff\r\n,;q=", b"en"),
    ],
)
def test_the_language_with_the_highest_weight_is_taken(accepted: bytes, language: bytes) -> None:
    assert preferred_language(accepted, OFFERED) == language


@pytest.mark.parametrize(
    ("query", "stated", "rest"),
    [
        (b"language=es", b"es", b""),
        (b"a=1&language=es&b=2", b"es", b"a=1&b=2"),
        (b"language=de", None, b"language=de"),
        (b"language=es&language=es", None, b"language=es&language=es"),
        (b"mylanguage=es", None, b"mylanguage=es"),
        (b"a=language=es", None, b"a=language=es"),
        (b"", None, b""),
    ],
)
def test_a_language_is_taken_out_of_a_query_where_it_is_one(query: bytes, stated: bytes | None, rest: bytes) -> None:
    assert without_language(query, OFFERED) == (stated, rest)
