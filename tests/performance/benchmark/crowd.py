"""How long health and a short question wait while a few clients send their longest computations without a pause."""

from __future__ import annotations

import asyncio
import multiprocessing
import sys
import time
from collections.abc import Sequence
from itertools import count
from typing import Any, Final

import msgspec
import uvloop

from service.api.bulk.batch import MOST_ITEMS
from service.api.bulk.dialects import MOST_ROWS
from service.api.bulk.tables import table_path
from service.api.openapi.bulk_operations import example_table
from service.api.operations.registry import OPERATIONS
from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import ReturnPlan
from service.api.serialization.json import Reader
from service.errors import Refusal
from service.settings import Settings
from tests.performance.benchmark import return_plans
from tests.performance.benchmark.table import Crowd
from tests.performance.benchmark.workers import Worker
from tests.support import paced

CLIENTS: Final = 8
SECONDS: Final = 3.0  # beside each kind of request
EVERY: Final = 0.005  # [s] from one look at health to the next
START: Final = 0.3  # [s] until the clients are at work
PROCESSES: Final = multiprocessing.get_context("fork")
LIVEZ: Final = b"GET /livez HTTP/1.1\r\nhost: a\r\n\r\n"
TRIED: Final = 300  # random ways back
LONG: Final = ("adjustments", "return-plan")


def longest() -> dict[str, bytes]:
    """The longest requests of each kind, as bytes, by what they are."""
    most = Settings().most_cost
    found = {}
    for operation in OPERATIONS:
        example = longest_way_back() if operation.name == "return-plan" else operation.examples[0].request
        item = msgspec.json.encode({"operation": operation.name, "body": example})
        as_many = most // operation.charged(Reader(operation.request).fit(example))
        items = b",".join([item] * min(MOST_ITEMS, as_many))
        header, row, *_ = example_table(operation).splitlines(keepends=True)
        rows = header + row * min(MOST_ROWS, as_many)
        if operation.name in LONG:
            question = msgspec.json.encode(example)
            found[operation.name] = paced.request(operation.path, question)
            found[f"pictures of {operation.name}"] = paced.request(f"{operation.path}?as=svg", question)
        if operation.name in (*LONG, "load-for-reps"):
            found[f"batches of {operation.name}"] = paced.request("/v1/batch", b'{"requests":[%b]}' % items)
            table = paced.request(table_path(operation), rows, media_type="text/csv")
            found[f"tables of {operation.name}"] = table
    return found


def longest_way_back() -> return_plans.Request:
    """Of some plausible ways back the one that takes longest; consultations all take about as long as the example."""
    return max(map(return_plans.plausible, range(TRIED)), key=_time_of)


def _time_of(request: return_plans.Request) -> float:
    """The processor time of an answer [s], none where it is refused."""
    began = time.process_time()
    try:
        return_plan(msgspec.convert(request, ReturnPlan))
    except Refusal:
        return 0.0
    return time.process_time() - began


def measure() -> list[Crowd]:
    """How health is answered beside each kind of request, and beside all of them together."""
    kinds = longest()
    with Worker.of_service() as worker:
        alone = crowd(worker.port, "nothing", [])
        beside = [crowd(worker.port, name, [request]) for name, request in kinds.items()]
        return [alone, *beside, crowd(worker.port, "all of these", list(kinds.values()))]


def crowd(port: int, name: str, requests: Sequence[bytes]) -> Crowd:
    """The latencies of health while the clients send these requests, from a process of their own."""
    answered = PROCESSES.Value("i", 0)
    clients = PROCESSES.Process(target=_clients, args=(port, requests, answered), daemon=True)
    clients.start()
    time.sleep(START)
    latencies = sorted(uvloop.run(_looks(port)))
    if not clients.is_alive():
        sys.exit(f"{name}: not every answer was 200")
    clients.kill()
    clients.join()
    found = latencies[len(latencies) // 2], latencies[int(0.99 * len(latencies))], latencies[-1]
    return Crowd(name, *found, answered=answered.value)


def _clients(port: int, requests: Sequence[bytes], answered: Any) -> None:  # noqa: ANN401 - a shared number
    uvloop.run(_send_on(port, requests, answered))


async def _send_on(port: int, requests: Sequence[bytes], answered: Any) -> None:  # noqa: ANN401 - a shared number
    """Send without end, each client on a connection of its own; ends at the first answer that is not 200."""

    async def client(number: int) -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        for turn in count(number, CLIENTS):
            head, _ = await paced.exchange(reader, writer, requests[turn % len(requests)])
            if not head.startswith(b"HTTP/1.1 200 "):
                raise ConnectionError(head[:60])
            answered.value += 1

    if not requests:
        await asyncio.Event().wait()
    await asyncio.gather(*map(client, range(CLIENTS)))


async def _looks(port: int) -> list[float]:
    """How long each look at health took, counted from when it was due [s]."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    begun = time.perf_counter()
    latencies = []
    for number in range(round(SECONDS / EVERY)):
        due = begun + number * EVERY
        if (wait := due - time.perf_counter()) > 0:
            await asyncio.sleep(wait)
        await paced.exchange(reader, writer, LIVEZ)
        latencies.append(time.perf_counter() - due)
    writer.close()
    return latencies
