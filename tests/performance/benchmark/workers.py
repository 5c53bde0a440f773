"""One server process at a time: started, watched until it is ready, weighed, stopped."""

from __future__ import annotations

import http.client
import os
import subprocess
import sys
from functools import cache
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING, Self

from tests.performance.benchmark import cores
from tests.support.paths import ROOT
from tests.support.programs import Program, free_port, status_of

if TYPE_CHECKING:
    from types import TracebackType

SERVICE = ["-m", "service", "serve"]


def baseline(application: str, port: int) -> list[str]:
    """The arguments that serve another application, such as baselines:echo, as the service serves itself."""
    server = ["-m", "uvicorn", f"tests.performance.benchmark.{application}", "--host", "127.0.0.1", "--port", str(port)]
    return [*server, "--loop", "uvloop", "--http", "httptools", "--no-access-log", "--log-level", "warning"]


@cache
def runtime_python() -> str:
    """The interpreter of the environment that deploy/serve makes: start and memory are those of a deployed service."""
    prepare = ". deploy/environment.sh && prepare_environment .venv deploy/requirements.lock"
    subprocess.run(["sh", "-c", prepare], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return str(ROOT / ".venv" / "bin" / "python")


class Worker(Program):
    """A server process on its core, started when it is made; `seconds`: until it answered /readyz [s]."""

    pause = 0.002

    def __init__(self, python: str, arguments: list[str], port: int, settings: dict[str, str]) -> None:
        super().__init__(None, " ".join(arguments), port)
        self._command = cores.on(cores.SERVER, [python, *arguments])
        # without the last, as deployed: a service has its bytecode
        self.environment = {"HOST": "127.0.0.1", "PORT": str(port), **settings, "PYTHONDONTWRITEBYTECODE": ""}
        try:
            self.seconds = self.start()
        except AssertionError:
            self.kill()
            raise

    def command(self) -> list[str]:
        return self._command

    def ready(self) -> bool:
        return status_of(self.port, "/readyz") == HTTPStatus.OK

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
        try:
            self.stop()
        finally:
            self.kill()

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
