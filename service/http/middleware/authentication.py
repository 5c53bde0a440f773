"""Who may ask, where keys are required: API keys, presented as a bearer token (RFC 6750)."""

from __future__ import annotations

from collections.abc import Container
from typing import Final

from service.http.middleware.api_keys import Holder, KeyRing, KeysUnavailable
from service.http.problems import HttpProblem
from service.http.responses import send_problem
from service.http.types import ASGIApp, Receive, Scope, Send
from service.observability.metrics import REFUSED

SCHEME: Final = b"bearer "
KEYS_RETRY_AFTER: Final = 60  # [s]
CLIENT_NAME: Final = "client_name"
"""Where the name of the key's holder stands in the scope, for the layers around and behind."""


class Authentication:
    """Passes on requests with a valid key; others get 401, 403 or 503.

    exempt: paths for which no key is looked at; open_paths: those that need none.
    """

    def __init__(self, app: ASGIApp, ring: KeyRing, exempt: Container[str], open_paths: Container[str] = ()) -> None:
        self._app = app
        self._ring = ring
        self._exempt = exempt
        self._open_paths = open_paths

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        # a preflight carries no credentials
        if scope["type"] == "http" and scope["path"] not in self._exempt and scope["method"] != "OPTIONS":
            try:
                self._identify(scope)
            except HttpProblem as problem:
                REFUSED.labels(problem.kind.id).inc()
                await send_problem(send, problem)
                return
        await self._app(scope, receive, send)

    def _identify(self, scope: Scope) -> None:
        """Note the holder of the key. Raises HttpProblem where a required key is missing, or where it is not valid."""
        key = _bearer_token(scope)
        if key is not None:
            scope[CLIENT_NAME] = _good_holder(self._ring, key).name
        elif scope["path"] not in self._open_paths:
            raise HttpProblem("key-required", "Send your API key as a bearer token.", {"www-authenticate": "Bearer"})


def _good_holder(ring: KeyRing, key: bytes) -> Holder:
    """The holder of the key. Raises HttpProblem where it is unknown or has expired."""
    try:
        holder = ring.holder(key)
    except KeysUnavailable:
        detail = "The service cannot read its API keys, so none that it does not know otherwise can be let in."
        raise HttpProblem("keys-unavailable", detail, {"retry-after": str(KEYS_RETRY_AFTER)}) from None
    if holder is None:
        challenge = {"www-authenticate": 'Bearer error="invalid_token"'}
        raise HttpProblem("key-required", "This API key is not known.", challenge)
    if holder.expired:
        raise HttpProblem("key-expired", "This API key has run out.")
    return holder


def _bearer_token(scope: Scope) -> bytes | None:
    for name, value in scope["headers"]:
        if name == b"authorization" and value[: len(SCHEME)].lower() == SCHEME:
            return bytes(value[len(SCHEME) :]).strip()
    return None
