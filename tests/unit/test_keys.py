"""API keys: only hashes are kept, several at once, changed without a restart."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from service.front import keys
from service.front.keys import KeyRing, hashed, keys_from_file, keys_from_text, new_key


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
    monkeypatch.setattr(keys, "LOOKED_AT_EVERY", 0.0)
    path = written(tmp_path / "keys.toml", f'[gym]\nsha256 = "{hashed(b"one")}"\n')
    ring = KeyRing({}, path)
    assert ring.holder(b"one")
    written(path, f'[gym]\nsha256 = "{hashed(b"two")}"\n', age=1)
    assert ring.holder(b"one") is None
    assert ring.holder(b"two")


@pytest.mark.parametrize("broken", ["no table", '[gym]\nsha256 = "short"\n', "[gym]\nsecret = 1\n"])
def test_broken_new_file_leaves_the_keys_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    monkeypatch.setattr(keys, "LOOKED_AT_EVERY", 0.0)
    path = written(tmp_path / "keys.toml", f'[gym]\nsha256 = "{hashed(b"one")}"\n')
    ring = KeyRing({}, path)
    written(path, broken, age=1)
    assert ring.holder(b"one")
    path.write_bytes(b"\xff\xfe")
    os.utime(path, (1_800_000_000, 1_800_000_000))
    assert ring.holder(b"one")
    path.unlink()
    assert ring.holder(b"one")


def test_broken_file_at_start_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(msgspec.ValidationError):
        keys_from_file(written(tmp_path / "keys.toml", '[gym]\nsha256 = "not a hash"\n'))


@pytest.mark.parametrize("text", ["gym", "=abc", "gym=short", f"gym={'A' * 64}"])
def test_broken_list_in_the_environment_is_an_error(text: str) -> None:
    with pytest.raises((ValueError, msgspec.ValidationError)):
        keys_from_text(text)
