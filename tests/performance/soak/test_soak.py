"""Some minutes at four fifths of what one worker can do, all operations mixed: no error, and memory stays as it is.

    ./tests/run soak                      five minutes
    SOAK_SECONDS=20 ./tests/run soak      a trial

Capacity is measured just before, with the same mix; the latencies are reported, and not judged: they are the machine's.
"""

from __future__ import annotations

import os
from pathlib import Path
from statistics import median
from typing import Final

import msgspec
import pytest

from service.api.operations.registry import OPERATIONS
from tests.support.live import live
from tests.support.paced import Paced, put_on, request

SECONDS: Final = float(os.environ.get("SOAK_SECONDS", "300"))
SHARE: Final = 0.8
STRETCHES: Final = 10
GROWTH: Final = 0.05
MIX: Final = [
    request(operation.path, msgspec.json.encode(example.request))
    for operation in OPERATIONS
    for example in operation.examples
]
BATCH: Final = [
    {"operation": operation.name, "body": example.request}
    for operation in OPERATIONS
    for example in operation.examples[:1]
]


def test_soak(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    everything = [*MIX, request("/v1/batch", msgspec.json.encode({"requests": BATCH}))]
    with live(tmp_path, QUOTAS="burst=100000000/60") as service:
        full = max(5.0, SECONDS / 20)
        put_on(service.port, everything, full / 2)  # what is kept once, such as buffers and caches, is there after this
        capacity = put_on(service.port, everything, full)
        memory = []
        stretches: list[Paced] = []
        for _ in range(STRETCHES):
            stretches.append(put_on(service.port, everything, SECONDS / STRETCHES, SHARE * capacity.rate))
            memory.append(service.memory())
        stopped = service.stop()
        words = service.words()
        service.log.unlink()
    whole = Paced(
        sorted(latency for stretch in stretches for latency in stretch.latencies),
        [failure for stretch in [capacity, *stretches] for failure in stretch.failures],
        sum(stretch.seconds for stretch in stretches),
    )
    growth = median(memory[-3:]) / memory[0] - 1
    told = (
        f"{len(whole.latencies)} requests in {whole.seconds:.0f} s, {whole.rate:.0f} a second of {capacity.rate:.0f}: "
        f"p50 {1e3 * whole.percentile(0.5):.1f} ms, p99 {1e3 * whole.percentile(0.99):.1f} ms; "
        f"{memory[0]:.1f} MB after the first tenth, {growth:+.1%} at the end"
    )
    with capsys.disabled():
        print(f"\n{told}")  # noqa: T201 - said whether it passes or not
    assert whole.failures == []
    assert len(whole.latencies) >= 0.95 * SHARE * capacity.rate * SECONDS, "the load was not what it should have been"
    assert stopped == 0
    assert '"level":"error"' not in words
    assert "Traceback" not in words
    assert growth < GROWTH
