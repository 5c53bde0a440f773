"""An event loop that is kept by one computation is seen to be late."""

from __future__ import annotations

import asyncio
import time

import pytest
from prometheus_client import CollectorRegistry, Histogram

from service.observability import event_loop_lag as loop_lag
from service.observability.event_loop_lag import LoopLag

PERIOD = 0.01
HELD = 0.3


def observed(hold: float, looks: int, monkeypatch: pytest.MonkeyPatch) -> tuple[float, float]:
    """How often it looked, and all lateness together [s], with the loop held once for so long [s]."""
    monkeypatch.setattr(loop_lag, "PERIOD", PERIOD)
    registry = CollectorRegistry()
    lag = LoopLag(Histogram("lag", "Lateness.", registry=registry))

    def count() -> float:
        return registry.get_sample_value("lag_count") or 0.0

    async def run() -> None:
        lag.start()
        time.sleep(hold)  # noqa: ASYNC251 - this is what keeps a loop
        while count() < looks:  # noqa: ASYNC110 - what is waited for has no event
            await asyncio.sleep(PERIOD)
        lag.stop()
        seen = count()
        await asyncio.sleep(3 * PERIOD)
        assert count() == seen

    asyncio.run(run())
    return count(), registry.get_sample_value("lag_sum") or 0.0


def test_a_held_loop_is_late_by_as_much(monkeypatch: pytest.MonkeyPatch) -> None:
    looks, late = observed(HELD, 3, monkeypatch)
    assert looks >= 3
    assert late >= HELD - PERIOD
