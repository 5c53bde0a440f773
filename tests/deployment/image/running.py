"""One container of the image at work, on a root file system that cannot be written to."""

from __future__ import annotations

import os
import shlex
import signal
import subprocess
import urllib.request
from pathlib import Path
from typing import TYPE_CHECKING

from tests.support.programs import PATIENCE, Program, status_of

if TYPE_CHECKING:
    from tests.deployment.image.building import Buildah


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


class Container(Program):
    """Commands in a container of the image; what runs there shares the machine's network, on loopback."""

    def __init__(self, buildah: Buildah, image: str, *served: str) -> None:
        super().__init__(buildah.place / "output", "the container")
        self._buildah = buildah
        self._served = served
        self._name = buildah("from", "--pull-never", "--signature-policy", str(buildah.policy), image)
        self.root = Path(buildah("mount", self._name))
        # A runtime lays these over any root; they must be there before the root can no longer be written to.
        for place in ("etc/hosts", "etc/resolv.conf"):
            (self.root / place).touch()

    def inside(self, *words: str, user: str | None = None) -> list[str]:
        """The command line that runs words in the container; only /run, for the runtime's marks, can be written to."""
        settings = ["--env", "HOST=127.0.0.1", "--env", f"PORT={self.port}", *(["--user", user] if user else [])]
        isolated = ["--isolation", "chroot", *settings, self._name, "--", *words]
        running = shlex.join([*self._buildah.start, "run", *isolated])
        folder = shlex.quote(str(self.root))
        bound = f"mount --bind {folder} {folder} && mount -o remount,bind,ro {folder}"
        marks = f"mount -t tmpfs none {folder}/run"
        return ["unshare", "--mount", "--propagation", "private", "sh", "-c", f"{bound} && {marks} && exec {running}"]

    def run(self, *words: str, user: str | None = None) -> subprocess.CompletedProcess[str]:
        """One command to its end."""
        return subprocess.run(
            self.inside(*words, user=user), stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )

    def command(self) -> list[str]:
        return self.inside(*self._served)

    def ready(self) -> bool:
        return status_of(self.port, "/readyz") == 200

    def served_by(self) -> int:
        """The process that serves, as the machine counts processes."""
        return descendants(self.process.pid)[-1]

    def stop(self) -> int:
        """Have the service itself stop, as a runtime does; how the command ended."""
        os.kill(self.served_by(), signal.SIGTERM)
        return self.process.wait(timeout=PATIENCE)

    def kill(self) -> None:
        if self._process is not None and self._process.poll() is None:
            for one in descendants(self._process.pid):
                os.kill(one, signal.SIGKILL)
        super().kill()

    def ask(self, path: str, body: bytes | None = None) -> bytes:
        """The body of an answer; raises what urllib raises for one that is none or an error."""
        headers = {"Content-Type": "application/json"} if body else {}
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{path}", body, headers)
        with urllib.request.urlopen(request, timeout=20) as answer:
            found: bytes = answer.read()
            return found
