"""Measures the service beside an echo, a bare application and a peer, all in one run: `./tests/run benchmark`.

One worker on one core, load from the other. Each round measures every request once, its echo just before it, so that
what slows the machine for a while slows both. Ends non-zero if wrk is missing or any request was not answered with 2xx;
the aims are printed beside the figures and judged by the reader, since a busy machine can miss them. The ratio by
processor time is the one that other work on the machine hardly moves.
"""

from __future__ import annotations

import http.client
import importlib.metadata
import json
import os
import platform
import shutil
import sys
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path

import msgspec

from service.api.models.week import MOST_LIFTS
from service.api.operations.registry import OPERATIONS
from service.http.middleware.api_keys import hashed
from tests.performance.benchmark import bulk, cores, crowd, load, return_plans, table, weeks, worst
from tests.performance.benchmark.workers import Worker
from tests.support import paced
from tests.support.paths import ROOT

RESULTS = ROOT / "tests" / "performance" / "RESULTS.md"
ROUNDS = 3
LONGEST = 2.0  # [s] of load for one measurement
BUDGET = 190.0  # [s] for all measurements under full load
STEADY_RATE = 500.0  # [requests/s] the fixed load, or half of what an operation can do, if that is less
STEADY_SECONDS = 3.0  # [s] of it for each
WARM_UP = 200  # requests before a worker is measured
STARTS = 5
REQUESTS = 1000  # before the memory is read again
SEARCHES = {
    "/v1/adjustments",
    "/v1/return-plan",
    "/v1/week-adjustments",
}  # try many candidates, so an echo is no yardstick
SHARED = "/v1/load-for-reps"  # the computation that the peer has as well
KEY = "key-of-the-benchmark"
GUARDED = {"API_KEYS": f"benchmark={hashed(KEY.encode())}", "QUOTAS": "burst=100000000/60,day=100000000/86400"}


class Question(msgspec.Struct, frozen=True):
    """One request of an operation, its body also as a file for the load generator."""

    path: str
    body: bytes
    file: Path


class Servers(msgspec.Struct, frozen=True):
    """All that is measured, each a process of its own; guarded: the service with keys and quotas."""

    floor: Worker
    echo: Worker
    service: Worker
    guarded: Worker
    peer: Worker


def questions(folder: Path) -> list[Question]:
    """The first example of each operation, as its users would send it."""
    asked = []
    for operation in OPERATIONS:
        body = msgspec.json.encode(operation.examples[0].request)
        file = folder / f"{operation.path.replace('/', '_')}.json"
        file.write_bytes(body)
        asked.append(Question(operation.path, body, file))
    return asked


def answer_of(worker: Worker, question: Question) -> object:
    """What a server answers to a question, as JSON values."""
    connection = http.client.HTTPConnection("127.0.0.1", worker.port, timeout=60)
    connection.request("POST", question.path, question.body, {"Content-Type": "application/json"})
    found: object = json.loads(connection.getresponse().read())
    connection.close()
    return found


def steady(worker: Worker, path: str, body: bytes, full: float, headers: str = "") -> tuple[float, float, float]:
    """The fixed load [requests/s] and p50 and p99 [s] at it; full: throughput without a limit [requests/s]."""
    rate = min(STEADY_RATE, float(f"{full / 2:.1g}"))
    found = paced.put_on(worker.port, [paced.request(path, body, headers)], STEADY_SECONDS, rate)
    if found.failures:
        sys.exit(f"{path}: {len(found.failures)} requests failed at a fixed load, the first with {found.failures[0]}")
    return rate, found.percentile(0.5), found.percentile(0.99)


def measure(asked: list[Question]) -> tuple[list[table.Row], list[table.Row]]:
    """The rows of the baselines (the shared question's body, or computation) and of the operations."""
    with ExitStack() as stack:
        on = Servers(
            floor=stack.enter_context(Worker.of_baseline("baselines:floor")),
            echo=stack.enter_context(Worker.of_baseline("baselines:echo")),
            service=stack.enter_context(Worker.of_service()),
            guarded=stack.enter_context(Worker.of_service(**GUARDED)),
            peer=stack.enter_context(Worker.of_baseline("peer:peer")),
        )
        return _measured(on, asked)


