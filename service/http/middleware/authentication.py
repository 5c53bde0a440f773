"""Who may ask, and how much: API keys where they are required, quotas where they are set.

Keys are presented as a bearer token (RFC 6750). Clients without a key are told apart by a keyed hash of their address,
which is never written anywhere.
"""

from __future__ import annotations

import time
from functools import partial
from hashlib import blake2b
from ipaddress import IPv6Address
from typing import Any, Final

from service.http.cost import CHARGE
from service.http.exchange import send_problem
from service.http.middleware.api_keys import Holder, KeyRing, KeysUnavailable
from service.http.middleware.rate_limiting import Counters, Policy, Standing, headers, standings
from service.http.problems import HttpProblem
from service.http.types import App, Receive, Scope, Send
from service.observability.metrics import REFUSED

SCHEME: Final = b"bearer "
KEYS_RETRY_AFTER: Final = 60  # [s]
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
        """One request, let through or refused with 401, 403, 429 or 503."""
        # a preflight carries no credentials
        if scope["type"] != "http" or scope["path"] in self._exempt or scope["method"] == "OPTIONS":
            await self._app(scope, receive, send)
            return
        try:
            client = self._client(scope)
            if self._policies:
                await self._charge(scope, client, 1, 0)
                scope[CHARGE] = partial(self._charge, scope, client, charged=1)
        except HttpProblem as problem:
            await send_problem(send, problem)
            return
        await self._app(scope, receive, send)

    async def _charge(self, scope: Scope, client: str, cost: int, charged: int) -> None:
        """Charge a client for a request of this cost, of which so much is charged already; what is refused is not."""
        found = await standings(self._counters, client, cost - charged, self._policies, time.time())
        if any(standing.exceeded for standing in found):
            scope.pop(EXTRA_HEADERS, None)  # the refusal brings its own
            raise _refused(_exceeded(cost, found))
        scope[EXTRA_HEADERS] = headers(found)

    def _client(self, scope: Scope) -> str:
        """The client's name: the holder of the key, else a hash of the address."""
        presented = _bearer(scope) if self._ring is not None else None
        if self._ring is not None and presented is None and scope["path"] not in self._open_paths:
            raise _refused(
                HttpProblem("key-required", "Send your API key as a bearer token.", {"www-authenticate": "Bearer"})
            )
        if self._ring is not None and presented is not None:
            holder = _holder(self._ring, presented)
            scope["client_name"] = holder.name
            return f"key:{holder.name}"
        address: Any = scope.get("client")
        text = one_client(address[0]) if address else ""
        return "address:" + blake2b(text.encode(), key=self._secret, digest_size=12).hexdigest()


def one_client(address: str) -> str:
    """What addresses of one client have in common: of IPv6 the first 64 bits, of which a network has all the rest."""
    if ":" not in address:
        return address
    try:
        parsed = IPv6Address(address)
    except ValueError:
        return address
    if parsed.ipv4_mapped is not None:
        return str(parsed.ipv4_mapped)
    return f"{int(parsed) >> 64:016x}::/64"


def _holder(ring: KeyRing, presented: bytes) -> Holder:
    """Whose key this is, if it is good."""
    try:
        holder = ring.holder(presented)
    except KeysUnavailable:
        detail = "The service cannot read its API keys, so none that it does not know otherwise can be let in."
        raise _refused(HttpProblem("keys-unavailable", detail, {"retry-after": str(KEYS_RETRY_AFTER)})) from None
    if holder is None:
        challenge = {"www-authenticate": 'Bearer error="invalid_token"'}
        raise _refused(HttpProblem("key-required", "This API key is not known.", challenge))
    if holder.expired:
        raise _refused(HttpProblem("key-expired", "This API key has run out."))
    return holder


def _bearer(scope: Scope) -> bytes | None:
    for name, value in scope["headers"]:
        if name == b"authorization" and value[: len(SCHEME)].lower() == SCHEME:
            return bytes(value[len(SCHEME) :]).strip()
    return None


def _refused(problem: HttpProblem) -> HttpProblem:
    """The problem, counted."""
    REFUSED.labels(problem.kind.id).inc()
    return problem


def _exceeded(cost: int, found: list[Standing]) -> HttpProblem:
    """Too little is left for a request of this cost; or no window would ever have enough, and waiting is of no use."""
    fields = {name.decode(): value.decode() for name, value in headers(found)}
    least = min(standing.policy.quota for standing in found)
    if cost > least:
        detail = f"This request costs {cost} units of work, and the quota never has more than {least}"
        return HttpProblem("too-large", f"{detail}: send it in {-(-cost // least)} parts, if it has parts.", fields)
    over = [standing for standing in found if standing.exceeded]
    wait = max(standing.resets_in for standing in over)
    names = ", ".join(
        f"{one.remaining} units of work are left of {one.policy.quota} in {one.policy.window} s" for one in over
    )
    return HttpProblem(
        "quota-exceeded",
        f"The quota is used up: this request costs {cost}, and {names}. Try again in {wait} s.",
        {"retry-after": str(wait), **fields},
    )
