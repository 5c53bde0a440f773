"""Whether the service starts with given settings, and what it says where it does not."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

from service.http.middleware.api_keys import hashed
from tests.support.live import live
from tests.support.paths import ROOT
from tests.support.programs import free_port

HASH: Final = hashed(b"secret")


def refused(command: str = "serve", **environment: str) -> tuple[int, str]:
    """Exit code and words of a service that does not start."""
    done = subprocess.run(  # noqa: S603 - a command of ours
        [sys.executable, "-m", "service", command],
        cwd=ROOT,
        env=os.environ | {"PORT": str(free_port())} | environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.stdout == ""
    return done.returncode, done.stderr


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])  # noqa: S104 - that is the point
def test_beyond_loopback_it_does_not_start_without_keys(host: str) -> None:
    code, words = refused(HOST=host)
    assert code == 2
    assert words.count("\n") == 1
    assert host in words
    assert "API_KEYS" in words
    assert "OPEN_ACCESS=true" in words


@pytest.mark.parametrize(
    "environment",
    [{"OPEN_ACCESS": "true"}, {"API_KEYS": f"gym={HASH}"}],
    ids=["opened", "with_keys"],
)
def test_beyond_loopback_it_starts_when_told_how(tmp_path: Path, environment: dict[str, str]) -> None:
    with live(tmp_path, **environment) as service:
        service.stop()
        service.environment["HOST"] = "0.0.0.0"  # noqa: S104 - that is the point
        service.start()
        assert service.compute().status == (200 if "OPEN_ACCESS" in environment else 401)
        assert service.compute(authorization="Bearer secret").status == 200


@pytest.mark.parametrize(
    "environment",
    [
        {"API_KEYS": "gym"},
        {"API_KEYS": f"gym={HASH.upper()}"},
        {"API_KEYS_FILE": "/no/such/file"},
        {"QUOTAS": "burst=many"},
        {"REDIS_URL": "redis://:pass/word@store:6379", "API_KEYS": f"gym={HASH}"},
        {"REDIS_URL": "http://store"},
        {"PORT": "none"},
        {"LOG_LEVEL": "loud"},
        {"MAX_HEAD": "1"},
    ],
    ids=lambda environment: next(iter(environment)),
)
def test_settings_that_cannot_be_used(environment: dict[str, str]) -> None:
    code, words = refused(**environment)
    assert code == 2
    assert words.count("\n") == 1
    assert next(iter(environment)) in words
    assert HASH not in words.lower()
    assert "word" not in words.replace("password", "")


def test_broken_key_file_is_not_quoted(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text(f'[gym]\nsha256 = "{HASH}"\nsecret = "open sesame"\n', encoding="utf-8")
    code, words = refused(API_KEYS_FILE=str(path))
    assert code == 2
    assert words.count("\n") == 1
    assert HASH not in words
    assert "sesame" not in words


CHOICES_FAULTS: Final = {
    "unknown_key": ("[return_plan]\nstpe = 0.2\n", "return_plan: Table contains unknown field `stpe`"),
    "wrong_type": ('[return_plan]\nstep = "0.2"\n', "return_plan.step: Expected `float`, got `str`"),
    "out_of_bounds": ("[return_plan]\nstep = 20\n", "return_plan.step: Expected `float` <= 1.0"),
    "not_toml": ("[return_plan\n", "Expected ']'"),
    "missing": (None, "No such file or directory"),
}


@pytest.mark.parametrize("command", ["serve", "openapi", "demo"])
@pytest.mark.parametrize("fault", CHOICES_FAULTS)
def test_design_choices_that_cannot_be_used(tmp_path: Path, fault: str, command: str) -> None:
    path = tmp_path / "choices.toml"
    text, words = CHOICES_FAULTS[fault]
    if text is not None:
        path.write_text(text, encoding="utf-8")
    code, line = refused(command, DESIGN_CHOICES=str(path))
    assert code == 2
    assert line.count("\n") == 1
    assert line.startswith(f"DESIGN_CHOICES is not usable: {path}: ")
    assert words in line


@pytest.mark.parametrize("setting", ["PORT", "METRICS_PORT"])
def test_port_that_is_taken(setting: str) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        number = str(taken.getsockname()[1])
        code, words = refused(**{setting: number})
    assert code == 1
    assert words.count("\n") == 1
    assert number in words
