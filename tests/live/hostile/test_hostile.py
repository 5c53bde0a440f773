"""Hostile input against a live service: it refuses, tells nothing of its inside, keeps nothing, and goes on serving."""

from __future__ import annotations

import tomllib
from collections import Counter
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Final

import pytest

from tests.live.hostile.fuzz import everything
from tests.live.hostile.wire import Heard, Sent, exchange
from tests.support.live import BODY, JSON, PATH, Live

CORPUS: Final = Path(__file__).with_name("corpus")
EXPECTED: Final[dict[str, list[int]]] = tomllib.loads((CORPUS / "expected.toml").read_text(encoding="utf-8"))
SEED: Final = 6
WARM_UP: Final = 3_000  # requests until what is kept once, such as buffers and caches, is there
COUNT: Final = 12_000
GROWTH: Final = 16.0  # [MB]; what 9,000 requests may leave behind: less than 2 kB each would be seen


@cache
def heard(port: int) -> dict[str, Heard]:
    """What comes back for each file of the corpus."""
    sent = [Sent(path.stem, path.read_bytes()) for path in sorted(CORPUS.glob("*.http"))]
    return {found.sent.name: found for found in exchange(port, sent)}


def test_every_file_has_its_expectation() -> None:
    assert {path.stem for path in CORPUS.glob("*.http")} == set(EXPECTED)


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_corpus(service: Live, name: str) -> None:
    found = heard(service.port)[name]
    assert found.faults == []
    assert found.statuses, "closed without an answer"
    assert found.statuses[0] in EXPECTED[name], found.answer[:600]


@pytest.mark.parametrize("name", [name for name in sorted(EXPECTED) if name.startswith("smuggle_")])
def test_nothing_is_smuggled(service: Live, name: str) -> None:
    """Where it is in doubt where a request ends, nothing after it is read as another (RFC 9112 §11.2)."""
    found = heard(service.port)[name]
    if found.statuses[0] == 400:
        assert len(found.statuses) == 1
    assert b"close" in found.answer


def test_pipelined_requests_are_answered_in_order_and_none_after_the_last(service: Live) -> None:
    assert heard(service.port)["pipeline_of_fifty"].statuses == [200] * 51
    assert heard(service.port)["pipeline_after_close"].statuses == [200]
    assert heard(service.port)["upgrade_of_fifty"].statuses == [200] * 51
    for name in ("upgrade_h2c_with_body", "upgrade_h2c_with_chunks"):
        assert heard(service.port)[name].statuses == [200, 200]


def test_generated(service: Live, capsys: pytest.CaptureFixture[str]) -> None:
    stream = everything(SEED, COUNT)
    first = exchange(service.port, islice(stream, WARM_UP))
    before = service.memory()
    found = first + exchange(service.port, stream)
    growth = service.memory() - before
    assert len(found) == COUNT
    assert [fault for one in found for fault in one.faults] == []
    statuses = Counter(status for one in found for status in one.statuses)
    silent = [one.sent.name for one in found if not one.statuses]
    told = f"{COUNT} requests: {dict(sorted(statuses.items()))}, {len(silent)} closed without an answer; "
    told += f"{before:.1f} MB before, {growth:+.1f} MB after"
    with capsys.disabled():
        print(f"\n{told}")  # noqa: T201 - said whether it passes or not
    assert {200, 400, 404, 408, 415, 422} <= set(statuses), "the requests are of fewer kinds than meant"
    assert len(silent) < COUNT / 100
    assert growth < GROWTH

    words = service.words()
    assert "Traceback" not in words
    assert [line for line in service.lines() if line["level"] in ("error", "critical")] == []
    assert service.ask("POST", PATH, BODY, JSON).status == 200
    assert service.ask("GET", "/readyz").status == 200
