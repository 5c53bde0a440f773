"""Who may ask, and how often: API keys where they are required, quotas where they are set.

Keys are presented as a bearer token (RFC 6750). Clients without a key are told apart by a keyed hash of their address,
which is never written anywhere.
"""

from __future__ import annotations

import time
from hashlib import blake2b
from typing import Any, Final

from service.api.exchange import Headers, send_problem
from service.api.problems import HttpProblem
from service.front.asgi import App, Receive, Scope, Send
from service.front.keys import KeyRing
from service.front.metrics import REFUSED
from service.front.quotas import Counters, Policy, Standing, headers, standings

SCHEME: Final = b"bearer "
EXTRA_HEADERS: Final = "answer_headers"
"""Where the outermost layer finds header fields to send with the answer, in the scope."""


class Access:
    """Wraps the application.

    exempt: paths that are never refused or counted; open_paths: those that need no key, and are counted.
    """

    def __init__(
        self,
        app: App,
        ring: KeyRing | None,
        policies: tuple[Policy, ...],
        counters: Counters,
        secret: bytes,
        exempt: frozenset[str],
        open_paths: frozenset[str] = frozenset(),
    ) -> None:
        self._app = app
        self._ring = ring
        self._policies = policies
        self._counters = counters
        self._secret = secret
        self._exempt = exempt
        self._open_paths = open_paths

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, let through or refused with 401, 403 or 429."""
        # a preflight carries no credentials
        if scope["type"] != "http" or scope["path"] in self._exempt or scope["method"] == "OPTIONS":
            await self._app(scope, receive, send)
            return
        try:
            client = self._client(scope)
            if self._policies:
                found = await standings(self._counters, client, self._policies, time.time())
                told = headers(found)
                if any(standing.exceeded for standing in found):
                    raise _exceeded(found)
                scope[EXTRA_HEADERS] = told
        except HttpProblem as problem:
            REFUSED.labels(problem.kind.id).inc()
            await send_problem(send, problem)
            return
        await self._app(scope, receive, send)

    def _client(self, scope: Scope) -> str:
        """The client's name: the holder of the key, else a hash of the address."""
        presented = _bearer(scope) if self._ring is not None else None
        if self._ring is not None and presented is None and scope["path"] not in self._open_paths:
            raise HttpProblem("key-required", "Send your API key as a bearer token.", {"www-authenticate": "Bearer"})
        if self._ring is not None and presented is not None:
            holder = self._ring.holder(presented)
            if holder is None:
                raise HttpProblem(
                    "key-required",
                    "This API key is not known.",
                    {"www-authenticate": 'Bearer error="invalid_token"'},
                )
            if holder.expired:
                raise HttpProblem("key-expired", "This API key has run out.")
            scope["client_name"] = holder.name
            return f"key:{holder.name}"
        address: Any = scope.get("client")
        text = address[0] if address else ""
        return "address:" + blake2b(text.encode(), key=self._secret, digest_size=12).hexdigest()


def _bearer(scope: Scope) -> bytes | None:
    for name, value in scope["headers"]:
        if name == b"authorization" and value[: len(SCHEME)].lower() == SCHEME:
            return bytes(value[len(SCHEME) :]).strip()
    return None


def _exceeded(found: list[Standing]) -> HttpProblem:
    over = [standing for standing in found if standing.exceeded]
    wait = max(standing.resets_in for standing in over)
    names = ", ".join(f"{one.policy.quota} requests in {one.policy.window} s" for one in over)
    told: Headers = headers(found)
    return HttpProblem(
        "quota-exceeded",
        f"The quota is used up: {names}. Try again in {wait} s.",
        {"retry-after": str(wait), **{name.decode(): value.decode() for name, value in told}},
    )
