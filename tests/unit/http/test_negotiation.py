"""Accept, Content-Type and Content-Encoding by RFC 9110 §12."""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.http.media_types import CSV, JSON, SVG, TEXT
from service.http.negotiation import MOST_MEMBERS, check_content_type, negotiated, quality, weighted_members
from service.http.problems import HttpProblem

OFFERED: Final = (JSON, CSV, TEXT)


def scope(**headers: bytes) -> dict[str, Any]:
    return {"headers": [(name.replace("_", "-").encode(), value) for name, value in headers.items()]}


@pytest.mark.parametrize(
    ("accept", "media_type", "expected"),
    [
        (b"application/json", JSON, 1.0),
        (b"*/*;q=0.5", JSON, 0.5),
        (b"text/*;q=0.3, text/csv;q=0.7, */*;q=0.5", CSV, 0.7),  # the most specific range decides (§12.5.1)
        (b"text/*;q=0.3, text/csv;q=0.7, */*;q=0.5", TEXT, 0.3),
        (b"text/*;q=0.3, text/csv;q=0.7, */*;q=0.5", JSON, 0.5),
        (b"text/csv;q=0, */*", CSV, 0.0),
        (b"TEXT/CSV ; Q=0.4", CSV, 0.4),
        (b"text/csv;q=much", CSV, 0.0),
        (b"text/csv", JSON, 0.0),
    ],
)
def test_quality(accept: bytes, media_type: bytes, expected: float) -> None:
    assert quality(accept, media_type) == expected


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        (None, JSON),
        (b"*/*", JSON),
        (b"application/json", JSON),
        (b"text/csv", CSV),
        (b"text/csv;q=0.5, text/plain", TEXT),
        (b"application/*;q=0.2, text/plain;q=0.2", JSON),  # no preference: the first that is offered
        (b"image/svg+xml, */*;q=0.1", JSON),
    ],
)
def test_negotiated(accept: bytes | None, expected: bytes) -> None:
    assert negotiated(scope() if accept is None else scope(accept=accept), OFFERED) == expected


@pytest.mark.parametrize("accept", [b"image/png", b"application/json;q=0, text/*;q=0"])
def test_none_of_what_is_offered_is_taken(accept: bytes) -> None:
    with pytest.raises(HttpProblem) as refused:
        negotiated(scope(accept=accept), OFFERED)
    assert refused.value.kind.status == 406
    assert all(media_type.decode() in refused.value.detail for media_type in OFFERED)


def test_no_more_members_are_read_than_are_listed() -> None:
    assert len(weighted_members(b"a/b," * 10 * MOST_MEMBERS)) == MOST_MEMBERS


@pytest.mark.parametrize(
    "headers",
    [
        {"content_type": JSON},
        {"content_type": b"Application/JSON; Charset=UTF-8"},
        {"content_type": JSON + b";"},
        {"content_type": JSON, "content_encoding": b"identity"},
    ],
)
def test_body_of_the_right_type(headers: dict[str, bytes]) -> None:
    check_content_type(scope(**headers), JSON, frozenset({b"charset=utf-8"}))


@pytest.mark.parametrize(
    ("headers", "field"),
    [
        ({}, "Accept"),
        ({"content_type": SVG}, "Accept"),
        ({"content_type": JSON + b"; charset=utf-16"}, "Accept"),
        ({"content_type": JSON, "content_encoding": b"gzip"}, "Accept-Encoding"),
        ({"content_type": JSON, "content_encoding": b"identity, br"}, "Accept-Encoding"),
    ],
)
def test_body_of_another_type_or_coding_is_refused_with_what_is_taken(headers: dict[str, bytes], field: str) -> None:
    with pytest.raises(HttpProblem) as refused:
        check_content_type(scope(**headers), JSON, frozenset({b"charset=utf-8"}))
    assert refused.value.kind.status == 415
    assert set(refused.value.headers) == {field}
