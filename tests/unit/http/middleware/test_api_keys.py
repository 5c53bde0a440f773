"""API keys: only hashes are kept, several at once, changed without a restart."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

import msgspec
import pytest
from structlog.testing import capture_logs

from service.http.middleware import api_keys as keys
from service.http.middleware.api_keys import KeyRing, KeysUnavailable, hashed, keys_from_file, keys_from_text, new_key
from service.observability.metrics import KEY_FILE_UNREAD


def written(path: Path, text: str, age: int = 0) -> Path:
    path.write_text(text, encoding="utf-8")
    moment = 1_700_000_000 + age  # every version of the file has a time of its own, whatever the clock's step
    os.utime(path, (moment, moment))
    return path


def test_new_keys_differ_and_their_hash_finds_them() -> None:
    (one, digest), (other, _) = new_key(), new_key()
    assert one != other
    assert len(one) >= 43  # 32 random bytes
    assert hashed(one.encode()) == digest
    ring = KeyRing(keys_from_text(f"gym={digest}"))
    assert ring.holder(one.encode()) == keys.Holder("gym", expired=False)
    assert ring.holder(other.encode()) is None
    assert ring.holder(b"") is None


def test_several_keys_under_names_from_file_and_environment(tmp_path: Path) -> None:
    path = written(
        tmp_path / "keys.toml", f'[gym]\nsha256 = "{hashed(b"one")}"\n[clinic]\nsha256 = "{hashed(b"two")}"\n'
    )
    ring = KeyRing(keys_from_text(f"home={hashed(b'three')}"), path)
    assert len(ring) == 3
    found = [ring.holder(key) for key in (b"one", b"two", b"three", b"four")]
    assert [holder and holder.name for holder in found] == ["gym", "clinic", "home", None]


def test_key_that_has_run_out_is_known_and_expired() -> None:
    today = datetime.now(UTC).date()
    over, good = keys.Key(hashed(b"one"), today - timedelta(days=1)), keys.Key(hashed(b"two"), today)
    ring = KeyRing({"old": over, "new": good})
    assert ring.holder(b"one") == keys.Holder("old", expired=True)
    assert ring.holder(b"two") == keys.Holder("new", expired=False)


def test_file_is_read_again_when_it_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keys, "CHECKED_EVERY", 0.0)
    path = written(tmp_path / "keys.toml", f'[gym]\nsha256 = "{hashed(b"one")}"\n')
    ring = KeyRing({}, path)
    assert ring.holder(b"one")
    written(path, f'[gym]\nsha256 = "{hashed(b"two")}"\n', age=1)
    assert ring.holder(b"one") is None
    assert ring.holder(b"two")


GOOD: Final = f'[gym]\nsha256 = "{hashed(b"one")}"\n'
LOST: Final[dict[str, Callable[[Path], object]]] = {
    "gone": lambda path: path.unlink(),
    "a folder": lambda path: path.rename(path.with_name("aside")).parent.joinpath(path.name).mkdir(),
    "no TOML": lambda path: written(path, "no table", age=1),
    "no hash": lambda path: written(path, '[gym]\nsha256 = "short"\n', age=1),
    "no key": lambda path: written(path, "[gym]\nsecret = 1\n", age=1),
    "no UTF-8": lambda path: path.write_bytes(b"\xff\xfe"),
}


class Clock:
    """A clock that a test sets."""

    now = 1_000.0


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    found = Clock()
    monkeypatch.setattr("service.http.middleware.api_keys.time.monotonic", lambda: found.now)
    return found


def unread() -> float:
    return float(next(iter(next(iter(KEY_FILE_UNREAD.collect())).samples)).value)


@pytest.mark.parametrize("lose", LOST.values(), ids=LOST)
def test_file_that_cannot_be_read_leaves_the_keys_for_a_time_and_then_none(
    tmp_path: Path, clock: Clock, lose: Callable[[Path], object]
) -> None:
    path = written(tmp_path / "keys.toml", GOOD)
    ring = KeyRing({"own": keys.Key(hashed(b"own"))}, path, grace=100)
    assert unread() == 0
    lose(path)
    with capture_logs() as logged:
        for _ in range(99):
            clock.now += 1
            assert ring.holder(b"one")
            assert ring.holder(b"other") is None
        assert unread() == 98
        clock.now += 2
        for key in (b"one", b"other"):
            with pytest.raises(KeysUnavailable):
                ring.holder(key)
        assert ring.holder(b"own")  # not of the file
        for _ in range(120):
            clock.now += 1
            with pytest.raises(KeysUnavailable):
                ring.holder(b"one")
    assert {line["log_level"] for line in logged} == {"error"}
    kept, refused = "key file unreadable, keys kept", "key file unreadable, its keys are refused"
    assert [line["event"] for line in logged] == [kept] * 2 + [refused] * 3  # one a minute, and one when it changes
    assert [line["seconds_left"] for line in logged] == [100, 40, 0, 0, 0]


def test_file_that_comes_back_as_it_was_counts_again(tmp_path: Path, clock: Clock) -> None:
    path = written(tmp_path / "keys.toml", GOOD)
    aside = tmp_path / "aside"
    ring = KeyRing({}, path, grace=10)
    for gone in (5, 15):
        path.rename(aside)
        ring.holder(b"one")
        clock.now += gone
        if gone > 10:
            with pytest.raises(KeysUnavailable):
                ring.holder(b"one")
        aside.rename(path)
        clock.now += 1
        assert ring.holder(b"one")
        assert ring.holder(b"other") is None
        assert unread() == 0
        clock.now += 100
        assert ring.holder(b"one")
        clock.now += 1


def test_without_grace_a_file_that_is_gone_closes_at_once(tmp_path: Path, clock: Clock) -> None:
    path = written(tmp_path / "keys.toml", GOOD)
    ring = KeyRing({}, path, grace=0)
    assert ring.holder(b"one")
    path.unlink()
    clock.now += 1
    with pytest.raises(KeysUnavailable):
        ring.holder(b"one")


def test_broken_file_at_start_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(msgspec.ValidationError):
        keys_from_file(written(tmp_path / "keys.toml", '[gym]\nsha256 = "not a hash"\n'))


@pytest.mark.parametrize("text", ["gym", "=abc", "gym=short", f"gym={'A' * 64}"])
def test_broken_list_in_the_environment_is_an_error(text: str) -> None:
    with pytest.raises((ValueError, msgspec.ValidationError)):
        keys_from_text(text)
