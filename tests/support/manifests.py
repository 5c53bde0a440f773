"""The manifests as the tests read them, and what the service itself says about how it runs."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from pathlib import Path
from typing import Any, Final

import yaml

from service.settings import DESIGN_CHOICES, VARIABLES
from tests.support.paths import ROOT

KUBERNETES: Final = ROOT / "deploy" / "kubernetes"
COMPOSE: Final = ROOT / "deploy" / "compose.yaml"
COMPOSE_TLS: Final = ROOT / "deploy" / "compose.tls.yaml"
PROXY: Final = ROOT / "deploy" / "proxy" / "haproxy.cfg"
NAME: Final = "program-adjustment-service"
FILES: Final = sorted(path for path in KUBERNETES.glob("*.yaml") if path.name != "kustomization.yaml")
COMPONENTS: Final = sorted(path.parent for path in KUBERNETES.glob("components/*/kustomization.yaml"))
ENVIRONMENT: Final = {*VARIABLES.values(), DESIGN_CHOICES}
"""What the service reads, but for the other standard variables of OpenTelemetry."""
SHOW_PATIENCE: Final = """
import uvicorn
def record(*_, **settings):
    print(settings["timeout_graceful_shutdown"])
    raise SystemExit(0)
uvicorn.Config = record
from service.cli import serve
serve()
"""


def read(path: Path) -> dict[str, Any]:
    """The one document of a file."""
    found: dict[str, Any] = yaml.safe_load(path.read_text())
    return found


def documents(path: Path) -> list[dict[str, Any]]:
    """All documents of a file."""
    return list(yaml.safe_load_all(path.read_text()))


def not_read(names: set[str]) -> set[str]:
    """Those of the variables that the service does not read."""
    return {name for name in names if name not in ENVIRONMENT and not name.startswith("OTEL_")}


def of_kind(kind: str) -> dict[str, Any]:
    """The one manifest of a kind."""
    (found,) = [document for document in map(read, FILES) if document["kind"] == kind]
    return found


def image_user() -> int:
    """The user that the Dockerfile names, as a number."""
    found = re.search(r"^USER (\d+):\d+$", (ROOT / "Dockerfile").read_text(), re.MULTILINE)
    assert found is not None
    return int(found.group(1))


def graceful_shutdown() -> int:
    """How long the service gives what is in flight when it is told to stop [s], asked of its own start."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = str(probe.getsockname()[1])
    asked = [sys.executable, "-c", SHOW_PATIENCE]
    done = subprocess.run(asked, cwd=ROOT, env={"PORT": port}, capture_output=True, text=True, check=True)
    return int(done.stdout.splitlines()[-1])
