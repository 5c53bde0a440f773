"""Batches and tables of load-for-reps questions, all different, against the same questions one by one."""

from __future__ import annotations

import time
from statistics import median

import msgspec

from service.api.bulk.batch import MOST_ITEMS
from service.api.bulk.dialects import MOST_ROWS
from tests.performance.benchmark.table import Bulk
from tests.performance.benchmark.workers import Worker

NAME = "load-for-reps"
ROUNDS = 5
WARM_UP = 200
SINGLES = 3000  # requests one by one in a round, on one connection


def question(row: int) -> dict[str, object]:
    """One of many different questions."""
    done = {"load": {"value": 50 + row % 50 + row / 10_000, "unit": "kg"}, "reps": 3 + row % 6, "reps_in_reserve": 2}
    return {"set": done, "target": {"reps": 5 + row % 7}, "exercise": "front_squat"}


def table_row(row: int) -> str:
    """The same question as a row."""
    return f"{50 + row % 50 + row / 10_000}kg,{3 + row % 6},2,{5 + row % 7},front_squat\r\n"


def measure() -> Bulk:
    """Medians over the rounds, each of which measures the three ways one after the other."""
    items = [{"operation": NAME, "body": question(row)} for row in range(MOST_ITEMS)]
    batch = msgspec.json.encode({"requests": items})
    header = "load,reps,reps_in_reserve,target_reps,exercise\r\n"
    table = (header + "".join(map(table_row, range(MOST_ROWS)))).encode()
    singles = [msgspec.json.encode(question(row)) for row in range(SINGLES)]
    costs: dict[str, list[float]] = {"single": [], "batched": [], "tabulated": [], "wall": []}
    with Worker.of_service() as worker:
        worker.send(f"/v1/{NAME}", singles, WARM_UP)
        idle = worker.memory()
        for _ in range(ROUNDS):
            costs["single"].append(spent(worker, f"/v1/{NAME}", singles, SINGLES) / SINGLES)
            costs["batched"].append(spent(worker, "/v1/batch", [batch], 1) / MOST_ITEMS)
            began = time.perf_counter()
            costs["tabulated"].append(spent(worker, f"/v1/tables/{NAME}", [table], 1, "text/csv") / MOST_ROWS)
            costs["wall"].append(time.perf_counter() - began)
        memory = worker.memory(most=True) - idle
    medians = {name: median(values) for name, values in costs.items()}
    return Bulk(rows=MOST_ROWS, memory=memory, **medians)


def spent(worker: Worker, path: str, bodies: list[bytes], times: int, media_type: str = "application/json") -> float:
    """The server's processor time for some requests [s]."""
    before = worker.processor_time()
    worker.send(path, bodies, times, media_type)
    return worker.processor_time() - before
