"""The service starts from a fresh clone with one command, does what it prints, and stops when told to."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import socket
import subprocess
import urllib.error
import urllib.request
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.support.paths import ROOT
from tests.support.programs import Program, running, status_at, status_of

if TYPE_CHECKING:
    from collections.abc import Iterator

FIRST_START = 300.0  # [s] makes an environment and installs into it
STOP = 5.0  # [s]


class Served(Program):
    """The service as ./deploy/serve in a clone brings it up."""

    patience = FIRST_START

    def __init__(self, clone: Path, label: str) -> None:
        super().__init__(clone.parent / f"{label}.log", label)
        self.folder = clone
        self.environment = {"HOST": "127.0.0.1", "PORT": str(self.port), "PYTHONUNBUFFERED": "1"}

    def command(self) -> list[str]:
        return [str(self.folder / "deploy" / "serve")]

    def ready(self) -> bool:
        return status_of(self.port, "/readyz") == HTTPStatus.OK


def printed_request(output: str) -> str:
    """The command from the word curl on, with the lines that its backslashes continue it on."""
    found = re.search(r"(?:^|\s)(curl (?:.*\\\n)*.*)$", output, re.MULTILINE)
    assert found is not None, f"no ready-to-paste request in: {output}"
    return found.group(1)


def run_request(command: str) -> tuple[int, bytes]:
    """Status and body of the printed request: run as pasted where curl exists, else sent as curl would."""
    if shutil.which("curl"):
        pasted = f"{command} --silent --write-out '\\n%{{http_code}}'"
        done = subprocess.run(["sh", "-c", pasted], capture_output=True, check=True, timeout=30)
        body, _, status = done.stdout.rpartition(b"\n")
        return int(status), body
    return send_as_curl(command)


def send_as_curl(command: str) -> tuple[int, bytes]:
    address, data, headers = "", None, {}
    remaining = iter(shlex.split(command.replace("\\\n", " "))[1:])
    for argument in remaining:
        if argument in {"-H", "--header"}:
            name, _, value = next(remaining).partition(":")
            headers[name] = value.strip()
        elif argument in {"-d", "--data", "--data-raw", "--json"}:
            data = next(remaining).encode()
            if argument == "--json":
                headers["Content-Type"] = "application/json"
        elif argument in {"-X", "--request"}:
            next(remaining)
        elif not argument.startswith("-"):
            address = argument
    with urllib.request.urlopen(urllib.request.Request(address, data=data, headers=headers), timeout=30) as answer:
        return answer.status, answer.read()


@pytest.fixture(scope="module")
def clone(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A fresh clone, without anything that this work tree has beside what is committed."""
    place = tmp_path_factory.mktemp("serve") / "clone"
    subprocess.run(["git", "clone", "--quiet", "--no-hardlinks", str(ROOT), str(place)], check=True)
    return place


@pytest.fixture(scope="module")
def served(clone: Path) -> Iterator[Served]:
    """The service as the first start in a fresh clone brings it up."""
    with running(Served(clone, "first")) as served:
        yield served


def test_the_printed_request_is_the_main_job_and_answered_as_one_reads_it(served: Served) -> None:
    command = printed_request(served.words())
    status, body = run_request(command)
    assert status == HTTPStatus.OK
    assert "/v1/adjustments?" in command
    assert body.startswith(b"# ")
    assert b"\n## When to stop\n" in body


def test_the_printed_request_can_be_sent_without_curl(served: Served) -> None:
    status, _ = send_as_curl(printed_request(served.words()))
    assert status == HTTPStatus.OK


def test_the_printed_documentation_is_there(served: Served) -> None:
    line = next(line for line in served.words().splitlines() if re.search(r"\bdoc", line, re.IGNORECASE))
    address = re.search(r"http://[^\s,)]+", line)
    assert address is not None, f"no address in: {line}"
    assert status_at(address.group()) == HTTPStatus.OK


def test_it_stops_when_told_and_starts_again_at_once(served: Served, clone: Path) -> None:
    assert served.stop() == 0
    with running(Served(clone, "again")) as again:
        assert "Installing" not in again.words()
        assert again.stop() == 0


@pytest.mark.parametrize("port", ["none", "0x50", "-1", "65536"])
@pytest.mark.usefixtures("served")
def test_a_wrong_port_is_told_in_one_line(clone: Path, port: str) -> None:
    done = subprocess.run(
        ["./deploy/serve"],
        cwd=clone,
        env=os.environ | {"PORT": port},
        capture_output=True,
        text=True,
        check=False,
        timeout=30,
    )
    assert done.returncode != 0
    assert "PORT" in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr


@pytest.mark.usefixtures("served")
def test_a_port_in_use_is_told(clone: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        environment = os.environ | {"HOST": "127.0.0.1", "PORT": str(taken.getsockname()[1])}
        done = subprocess.run(
            ["./deploy/serve"], cwd=clone, env=environment, capture_output=True, text=True, check=False, timeout=30
        )
    assert done.returncode != 0
    assert "in use" in (done.stdout + done.stderr).lower()
    assert "PORT=…" in done.stdout + done.stderr


def test_an_old_python_is_refused(tmp_path: Path, clone: Path) -> None:
    old = tmp_path / "python3"
    old.write_text("#!/bin/sh\nexit 1\n")  # as an older Python answers when asked whether it is recent enough
    old.chmod(0o755)
    done = subprocess.run(
        ["./deploy/serve"],
        cwd=clone,
        env=os.environ | {"PYTHON": str(old)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert "3.11" in done.stderr
