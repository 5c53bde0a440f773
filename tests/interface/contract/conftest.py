"""The service as its own process on a free port of this machine; its standard output goes to a file."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.support.running import Served, wait_until_ready

ROOT: Final = Path(__file__).parents[3]


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    output = tmp_path_factory.mktemp("served") / "output"
    environment = os.environ | {"HOST": "127.0.0.1", "PORT": str(port)}
    command = [sys.executable, "-m", "service", "serve"]
    with (
        output.open("wb") as stream,
        subprocess.Popen(command, cwd=ROOT, env=environment, stdout=stream) as process,  # noqa: S603 - fixed arguments
    ):
        try:
            found = Served(port, output)
            wait_until_ready(found, process)
            yield found
        finally:
            process.terminate()
            process.wait(timeout=15)
