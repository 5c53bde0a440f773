"""Long computations, in a thread of their own, so that health and short questions are answered meanwhile.

One thread: the interpreter computes in one at a time anyway, and what is asked first is answered first. Whoever computes
in it does so in pieces that are bounded by counted work; nothing there is ever broken off, and what has not begun when
its request ends is never begun.

A thread and not a process: with the interpreter's switch interval at 1 ms a timer of the event loop was late by 2.7 ms
(p99) beside sixteen consultations, with a process on the same core by 3.3 ms, at the same throughput and without a second
60 MB. At Python's own 5 ms, health took up to 145 ms (p99) beside tables; at 1 ms a consultation takes two or three per
cent more processor time than on the event loop.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from contextvars import copy_context
from typing import Any, TypeVar

from service.http.problems import overloaded

Result = TypeVar("Result")


class Background:
    """The thread, and the requests that wait for it or use it: as a container, their tasks.

    most: how many requests may wait for it or use it at once.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._thread = _thread()
        self._admitted: set[asyncio.Task[Any]] = set()

    def __contains__(self, task: object) -> bool:
        return task in self._admitted

    @contextmanager
    def admitted(self) -> Iterator[None]:
        """Reserve a place for the current request until the block is left. Raises HttpProblem where all are taken."""
        if len(self._admitted) >= self._most:
            raise overloaded("Too many long computations are waiting; short questions are answered.")
        task: Any = asyncio.current_task()
        self._admitted.add(task)
        try:
            yield
        finally:
            self._admitted.discard(task)

    async def run(self, compute: Callable[[], Result]) -> Result:
        """Call a function in the thread, in the caller's context; returns what it returns and raises what it raises."""
        return await asyncio.get_running_loop().run_in_executor(self._thread, copy_context().run, compute)

    async def close(self) -> None:
        """Begin nothing that waits; what is being computed ends by itself. An application begun anew can go on."""
        ended, self._thread = self._thread, _thread()
        ended.shutdown(wait=False, cancel_futures=True)


def _thread() -> ThreadPoolExecutor:
    """An executor whose one thread starts with the first computation."""
    return ThreadPoolExecutor(1, "computation")
