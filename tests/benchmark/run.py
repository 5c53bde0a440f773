"""Measures the service beside an echo and a bare application, all in one run: `./tests/run benchmark`.

One worker on one core, load from the other. Each round measures every request once, its echo just before it, so that
what slows the machine for a while slows both. Ends non-zero if wrk is missing or any request was not answered with 2xx;
the aims are printed beside the figures and judged by the reader, since a busy machine can miss them. The ratio by
processor time is the one that other work on the machine hardly moves.
"""

from __future__ import annotations

import importlib.metadata
import platform
import shutil
import sys
import tempfile
import time
from pathlib import Path

import msgspec

from service.api.operations import OPERATIONS
from tests.benchmark import bulk, cores, load, table
from tests.benchmark.workers import Worker

ROUNDS = 3
LONGEST = 2.0  # [s] of load for one measurement
BUDGET = 180.0  # [s] for all measurements under load
WARM_UP = 200  # requests before a worker is measured
STARTS = 5
REQUESTS = 1000  # before the memory is read again
NOT_SIMPLE = {"/v1/adjustments"}  # searches many candidates, so an echo is no yardstick


class Question(msgspec.Struct, frozen=True):
    """One request of an operation, its body also as a file for the load generator."""

    path: str
    body: bytes
    file: Path


def questions(folder: Path) -> list[Question]:
    """The first example of each operation, as its users would send it."""
    asked = []
    for operation in OPERATIONS:
        body = msgspec.json.encode(operation.examples[0].request)
        file = folder / f"{operation.path.replace('/', '_')}.json"
        file.write_bytes(body)
        asked.append(Question(operation.path, body, file))
    return asked


def measure(asked: list[Question]) -> tuple[list[table.Row], list[table.Row]]:
    """The rows of the baselines (floor and echo, with the first question's body) and of the operations."""
    seconds = max(1, min(LONGEST, BUDGET / ROUNDS // (2 * len(asked) + 1)))
    first = asked[0]
    floors: list[load.Load] = []
    echoes: dict[str, list[load.Load]] = {question.path: [] for question in asked}
    ours: dict[str, list[load.Load]] = {question.path: [] for question in asked}
    with Worker.of_baseline("floor") as floor, Worker.of_baseline("echo") as echo, Worker.of_service() as service:
        floor.send("/", [first.body], WARM_UP)
        echo.send("/echo", [first.body], WARM_UP)
        for question in asked:
            service.send(question.path, [question.body], WARM_UP)
        for turn in range(ROUNDS):
            print(f"round {turn + 1} of {ROUNDS}, {seconds:.0f} s each", file=sys.stderr)
            floors.append(load.put_on(floor, "/", first.file, seconds))
            for question in asked:
                echoes[question.path].append(load.put_on(echo, "/echo", question.file, seconds))
                ours[question.path].append(load.put_on(service, question.path, question.file, seconds))
    yardstick = tuple(echoes[first.path])
    baselines = [
        table.Row("floor: bare application", tuple(floors), yardstick),
        table.Row("echo: same framework", yardstick, yardstick),
    ]
    rows = [table.Row(path, tuple(loads), tuple(echoes[path])) for path, loads in ours.items()]
    return baselines, rows


def weigh(asked: list[Question]) -> table.Footprint:
    """Starts the service several times; the last one also answers requests."""
    starts = []
    for _ in range(STARTS - 1):
        with Worker.of_service() as worker:
            starts.append(worker.start)
    with Worker.of_service() as worker:
        starts.append(worker.start)
        fresh = worker.memory()
        for question in asked:
            worker.send(question.path, [question.body], -(-REQUESTS // len(asked)))
        return table.Footprint(fresh, worker.memory(), tuple(starts))


def versions() -> str:
    """What was measured with."""
    packages = ", ".join(
        f"{name} {importlib.metadata.version(name)}" for name in ("litestar", "uvicorn", "uvloop", "httptools")
    )
    pinned = (
        f"server on core {cores.SERVER}, load on core {cores.LOAD}"
        if cores.PINNED
        else "server and load share all cores"
    )
    return f"Python {platform.python_version()}, {packages}; {load.CONNECTIONS} connections, {pinned}."


def main() -> None:
    """Measures and prints."""
    if shutil.which("wrk") is None:
        sys.exit("The load generator wrk is missing. As root: apt-get update && apt-get install -y wrk")
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        asked = questions(Path(folder))
        baselines, rows = measure(asked)
        weighed = weigh(asked)
    many = bulk.measure()
    simple = [row for row in rows if row.name not in NOT_SIMPLE]
    other = [row for row in rows if row.name in NOT_SIMPLE]
    print(versions(), end="\n\n")
    print(table.throughput(baselines, simple, other), end="\n\n")
    print(table.bulk(many), end="\n\n")
    print(table.footprint(weighed, REQUESTS), end="\n\n")
    print(f"Measured in {time.monotonic() - began:.0f} s.")


if __name__ == "__main__":
    main()
