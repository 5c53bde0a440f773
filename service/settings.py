"""The environment, read once into one frozen struct."""

from __future__ import annotations

import os
from typing import Annotated

import msgspec
from msgspec import Meta


class Settings(msgspec.Struct, frozen=True):
    """host and port to listen on; largest request body [bytes]; level of the log lines."""

    host: str = "127.0.0.1"
    port: Annotated[int, Meta(ge=1, le=65535)] = 8000
    max_body: Annotated[int, Meta(ge=1024, le=16_777_216)] = 65_536
    log_level: str = "info"


def from_environment() -> Settings:
    """Settings from HOST, PORT, MAX_BODY and LOG_LEVEL; raises msgspec.ValidationError naming a bad one."""
    names = {"host": "HOST", "port": "PORT", "max_body": "MAX_BODY", "log_level": "LOG_LEVEL"}
    return msgspec.convert(
        {key: os.environ[name] for key, name in names.items() if name in os.environ}, Settings, strict=False
    )
