"""The environment as settings."""

from __future__ import annotations

import msgspec
import pytest

from service.settings import Settings, from_environment

NAMES = ("HOST", "PORT", "MAX_BODY", "LOG_LEVEL")


@pytest.fixture(autouse=True)
def empty_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in NAMES:
        monkeypatch.delenv(name, raising=False)


def test_nothing_set_gives_the_defaults() -> None:
    assert from_environment() == Settings("127.0.0.1", 8000, 65_536, "info")


def test_each_variable_sets_its_own_field(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in zip(NAMES, ("0.0.0.0", "9001", "4096", "warning"), strict=True):  # noqa: S104 - a value, not bound
        monkeypatch.setenv(name, value)
    assert from_environment() == Settings("0.0.0.0", 9001, 4096, "warning")  # noqa: S104 - the same


@pytest.mark.parametrize(
    ("name", "value"),
    [("PORT", "0"), ("PORT", "65536"), ("PORT", "http"), ("PORT", ""), ("MAX_BODY", "1000"), ("MAX_BODY", "1e9")],
)
def test_bad_value_is_named(monkeypatch: pytest.MonkeyPatch, name: str, value: str) -> None:
    monkeypatch.setenv(name, value)
    with pytest.raises(msgspec.ValidationError, match=name.lower()):
        from_environment()
