"""Requests as bytes, key files, and what every answer says, whoever gives it."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Final

from service.http.middleware.api_keys import hashed
from tests.support.live import BODY, PATH

# what every answer says to a browser, whoever gives it (OWASP REST Security Cheat Sheet, security headers)
SECURITY: Final = {"x-content-type-options": "nosniff", "referrer-policy": "no-referrer"}
WITHHELD: Final = (
    f"POST {PATH} HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\n"
    f"content-length: {len(BODY)}\r\nexpect: 100-continue\r\n\r\n"
).encode()
"""A head after which the service waits for the body, and says so: the request is then in its hand."""


def keys_written(path: Path, text: str) -> None:
    """A key file replaced at once, as an operator would; each version has a time of its own."""
    draft = path.with_suffix(".new")
    draft.write_text(text, encoding="utf-8")
    moment = time.time_ns()
    os.utime(draft, ns=(moment, moment))
    draft.replace(path)


def key_entry(name: str, key: str, not_after: str = "") -> str:
    """One key as the file holds it."""
    end = f"not_after = {not_after}\n" if not_after else ""
    return f'[{name}]\nsha256 = "{hashed(key.encode())}"\n{end}'
