"""The headers of an operation that retires, by the examples of RFC 9745 and RFC 8594."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest

from service.api.retirement import DESCRIBED, Retirement

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
