"""The headers of an operation that retires, by the examples of RFC 9745 and RFC 8594."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import msgspec
import pytest

from service.api.models.deprecation import DESCRIBED, Retirement, retiring
from service.api.operations.registry import OPERATIONS
from service.api.routes import Endpoint
from service.http.background import Background

SINCE = datetime(2023, 6, 30, 23, 59, 59, tzinfo=UTC)  # RFC 9745 §2.1: Deprecation: @1688169599
UNTIL = datetime(2024, 12, 31, 23, 59, 59, tzinfo=UTC)


def test_the_fields() -> None:
    assert Retirement(SINCE, UNTIL, "/docs#computeTempo").fields == (
        (b"deprecation", b"@1688169599"),
        (b"sunset", b"Tue, 31 Dec 2024 23:59:59 GMT"),  # the date format of RFC 8594 §3
        (b"link", b'</docs#computeTempo>; rel="deprecation"'),
    )


def test_a_time_of_another_zone_is_the_same_time() -> None:
    east = timezone(timedelta(hours=5))
    assert (
        Retirement(SINCE.astimezone(east), UNTIL.astimezone(east), "/").fields == Retirement(SINCE, UNTIL, "/").fields
    )


def test_times_need_a_zone_and_clients_notice() -> None:
    with pytest.raises(ValueError, match="zone"):
        Retirement(SINCE.replace(tzinfo=None), UNTIL, "/")
    with pytest.raises(ValueError, match="notice"):
        Retirement(SINCE, SINCE + timedelta(days=181), "/")


def test_what_is_described_is_what_is_sent() -> None:
    sent = {name.decode() for name, _ in Retirement(SINCE, UNTIL, "/").fields}
    assert {name.lower() for name in DESCRIBED} < sent


def test_answers_and_description_of_a_retiring_operation_say_so() -> None:
    retirement = Retirement(SINCE, UNTIL, "/v1/tempo")
    operation = msgspec.structs.replace(OPERATIONS[0], retirement=retirement)
    endpoint = Endpoint(operation, 65_536, Background(8))
    for method, headers in (("POST", [(b"content-type", b"application/json")]), ("OPTIONS", [])):
        sent: list[dict[str, Any]] = []
        body = msgspec.json.encode(operation.examples[0].request)

        async def receive(body: bytes = body) -> dict[str, Any]:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: dict[str, Any], sent: list[dict[str, Any]] = sent) -> None:
            sent.append(message)

        scope = {"type": "http", "method": method, "path": operation.path, "query_string": b"", "headers": headers}
        asyncio.run(endpoint(scope, receive, send))
        assert (b"deprecation" in dict(sent[0]["headers"])) == (method == "POST")
    answered = {"responses": {"200": {"description": "The answer.", "headers": {"Vary": {}}}}}
    described = retiring({"post": answered})["post"]
    assert described["deprecated"]
    assert set(described["responses"]["200"]["headers"]) == {"Vary", *DESCRIBED}
