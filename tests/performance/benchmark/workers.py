"""One server process at a time: started, watched until it is ready, weighed, stopped."""

from __future__ import annotations

import http.client
import os
import re
import socket
import subprocess
import sys
import time
from functools import cache
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING, Self

from tests.performance.benchmark import cores

if TYPE_CHECKING:
    from types import TracebackType

ROOT = Path(__file__).resolve().parents[3]
SERVICE = ["-m", "service", "serve"]
PATIENCE = 30.0  # [s]
POLL = 0.002  # [s]


def baseline(application: str, port: int) -> list[str]:
    """The arguments that serve another application, such as baselines:echo, as the service serves itself."""
    server = ["-m", "uvicorn", f"tests.performance.benchmark.{application}", "--host", "127.0.0.1", "--port", str(port)]
    return [*server, "--loop", "uvloop", "--http", "httptools", "--no-access-log", "--log-level", "warning"]


def free_port() -> int:
    """A port that no one listens on now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@cache
def runtime_python() -> str:
    """The interpreter of the environment that deploy/serve makes: start and memory are those of a deployed service."""
    prepare = ". deploy/environment.sh && prepare_environment .venv deploy/requirements.lock"
    subprocess.run(["sh", "-c", prepare], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return str(ROOT / ".venv" / "bin" / "python")


class Worker:
    """A server process on its core; `start` is the time from its start until it answered /readyz [s]."""

    def __init__(self, python: str, arguments: list[str], port: int, settings: dict[str, str]) -> None:
        self.port = port
        environment = os.environ | {"HOST": "127.0.0.1", "PORT": str(port)} | settings
        environment.pop("PYTHONDONTWRITEBYTECODE", None)  # a deployed service has its bytecode
        began = time.perf_counter()
        self.process = subprocess.Popen(
            cores.on(cores.SERVER, [python, *arguments]),
            cwd=ROOT,
            env=environment,
            stdout=subprocess.DEVNULL,
        )
        self._wait_until_ready(began + PATIENCE)
        self.start = time.perf_counter() - began

    @classmethod
    def of_service(cls, **settings: str) -> Self:
        """The service as it is deployed, with its figures on a port of their own; settings: beside these."""
        return cls(runtime_python(), SERVICE, free_port(), {"METRICS_PORT": str(free_port())} | settings)

    @classmethod
    def of_baseline(cls, application: str) -> Self:
        """Another application, with the packages of the tests: those it shares have the same versions."""
        port = free_port()
        return cls(sys.executable, baseline(application, port), port, {})

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.process.terminate()
        try:
            self.process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()

    def _wait_until_ready(self, deadline: float) -> None:
        while time.perf_counter() < deadline:
            if self.process.poll() is not None:
                break
            connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=5)
            try:
                connection.request("GET", "/readyz")
                if connection.getresponse().status == HTTPStatus.OK:
                    return
            except OSError:
                time.sleep(POLL)
            finally:
                connection.close()
        self.process.kill()
        sys.exit(f"a worker did not become ready: {self.process.args!r}")

    def memory(self, *, most: bool = False) -> float:
        """What the process keeps in memory now, or the most that it has kept since its start [MB]."""
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        name = "VmHWM" if most else "VmRSS"
        resident = re.search(rf"^{name}:\s+(\d+) kB", status, re.MULTILINE)
        if resident is None:
            sys.exit("the kernel does not tell the memory of a process")
        return int(resident.group(1)) * 1024 / 1e6

    def processor_time(self) -> float:
        """The processor time that the process has used until now, its own and the kernel's for it [s]."""
        after_name = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(after_name[11]) + int(after_name[12])) / os.sysconf("SC_CLK_TCK")

    def send(self, path: str, bodies: list[bytes], times: int, media_type: str = "application/json") -> None:
        """Sends the bodies in turn on one connection, and ends the run at the first answer that is not 2xx."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        for index in range(times):
            connection.request("POST", path, bodies[index % len(bodies)], {"Content-Type": media_type})
            answer = connection.getresponse()
            text = answer.read()
            if answer.status // 100 != 2:
                sys.exit(f"POST {path} was answered with {answer.status}: {text.decode(errors='replace')[:500]}")
        connection.close()
