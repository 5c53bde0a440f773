"""The shapes of ASGI, wide enough for what both the server and the framework pass."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any, TypeAlias

Scope: TypeAlias = MutableMapping[str, Any]
Message: TypeAlias = MutableMapping[str, Any]
Receive: TypeAlias = Callable[[], Awaitable[Any]]
Send: TypeAlias = Callable[[Any], Awaitable[None]]
ASGIApp: TypeAlias = Callable[[Any, Any, Any], Awaitable[None]]
