"""Programs that listen on loopback: started, watched until they are ready, stopped or killed, and started again."""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, TypeVar

from tests.support.paths import ROOT

PATIENCE: Final = 60.0  # [s] for what takes one or two where nothing else runs


def free_port() -> int:
    """A port that no one listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def eventually(happened: Callable[[], bool], seconds: float = PATIENCE, pause: float = 0.02) -> bool:
    """Whether it happens in time.

    Args:
        happened: looked at again and again
        seconds: until it is given up [s]
        pause: between two looks [s]
    """
    end = time.monotonic() + seconds
    while not (done := happened()) and time.monotonic() < end:
        time.sleep(pause)
    return done


def wait_for(what: str, happened: Callable[[], bool], seconds: float = PATIENCE, pause: float = 0.02) -> None:
    """Return when it has happened; fail where it does not in time."""
    if not eventually(happened, seconds, pause):
        raise AssertionError(f"after {seconds} s still not: {what}")


def status_at(address: str) -> int | None:
    """The status of a GET of an address; nothing while no one answers."""
    try:
        with urllib.request.urlopen(address, timeout=10) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as answered:
        return answered.code
    except OSError:
        return None


def status_of(port: int, path: str) -> int | None:
    """The status of a GET on this machine; nothing while no one answers."""
    return status_at(f"http://127.0.0.1:{port}{path}")


class Program:
    """One program with its port and, unless nobody wants to read it, a log, which both stay when it starts again.

    What it is follows from `command` and `ready`, which each kind defines.
    """

    folder = ROOT
    """Where it runs."""
    patience = PATIENCE
    """How long it may take until it is ready [s]."""
    pause = 0.02
    """Between two looks whether it is [s]."""

    def __init__(self, log: Path | None, label: str = "", port: int | None = None) -> None:
        self.port = port or free_port()
        self.label = label or type(self).__name__.lower()
        self.environment: dict[str, str] = {}
        self._log = log
        self._process: subprocess.Popen[bytes] | None = None

    def command(self) -> list[str]:
        """What is run."""
        raise NotImplementedError

    def ready(self) -> bool:
        """Whether it does its work."""
        raise NotImplementedError

    @property
    def log(self) -> Path:
        """The file of what it writes."""
        assert self._log is not None, f"{self.label} has no log"
        return self._log

    @property
    def process(self) -> subprocess.Popen[bytes]:
        """Its process, which may have ended."""
        assert self._process is not None, f"{self.label} was not started"
        return self._process

    def start(self) -> float:
        """Start it and wait until it is ready; the time that this took [s]."""
        program, *arguments = self.command()
        path = shutil.which(program) or shutil.which(program, path="/usr/sbin:/sbin")
        assert path is not None, f"the program {program} is missing"
        began = time.perf_counter()
        with Path(os.devnull if self._log is None else self._log).open("ab") as log:
            self._process = subprocess.Popen(
                [path, *arguments],
                cwd=self.folder,
                env=os.environ | self.environment,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        wait_for(f"{self.label} is ready", self._ready_or_ended, self.patience, self.pause)
        return time.perf_counter() - began

    def _ready_or_ended(self) -> bool:
        code = self.process.poll()
        assert code is None, f"{self.label} ended with {code}: {self.words()[-2000:]}"
        return self.ready()

    def stop(self) -> int:
        """Have it stop and wait until it has; its exit code."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=PATIENCE)

    def kill(self) -> None:
        """End it without a word, if it runs."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()

    def words(self) -> str:
        """All that it has written."""
        return "" if self._log is None else self._log.read_text(encoding="utf-8", errors="replace")

    def memory(self, *, most: bool = False) -> float:
        """What its process keeps in memory now, or the most that it has kept since its start [MB]."""
        return memory_of(self.process.pid, most=most)


Kind = TypeVar("Kind", bound=Program)


@contextmanager
def running(program: Kind) -> Iterator[Kind]:
    """The program, started, until the block is left."""
    try:
        program.start()
        yield program
    finally:
        program.kill()


def memory_of(process: int, *, most: bool = False) -> float:
    """What a process keeps in memory now, or the most that it has kept since its start [MB]."""
    status = Path(f"/proc/{process}/status").read_text(encoding="utf-8")
    resident = re.search(rf"^{'VmHWM' if most else 'VmRSS'}:\s+(\d+) kB", status, re.MULTILINE)
    assert resident is not None, "the kernel does not say the memory of a process"
    return int(resident[1]) * 1024 / 1e6
