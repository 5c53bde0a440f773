"""Load by wrk: one request repeated on a few connections, as fast as the server answers."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from tests.performance.benchmark import cores

if TYPE_CHECKING:
    from tests.performance.benchmark.workers import Worker

SCRIPT = Path(__file__).with_name("load.lua")
CONNECTIONS = 16


class _Result(msgspec.Struct, frozen=True):
    """What the script prints; duration and latencies in microseconds."""

    requests: int
    duration: int
    p50: int
    p99: int
    failed: int


class Load(msgspec.Struct, frozen=True):
    """Measured: rate [requests/s], p50 and p99 of the latency [s], cost: the server's processor time a request [s]."""

    rate: float
    p50: float
    p99: float
    cost: float


def put_on(worker: Worker, path: str, body: Path, seconds: float, key: str = "") -> Load:
    """The throughput and latency of one request, the body of which lies in a file, in `seconds` [s] of load.

    key: the API key that goes with it, if any.

    Ends the run if any answer was an error.
    """
    command = ["wrk", "--threads", "1", "--connections", str(CONNECTIONS), "--duration", f"{round(seconds)}s"]
    used = worker.processor_time()
    done = subprocess.run(
        cores.on(cores.LOAD, [*command, "--latency", "--script", str(SCRIPT), f"http://127.0.0.1:{worker.port}{path}"]),
        env=os.environ | {"BENCHMARK_BODY": str(body)} | ({"BENCHMARK_KEY": key} if key else {}),
        capture_output=True,
        text=True,
        check=False,
    )
    used = worker.processor_time() - used
    lines = [line for line in done.stdout.splitlines() if line.startswith("RESULT ")]
    if done.returncode != 0 or not lines:
        sys.exit(f"wrk failed on {path}: {done.stdout}{done.stderr}")
    result = msgspec.json.decode(lines[0].removeprefix("RESULT "), type=_Result)
    if result.failed or not result.requests:
        sys.exit(f"{path}: {result.failed} of {result.requests} requests failed under load")
    return Load(
        rate=result.requests / (result.duration / 1e6),
        p50=result.p50 / 1e6,
        p99=result.p99 / 1e6,
        cost=used / result.requests,
    )
