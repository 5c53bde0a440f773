"""The service starts from a fresh clone with one command, does what it prints, and stops when told to."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request
from http import HTTPStatus
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).resolve().parents[3]
FIRST_START = 300.0  # [s] makes an environment and installs into it
NEXT_START = 10.0  # [s] has only to see that nothing changed
STOP = 5.0  # [s]


class Served:
    """A running ./deploy/serve whose output goes to files, so that no full pipe can hold it up."""

    def __init__(self, clone: Path, port: int) -> None:
        self.address = f"http://127.0.0.1:{port}"
        self.output = clone.parent / "output"
        self.errors = clone.parent / "errors"
        environment = os.environ | {"HOST": "127.0.0.1", "PORT": str(port), "PYTHONUNBUFFERED": "1"}
        with self.output.open("w") as output, self.errors.open("w") as errors:
            self.process = subprocess.Popen(
                ["./deploy/serve"], cwd=clone, env=environment, stdout=output, stderr=errors
            )

    def wait_until_ready(self, patience: float) -> float:
        """The seconds until /readyz answers 200; fails with the service's own words if it ends or takes too long."""
        began = time.monotonic()
        while time.monotonic() - began < patience:
            if self.process.poll() is not None:
                pytest.fail(f"./deploy/serve ended with {self.process.returncode}: {self.errors.read_text()}")
            if status_of(f"{self.address}/readyz") == HTTPStatus.OK:
                return time.monotonic() - began
            time.sleep(0.05)
        pytest.fail(f"not ready after {patience} s: {self.errors.read_text()}")

    def stop(self) -> int:
        """The exit code after SIGTERM; one that does not stop in time fails the test."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=STOP)

    def end(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()


def status_of(address: str) -> int | None:
    """The status of a GET; nothing while no one listens."""
    try:
        with urllib.request.urlopen(address, timeout=5) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as answered:
        return answered.code
    except OSError:
        return None


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


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
    running = Served(clone, free_port())
    try:
        running.wait_until_ready(FIRST_START)
        yield running
    finally:
        running.end()


def test_the_printed_request_is_answered(served: Served) -> None:
    status, body = run_request(printed_request(served.output.read_text()))
    assert status == HTTPStatus.OK
    assert body.startswith(b"{")


def test_the_printed_request_can_be_sent_without_curl(served: Served) -> None:
    status, _ = send_as_curl(printed_request(served.output.read_text()))
    assert status == HTTPStatus.OK


def test_the_printed_documentation_is_there(served: Served) -> None:
    line = next(line for line in served.output.read_text().splitlines() if re.search(r"\bdoc", line, re.IGNORECASE))
    address = re.search(r"http://[^\s,)]+", line)
    assert address is not None, f"no address in: {line}"
    assert status_of(address.group()) == HTTPStatus.OK


def test_it_stops_when_told_and_starts_again_at_once(served: Served, clone: Path) -> None:
    assert served.stop() == 0
    again = Served(clone, free_port())
    try:
        assert again.wait_until_ready(NEXT_START) < NEXT_START
        assert "Installing" not in again.errors.read_text()
        assert again.stop() == 0
    finally:
        again.end()


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