def _measured(on: Servers, asked: list[Question]) -> tuple[list[table.Row], list[table.Row]]:
    seconds = max(1, min(LONGEST, BUDGET / ROUNDS // (2 * len(asked) + 3)))
    shared = next(question for question in asked if question.path == SHARED)
    if answer_of(on.service, shared) != answer_of(on.peer, shared):
        sys.exit("The peer does not answer as the service does: it is no yardstick.")
    for question in asked:
        on.service.send(question.path, [question.body], WARM_UP)
    for worker, path in ((on.floor, "/"), (on.echo, "/echo"), (on.peer, SHARED)):
        worker.send(path, [shared.body], WARM_UP)
    floors, peers, guarded = [], [], []
    echoes: dict[str, list[load.Load]] = {question.path: [] for question in asked}
    ours: dict[str, list[load.Load]] = {question.path: [] for question in asked}
    for turn in range(ROUNDS):
        print(f"round {turn + 1} of {ROUNDS}, {seconds:.0f} s each", file=sys.stderr)
        floors.append(load.put_on(on.floor, "/", shared.file, seconds))
        for question in asked:
            echoes[question.path].append(load.put_on(on.echo, "/echo", question.file, seconds))
            ours[question.path].append(load.put_on(on.service, question.path, question.file, seconds))
            if question is shared:
                peers.append(load.put_on(on.peer, SHARED, shared.file, seconds))
                guarded.append(load.put_on(on.guarded, SHARED, shared.file, seconds, KEY))
    print(f"latencies at a fixed load, {STEADY_SECONDS:.0f} s each", file=sys.stderr)

    def row(
        name: str, worker: Worker, path: str, question: Question, loads: list[load.Load], key: str = ""
    ) -> table.Row:
        headers = f"authorization: Bearer {key}\r\n" if key else ""
        at_rest = steady(worker, path, question.body, loads[-1].rate, headers)
        same = tuple(peers) if question is shared and worker in (on.service, on.guarded) else ()
        return table.Row(name, tuple(loads), tuple(echoes[question.path]), at_rest, same)

    baselines = [
        row("floor: bare application", on.floor, "/", shared, floors),
        row("echo: same framework", on.echo, "/echo", shared, echoes[SHARED]),
        row(f"peer: {SHARED} in FastAPI", on.peer, SHARED, shared, peers),
    ]
    rows = [row(question.path, on.service, question.path, question, ours[question.path]) for question in asked]
    rows.append(row(f"{SHARED} with key and quotas", on.guarded, SHARED, shared, guarded, KEY))
    return baselines, rows


def weigh(asked: list[Question]) -> table.Footprint:
    """Starts the service several times; the last one also answers requests."""
    starts = []
    for _ in range(STARTS - 1):
        with Worker.of_service() as worker:
            starts.append(worker.seconds)
    with Worker.of_service() as worker:
        starts.append(worker.seconds)
        fresh = worker.memory()
        for question in asked:
            worker.send(question.path, [question.body], -(-REQUESTS // len(asked)))
        used = worker.memory()
        worker.send("/v1/adjustments", consultations(10 * REQUESTS), 10 * REQUESTS)
        return table.Footprint(fresh, used, worker.memory(), tuple(starts))


def consultations(count: int) -> list[bytes]:
    """Consultations of so many different lifters, as they come: nothing of one is of use to the next."""
    request = next(one for one in OPERATIONS if one.name == "adjustments").examples[0].request
    return [
        msgspec.json.encode(
            {
                **request,
                "lifter": {
                    "body_mass": {"value": 50 + 60 * (number * 0.618 % 1), "unit": "kg"},
                    "stature": {"value": 155 + 40 * (number * 0.414 % 1), "unit": "cm"},
                },
            }
        )
        for number in range(count)
    ]


def versions() -> str:
    """What was measured with."""
    measured = ("litestar", "uvicorn", "uvloop", "httptools", "fastapi", "pydantic")
    packages = ", ".join(f"{name} {importlib.metadata.version(name)}" for name in measured)
    pinned = (
        f"server on core {cores.SERVER}, load on core {cores.LOAD}"
        if cores.PINNED
        else "server and load share all cores"
    )
    return f"Python {platform.python_version()}, {packages}; {load.CONNECTIONS} connections, {pinned}."


def main() -> None:
    """Measures, prints, and writes down."""
    if shutil.which("wrk") is None:
        sys.exit("The load generator wrk is missing. As root: apt-get update && apt-get install -y wrk")
    began = time.monotonic()
    if cores.PINNED:
        os.sched_setaffinity(0, {cores.LOAD})  # the load at a fixed rate comes from this process
    with tempfile.TemporaryDirectory() as folder:
        asked = questions(Path(folder))
        baselines, rows = measure(asked)
        weighed = weigh(asked)
    many = bulk.measure()
    crowds = crowd.measure()
    random = table.spreads(
        return_plans.measure(),
        weeks.measure(weeks.LIFTS),
        weeks.measure(MOST_LIFTS),
        (weeks.LIFTS, MOST_LIFTS),
    )
    simple = [row for row in rows if row.name not in SEARCHES]
    searches = [row for row in rows if row.name in SEARCHES]
    text = "\n\n".join(
        (
            "# Figures of speed",
            "Written by `./tests/run benchmark`, and by nothing else; README.md beside it says how to read them.",
            versions(),
            table.throughput(baselines, simple, searches),
            table.bulk(many),
            f"{crowd.CLIENTS} clients, each with its next request as soon as the last is answered.",
            table.crowds(crowds),
            random,
            table.expensive(worst.measure()),
            table.footprint(weighed, REQUESTS),
            f"Measured in {time.monotonic() - began:.0f} s.",
        )
    )
    print(text)
    RESULTS.write_text(f"{text}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
