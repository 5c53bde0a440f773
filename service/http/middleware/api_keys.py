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

from service.observability.metrics import KEY_FILE_UNREAD

CHECKED_EVERY: Final = 1.0  # [s], how often the file is looked at for a change
LOGGED_EVERY: Final = 60.0  # [s], how often the log says that the file cannot be read
KEY_LENGTH: Final = 32  # [bytes]


class Key(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One key by its hash.

    Attributes:
        sha256: hash of the key's text, 64 hexadecimal digits
        not_after: last day on which the key is good, None for no end
    """

    sha256: Annotated[str, Meta(pattern=r"^[0-9a-f]{64}\Z")]
    not_after: date | None = None


class Holder(msgspec.Struct, frozen=True):
    """Whose key was presented.

    Attributes:
        name: name of the client that the key was made for
        expired: whether the key has run out
    """

    name: str
    expired: bool


class KeysUnavailable(Exception):
    """A key cannot be checked: it may belong to a file that could not be read for too long."""


def new_key() -> tuple[str, str]:
    """A new random key and its hash as it is kept."""
    key = secrets.token_urlsafe(KEY_LENGTH)
    return key, hashed(key.encode())


def hashed(key: bytes) -> str:
    """The hash of a key's text, as hexadecimal digits."""
    return sha256(key).hexdigest()


def keys_from_text(text: str) -> dict[str, Key]:
    """Keys from `name=hash,name=hash`; raises ValueError for text of another form."""
    pairs = [part.strip().split("=") for part in text.split(",") if part.strip()]
    if any(len(pair) != 2 or not pair[0] for pair in pairs):  # noqa: PLR2004 - a name and a hash
        raise ValueError("API_KEYS is not a list of name=hash, parted by commas")
    try:
        return msgspec.convert({name: {"sha256": digest} for name, digest in pairs}, dict[str, Key])
    except msgspec.ValidationError:
        raise ValueError("API_KEYS has a hash that is not 64 hexadecimal digits in small letters") from None


def keys_from_file(path: Path) -> dict[str, Key]:
    """Keys from a TOML file with one table a name; raises OSError, ValueError (not TOML) or msgspec.ValidationError."""
    return msgspec.convert(tomllib.loads(path.read_text(encoding="utf-8")), dict[str, Key])


class KeyRing:
    """The keys that are valid now.

    fixed: keys that never change, by name; path: of a file with more; grace: how long the keys of the file stay good
    while it cannot be read [s].

    A file is looked at again while serving: a new version of it counts from then on. While it is gone or cannot be read
    the keys stay as they were for the time of grace; after that none of the file's keys opens anything. The log
    says so each minute, and a metric how long it has been.
    """

    def __init__(self, fixed: dict[str, Key], path: Path | None = None, grace: float = 0.0) -> None:
        """Raises what `keys_from_file` raises, where there is a file."""
        self._fixed = fixed
        self._path = path
        self._grace = grace
        self._keys = fixed
        self._version = 0
        self._check_at = 0.0
        self._unread_since: float | None = None
        self._lapsed = False
        self._log_at = 0.0
        if path is not None:
            self._read(path)
            KEY_FILE_UNREAD.set_function(self._unread_seconds)

    def holder(self, presented: bytes) -> Holder | None:
        """The holder of a key; None if it is unknown. Every key is compared, so that the time taken reveals nothing.

        Raises KeysUnavailable if it is none of those that are still known, and there may be others.
        """
        self._check()
        digest = hashed(presented)
        holder: Holder | None = None
        for name, key in self._keys.items():
            if hmac.compare_digest(digest, key.sha256):
                holder = Holder(name, key.not_after is not None and datetime.now(UTC).date() > key.not_after)
        if holder is None and self._lapsed:
            raise KeysUnavailable
        return holder

    def __len__(self) -> int:
        return len(self._keys)

    def _check(self) -> None:
        now = time.monotonic()
        if self._path is None or now < self._check_at:
            return
        self._check_at = now + CHECKED_EVERY
        try:
            self._read(self._path)
        except (OSError, ValueError, msgspec.ValidationError) as error:
            self._note_unread(now, type(error).__name__)  # the words of a decoding error may quote the file

    def _read(self, path: Path) -> None:
        version = path.stat().st_mtime_ns
        if version == self._version and self._unread_since is None:
            return
        self._keys = {**self._fixed, **keys_from_file(path)}
        if self._version:
            structlog.get_logger().info("keys read again", keys=len(self._keys))
        self._version = version
        self._unread_since = None
        self._lapsed = False

    def _note_unread(self, now: float, reason: str) -> None:
        """The file cannot be read: go on with the keys read last, or, when that has been too long, without."""
        if self._unread_since is None:
            self._unread_since = self._log_at = now
        left = max(0.0, self._unread_since + self._grace - now)
        if not left and not self._lapsed:
            self._keys = self._fixed
            self._lapsed = True
            self._log_at = now
        if now >= self._log_at:
            self._log_at = now + LOGGED_EVERY
            event = "key file unreadable, its keys are refused" if self._lapsed else "key file unreadable, keys kept"
            structlog.get_logger().error(event, reason=reason, seconds_left=round(left))

    def _unread_seconds(self) -> float:
        self._check()
        return 0.0 if self._unread_since is None else time.monotonic() - self._unread_since
