"""The environment as settings."""

from __future__ import annotations

import msgspec
import pytest

from service.settings import DESIGN_CHOICES, Settings, design_choices_file, from_environment

NAMES = ("HOST", "PORT", "MAX_BODY", "LOG_LEVEL", "MAX_BULK_BODY", "ALLOWED_ORIGINS", "OTEL_EXPORTER_OTLP_ENDPOINT")
VALUES = (
    "0.0.0.0",  # noqa: S104 - a value, not bound
    "9001",
    "4096",
    "warning",
    "8192",
    "https://a.example, http://b.example:8080",
    "http://127.0.0.1:4318",
)


@pytest.fixture(autouse=True)
def empty_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)


def test_nothing_set_gives_the_defaults() -> None:
    assert from_environment() == Settings()


def test_each_variable_sets_its_own_field(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in zip(NAMES, VALUES, strict=True):
        monkeypatch.setenv(name, value)
    assert from_environment() == Settings(
        host="0.0.0.0",  # noqa: S104 - a value, not bound
        port=9001,
        max_body=4096,
        log_level="warning",
        max_bulk_body=8192,
        allowed_origins=("https://a.example", "http://b.example:8080"),
        otel_exporter_otlp_endpoint="http://127.0.0.1:4318",
    )


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("PORT", "0"),
        ("PORT", "65536"),
        ("PORT", "http"),
        ("LOG_LEVEL", "loud"),
        ("MAX_BULK_BODIES", "1000"),
        ("MAX_BODY", "1000"),
        ("MAX_BODY", "1e9"),
        ("MAX_BULK_BODY", "1000"),
        ("ALLOWED_ORIGINS", "a.example"),
        ("ALLOWED_ORIGINS", "https://a.example/path"),
    ],
)
def test_bad_value_is_named(monkeypatch: pytest.MonkeyPatch, name: str, value: str) -> None:
    monkeypatch.setenv(name, value)
    with pytest.raises(msgspec.ValidationError, match=name.lower()):
        from_environment()


def test_empty_variable_counts_as_not_set(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in NAMES:
        monkeypatch.setenv(name, "")
    assert from_environment() == Settings()


@pytest.mark.parametrize(("value", "path"), [(None, None), ("", None), ("/etc/choices.toml", "/etc/choices.toml")])
def test_design_choices_file(monkeypatch: pytest.MonkeyPatch, value: str | None, path: str | None) -> None:
    monkeypatch.delenv(DESIGN_CHOICES, raising=False)
    if value is not None:
        monkeypatch.setenv(DESIGN_CHOICES, value)
    assert design_choices_file() == path
