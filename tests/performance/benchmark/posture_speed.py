"""How long the mechanics take inside one process: medians of processor time, with the interpreter that ran them.

    python -m tests.performance.benchmark.posture_speed

Stated targets: one posture with all its moments at one depth in 10 µs, a setup with its intervals in about 50 µs.
"""

from __future__ import annotations

import platform
import sys
from collections.abc import Callable
from statistics import median
from time import process_time
from timeit import repeat

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.uncertainty.comparison import compare
from service.mechanics.uncertainty.propagation import uncertain_demand

RUNS = 25
CALLS = 400


def median_microseconds(call: Callable[[], object]) -> float:
    """Median processor time of one call over RUNS batches [µs]."""
    call()
    return median(repeat(call, number=CALLS, repeat=RUNS, timer=process_time)) / CALLS * 1e6


def main() -> None:
    """Print the table."""
    body = build_body(80.0, 1.75, "male")
    statics = setup_demand(body, "back_squat_high_bar", 100.0).statics
    print(
        f"{platform.python_implementation()} {sys.version.split()[0]} on {platform.machine()}, medians of {RUNS} runs"
    )
    print(f"{'one posture with all moments':34s} {median_microseconds(lambda: statics.at(0.0)):7.1f} µs")
    reference = uncertain_demand(body, "back_squat_high_bar", 100.0)
    print(f"{'comparison of two setups':34s} {median_microseconds(lambda: compare(reference, reference)):7.1f} µs")
    print(f"\n{'exercise':34s} {'demand':>10s} {'intervals':>10s}")
    for name in EXERCISE_RULES:
        demand = median_microseconds(lambda name=name: setup_demand(body, name, 100.0))  # type: ignore[misc]
        uncertain = median_microseconds(lambda name=name: uncertain_demand(body, name, 100.0))  # type: ignore[misc]
        print(f"{name:34s} {demand:7.1f} µs {uncertain:7.1f} µs")


if __name__ == "__main__":
    main()
