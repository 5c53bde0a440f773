"""Keeps server and load generator on cores of their own, so that neither takes the other's time."""

from __future__ import annotations

import os
import shutil

AVAILABLE = sorted(os.sched_getaffinity(0))
SERVER = AVAILABLE[0]
LOAD = AVAILABLE[-1]
PINNED = shutil.which("taskset") is not None and SERVER != LOAD


def on(core: int, command: list[str]) -> list[str]:
    """The command, bound to the core where that can be done."""
    return ["taskset", "--cpu-list", str(core), *command] if PINNED else command
