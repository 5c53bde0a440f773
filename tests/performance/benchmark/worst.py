"""The most expensive requests that the search of the group hostile finds, timed on the live service."""

from __future__ import annotations

import http.client
import time
from statistics import median

from tests.performance.benchmark.table import Expensive
from tests.performance.benchmark.workers import Worker
from tests.support.worst import TARGETS, Target, worst

TIMES = 9  # each request is sent


def measure() -> list[Expensive]:
    """Every operation and picture with the most expensive request found for it."""
    found = {name: worst(target) for name, target in TARGETS.items()}
    with Worker.of_service() as worker:
        return [
            Expensive(name, len(one.body), one.calls, timed(worker, TARGETS[name], one.body))
            for name, one in found.items()
        ]


def timed(worker: Worker, target: Target, body: bytes) -> float:
    """Median time until the whole answer to a request is there, whatever its status [s]."""
    path = f"{target.operation.path}?as={target.form}"
    connection = http.client.HTTPConnection("127.0.0.1", worker.port, timeout=60)
    times = []
    for _ in range(TIMES):
        began = time.perf_counter()
        connection.request("POST", path, body, {"Content-Type": "application/json"})
        connection.getresponse().read()
        times.append(time.perf_counter() - began)
    connection.close()
    return median(times)
