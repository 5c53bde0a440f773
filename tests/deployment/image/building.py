"""Builds the image as a user would, but on a base made from Debian's packages: no registry of images is asked.

Storage lies in a folder of the test's own; what is built never mixes with what the machine has.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any, Final

import msgspec

from tests.support.paths import ROOT

BASE: Final = "localhost/stand-in"
SUBJECT: Final = "localhost/subject"
REVISION: Final = "0123abc"
ANY_IMAGE: Final = {"default": [{"type": "insecureAcceptAnything"}]}  # local ones, which no one has signed
PIP: Final = "[global]\nno-index = true\nfind-links = /wheels\n"


def run(command: list[str], **environment: str) -> str:
    """What a command printed; an error of it with its own last words if it fails."""
    done = subprocess.run(command, env=os.environ | environment, capture_output=True, text=True, check=False)
    if done.returncode:
        words = f"{done.stdout[-2000:]}\n{done.stderr[-4000:]}"
        message = f"{' '.join(command[:8])} … ended with {done.returncode}: {words}"
        raise RuntimeError(message)
    return done.stdout


class Buildah:
    """Debian's buildah without privileges beyond chroot, and without layers shared between containers."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self.policy = place / "policy.json"
        self.policy.write_text(json.dumps(ANY_IMAGE))
        scratch = place / "scratch"
        scratch.mkdir()
        self.start: Final = [
            *("env", f"TMPDIR={scratch}", "buildah", "--root", str(place / "storage"), "--runroot", str(place / "run")),
            *("--storage-driver", "vfs"),
        ]

    def __call__(self, command: str, *arguments: str) -> str:
        return run([*self.start, command, *arguments]).strip()

    def configuration(self, image: str) -> dict[str, Any]:
        """What the image says about how to run it."""
        found: dict[str, Any] = json.loads(self("inspect", "--type", "image", image))["Docker"]["config"]
        return found

    def size(self, image: str) -> int:
        """All layers, not compressed [bytes]."""
        manifest = json.loads(json.loads(self("inspect", "--type", "image", image))["Manifest"])
        return sum(layer["size"] for layer in manifest["layers"])


class Mirror(msgspec.Struct, frozen=True):
    """Where this machine gets Debian from, and which Debian it is."""

    codename: str
    address: str

    @classmethod
    def of_this_machine(cls) -> Mirror:
        """The one that apt itself is set to use."""
        found = cls._listed()
        if found is None:
            run(["apt-get", "update"])
            found = cls._listed()
        if found is None:
            raise RuntimeError("apt knows no Debian release here: the base can be made on Debian alone")
        return found

    @classmethod
    def _listed(cls) -> Mirror | None:
        """The first in apt's lists; updates and security fixes are published under other names."""
        wanted = "$(ORIGIN) $(COMPONENT) $(CODENAME) $(REPO_URI)"
        for line in run(["apt-get", "indextargets", "--format", wanted, "Created-By: Packages"]).splitlines():
            origin, component, codename, address = line.split(" ", 3)
            if (origin, component) == ("Debian", "main") and "-" not in codename:
                return cls(codename, address)
        return None


def proxies() -> dict[str, str]:
    """The proxy that apt goes through, if any, for the program that fetches the base."""
    settings = run(["apt-config", "dump", "--format", "%f=%v%n"]).splitlines()
    named = dict(line.split("=", 1) for line in settings if "=" in line)
    found = {f"{kind}_proxy": named.get(f"Acquire::{kind}::Proxy", "") for kind in ("http", "https")}
    return {name: address for name, address in found.items() if address not in {"", "DIRECT"}}


def make_base(buildah: Buildah) -> None:
    """An image of the smallest Debian with Python: it stands for the base that a user would name."""
    mirror = Mirror.of_this_machine()
    container = buildah("from", "--signature-policy", str(buildah.policy), "scratch")
    folder = buildah("mount", container)
    packages = "--include=python3,python3-venv"
    # In a mount namespace of its own, so that whatever it mounts is gone when it ends, even if it fails.
    isolated = ["unshare", "--mount", "--propagation", "private"]
    run([*isolated, "debootstrap", "--variant=minbase", packages, mirror.codename, folder, mirror.address], **proxies())
    buildah("commit", "--quiet", "--rm", "--signature-policy", str(buildah.policy), container, BASE)


def fetch_wheels(buildah: Buildah) -> Path:
    """What the lock lists, for the base's Python, by the pip and the settings that the tests themselves came with."""
    container = buildah("from", "--pull-never", "--signature-policy", str(buildah.policy), BASE)
    asked = ["python3", "-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
    version = buildah("run", "--isolation", "chroot", container, "--", *asked)
    buildah("rm", container)
    wheels = buildah.place / "wheels"
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--only-binary", ":all:"]
    # pip judges conditions by the Python that it runs under: what only another one needs is fetched as well
    listed = (ROOT / "deploy" / "requirements.lock").read_text(encoding="utf-8")
    lock = buildah.place / "requirements.lock"
    lock.write_text(re.sub(r" ; python_full_version[^\\\n]*", " ", listed), encoding="utf-8")
    given = ["--require-hashes", "--requirement", str(lock)]
    run([*pip, *given, "--python-version", version, "--dest", str(wheels)])
    return wheels


def build(buildah: Buildah) -> None:
    """The image of this work tree; packages come from a folder, by the settings that a build of one's own can give."""
    make_base(buildah)
    wheels = fetch_wheels(buildah)
    settings = buildah.place / "pip.conf"
    settings.write_text(PIP)
    given = ["--build-arg", f"BASE={BASE}", "--build-arg", f"REVISION={REVISION}"]
    packages = ["--volume", f"{wheels}:/wheels:ro", "--secret", f"id=pip.conf,src={settings}"]
    policy = ["--pull-never", "--signature-policy", str(buildah.policy)]
    kind = ["--isolation", "chroot", "--format", "docker"]  # the other format knows no health check
    buildah("build", *kind, *policy, *given, *packages, "--tag", SUBJECT, "--file", str(ROOT / "Dockerfile"), str(ROOT))
