"""One container of the image at work, on a root file system that cannot be written to."""

from __future__ import annotations

import os
import shlex
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest

if TYPE_CHECKING:
    from tests.deployment.image.building import Buildah

PATIENCE: Final = 60.0  # [s] for what takes one or two


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def descendants(process: int) -> list[int]:
    """The processes below one, nearest first."""
    parents: dict[int, list[int]] = {}
    for entry in Path("/proc").iterdir():
        try:
            parent = int((entry / "stat").read_text().rpartition(")")[2].split()[1]) if entry.name.isdigit() else None
        except OSError:  # ended meanwhile
            continue
        if parent is not None:
            parents.setdefault(parent, []).append(int(entry.name))
    found = [process]
    for one in found:
        found += parents.get(one, [])
    return found[1:]


class Container:
    """Commands in a container of the image; what runs there shares the machine's network, on loopback."""

    def __init__(self, buildah: Buildah, image: str) -> None:
        self.buildah = buildah
        self.name = buildah("from", "--pull-never", "--signature-policy", str(buildah.policy), image)
        self.folder = Path(buildah("mount", self.name))
        self.port = free_port()
        self.output = buildah.place / "output"
        self.process: subprocess.Popen[bytes] | None = None
        # A runtime lays these over any root; they must be there before the root can no longer be written to.
        for place in ("etc/hosts", "etc/resolv.conf"):
            (self.folder / place).touch()

    def command(self, *words: str, user: str | None = None) -> list[str]:
        """The command line that runs words in the container; only /run, for the runtime's marks, can be written to."""
        settings = ["--env", "HOST=127.0.0.1", "--env", f"PORT={self.port}", *(["--user", user] if user else [])]
        running = shlex.join([*self.buildah.start, "run", "--isolation", "chroot", *settings, self.name, "--", *words])
        folder = shlex.quote(str(self.folder))
        bound = f"mount --bind {folder} {folder} && mount -o remount,bind,ro {folder}"
        marks = f"mount -t tmpfs none {folder}/run"
        return ["unshare", "--mount", "--propagation", "private", "sh", "-c", f"{bound} && {marks} && exec {running}"]

    def run(self, *words: str, user: str | None = None) -> subprocess.CompletedProcess[str]:
        """One command to its end."""
        return subprocess.run(
            self.command(*words, user=user), stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )

    def start(self, *words: str) -> None:
        """Leave a command running, until it is ready to serve."""
        with self.output.open("wb") as output:
            self.process = subprocess.Popen(
                self.command(*words), stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT
            )
        began = time.monotonic()
        while self.status("/readyz") != 200:
            if self.process.poll() is not None or time.monotonic() - began > PATIENCE:
                pytest.fail(f"the container does not serve: {self.output.read_text()[-4000:]}")
            time.sleep(0.05)

    def served_by(self) -> int:
        """The process that serves, as the machine counts processes."""
        assert self.process is not None
        return descendants(self.process.pid)[-1]

    def stop(self) -> int:
        """Tell the service itself to stop, as a runtime does; how the command ended."""
        assert self.process is not None
        os.kill(self.served_by(), signal.SIGTERM)
        return self.process.wait(timeout=PATIENCE)

    def end(self) -> None:
        if self.process is not None and self.process.poll() is None:
            for one in (*descendants(self.process.pid), self.process.pid):
                os.kill(one, signal.SIGKILL)
            self.process.wait()

    def ask(self, path: str, body: bytes | None = None) -> bytes:
        """The body of an answer; raises what urllib raises for one that is none or an error."""
        headers = {"Content-Type": "application/json"} if body else {}
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{path}", body, headers)
        with urllib.request.urlopen(request, timeout=20) as answer:
            found: bytes = answer.read()
            return found

    def status(self, path: str) -> int | None:
        """The status of a GET; nothing while no one listens."""
        try:
            self.ask(path)
        except urllib.error.HTTPError as answered:
            return answered.code
        except OSError:
            return None
        return 200
