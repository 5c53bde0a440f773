"""Work counted instead of timed, so that it is the same on every machine."""

from __future__ import annotations

import cProfile
import gc
import tracemalloc
from collections.abc import Callable


def calls(run: Callable[[], object]) -> int:
    """How many functions a piece of work calls, those of Python and the built-in ones."""
    profile = cProfile.Profile()
    collecting = gc.isenabled()
    gc.disable()
    try:
        profile.runcall(run)
    finally:
        if collecting:
            gc.enable()
    return sum(entry.callcount for entry in profile.getstats())


def memory(run: Callable[[], object]) -> tuple[int, int]:
    """What a piece of work leaves in memory, and the most that it takes meanwhile [bytes]."""
    gc.collect()
    tracemalloc.start()
    try:
        run()
        return tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
