"""The composition root: nothing is done at import, and each application is made for its own settings."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
import structlog

from service.app import OPEN_PATHS, create_app, create_asgi
from service.settings import Settings
from tests.support.asgi import request, results

LOOK: Final = "import structlog, service.app; print(structlog.is_configured())"


def test_import_configures_nothing() -> None:
    command = [sys.executable, "-c", LOOK]
    root = Path(__file__).parents[2]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True)  # noqa: S603 - fixed arguments
    assert done.stdout.split() == ["False"]


@pytest.fixture
def log_as_before() -> Iterator[None]:
    kept = structlog.get_config()
    yield
    structlog.configure(**kept)


@pytest.mark.usefixtures("log_as_before")
def test_applications_of_other_settings_stand_side_by_side() -> None:
    gym, other = (
        create_asgi(Settings(log_level="error", allowed_origins=(origin,)))
        for origin in ("https://gym.example", "https://other.example")
    )
    asked = request((b"origin", b"https://gym.example"), path="/v1/tempo", method="OPTIONS")
    for app, allowed in ((gym, True), (other, False), (gym, True)):
        (reply,) = results(app, [asked])
        assert (b"access-control-allow-origin" in dict(reply["headers"])) is allowed


def test_what_needs_no_key_is_served() -> None:
    served = {route.path for route in create_app(Settings()).routes}
    assert {path for path in OPEN_PATHS if not path.startswith("/problems/")} <= served
