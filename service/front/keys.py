"""API keys: kept as hashes under names, compared in constant time, changed without a restart.

A key is random and long (see `new_key`), so one round of SHA-256 is enough to keep it; no password is ever kept here.
"""

from __future__ import annotations

import hmac
import secrets
import time
import tomllib
from datetime import UTC, date, datetime
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Final

import msgspec
import structlog
from msgspec import Meta

LOOKED_AT_EVERY: Final = 1.0  # [s], how often the file is looked at for a change
_BYTES: Final = 32


class Key(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One key by its hash.

    sha256: of the key's text, 64 hexadecimal digits; not_after: last day on which it is good, None for no end.
    """

    sha256: Annotated[str, Meta(pattern=r"^[0-9a-f]{64}\Z")]
    not_after: date | None = None


class Holder(msgspec.Struct, frozen=True):
    """Whose key was presented, and whether it has run out."""

    name: str
    expired: bool


def new_key() -> tuple[str, str]:
    """A new random key and its hash as it is kept."""
    key = secrets.token_urlsafe(_BYTES)
    return key, hashed(key.encode())


def hashed(key: bytes) -> str:
    """The hash of a key's text, as hexadecimal digits."""
    return sha256(key).hexdigest()


def keys_from_text(text: str) -> dict[str, Key]:
    """Keys from `name=hash,name=hash`; raises msgspec.ValidationError or ValueError for what is not that."""
    pairs = [part.strip().split("=") for part in text.split(",") if part.strip()]
    if any(len(pair) != 2 or not pair[0] for pair in pairs):  # noqa: PLR2004 - a name and a hash
        raise ValueError("API_KEYS is not a list of name=hash, parted by commas")
    return msgspec.convert({name: {"sha256": digest} for name, digest in pairs}, dict[str, Key])


def keys_from_file(path: Path) -> dict[str, Key]:
    """Keys from a TOML file with one table a name; raises OSError, ValueError (no TOML) or msgspec.ValidationError."""
    return msgspec.convert(tomllib.loads(path.read_text(encoding="utf-8")), dict[str, Key])


class KeyRing:
    """The keys that are good now.

    A file is looked at again while serving: a new version of it counts from then on. One that cannot be read leaves the
    keys as they were, and the log says so.
    """

    def __init__(self, given: dict[str, Key], path: Path | None = None) -> None:
        self._given = given
        self._path = path
        self._keys = given
        self._version = 0
        self._look_again = 0.0
        if path is not None:
            self._version = path.stat().st_mtime_ns
            self._keys = {**given, **keys_from_file(path)}

    def holder(self, presented: bytes) -> Holder | None:
        """Whose key this is; None if it is nobody's. Every key is compared, so that time tells nothing."""
        self._look()
        digest = hashed(presented)
        found: Holder | None = None
        for name, key in self._keys.items():
            if hmac.compare_digest(digest, key.sha256):
                found = Holder(name, key.not_after is not None and datetime.now(UTC).date() > key.not_after)
        return found

    def __len__(self) -> int:
        return len(self._keys)

    def _look(self) -> None:
        now = time.monotonic()
        if self._path is None or now < self._look_again:
            return
        self._look_again = now + LOOKED_AT_EVERY
        try:
            version = self._path.stat().st_mtime_ns
            if version == self._version:
                return
            self._version = version
            self._keys = {**self._given, **keys_from_file(self._path)}
            structlog.get_logger().info("keys read again", keys=len(self._keys))
        except (OSError, ValueError, msgspec.ValidationError) as error:
            # the words of a decoding error may quote the file
            structlog.get_logger().error("keys not read again, the old ones stay", reason=type(error).__name__)
