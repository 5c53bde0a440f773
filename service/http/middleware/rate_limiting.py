"""How much work a client may ask for in a window of time: 429 beyond it.

Work is counted in the units of service.http.cost. A request for which too little is left is refused and not counted, so
that what is left stays for smaller ones. Clients without a key are told apart by a keyed hash of their address, which is
never written anywhere.

Header fields as in draft-ietf-httpapi-ratelimit-headers-10 (the latest seen; it never became an RFC):
`RateLimit-Policy` lists the policies, `RateLimit` what is left of each; the quota unit `qu` says what they count.

Written here since Litestar's own middleware counts requests and not work, reads a count and writes it back in two steps,
between which two requests share a rest, and sends the fields of an old draft.
"""

from __future__ import annotations

import time
from collections.abc import Container
from functools import partial
from hashlib import blake2b
from ipaddress import IPv6Address
from typing import Any, Final

import msgspec

from service.http.cost import CHARGE
from service.http.headers import ANSWER_HEADERS, Headers
from service.http.middleware.authentication import CLIENT_NAME
from service.http.middleware.rate_limit_store import Counters, Policy, fits
from service.http.problems import HttpProblem
from service.http.responses import send_problem
from service.http.types import ASGIApp, Receive, Scope, Send
from service.observability.metrics import REFUSED

UNIT: Final = "work"


class Standing(msgspec.Struct, frozen=True):
    """What a client has left of one policy after a request.

    Attributes:
        policy: the policy
        remaining: what is left in this window [units of work]
        resets_in: time until the next window [s]
        exceeded: whether the request asked for more than was left
    """

    policy: Policy
    remaining: int
    resets_in: int
    exceeded: bool


class RateLimiting:
    """Counts the work of each client, and refuses what a policy does not allow.

    secret: with which addresses are hashed; exempt: paths that are never counted.
    """

    def __init__(
        self, app: ASGIApp, policies: tuple[Policy, ...], counters: Counters, secret: bytes, exempt: Container[str]
    ) -> None:
        self._app = app
        self._policies = policies
        self._counters = counters
        self._secret = secret
        self._exempt = exempt

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, of which one unit is charged at once, and the rest by whoever knows its cost."""
        if scope["type"] == "http" and scope["path"] not in self._exempt and scope["method"] != "OPTIONS":
            client = client_id(scope, self._secret)
            try:
                await self._charge(scope, client, 1, 0)
            except HttpProblem as problem:
                await send_problem(send, problem)
                return
            scope[CHARGE] = partial(self._charge, scope, client, charged=1)
        await self._app(scope, receive, send)

    async def _charge(self, scope: Scope, client: str, cost: int, charged: int) -> None:
        """Charge a client for a request of this cost, of which so much is charged already; what is refused is not."""
        after = await standings(self._counters, client, cost - charged, self._policies, time.time())
        if any(standing.exceeded for standing in after):
            scope.pop(ANSWER_HEADERS, None)  # the refusal brings its own
            problem = _exceeded(cost, after)
            REFUSED.labels(problem.kind.id).inc()
            raise problem
        scope[ANSWER_HEADERS] = headers(after)


def policies_from_text(text: str) -> tuple[Policy, ...]:
    """Policies from `burst=600/60,day=100000/86400` (units/seconds); raises ValueError for text of another form."""
    policies = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        name, _, amount = part.partition("=")
        quota, _, window = amount.partition("/")
        if not (name.isidentifier() and quota.isdecimal() and window.isdecimal() and int(quota) and int(window)):
            raise ValueError(f"QUOTAS holds {part!r}, which is not of the form name=units/seconds")
        policies.append(Policy(name, int(quota), int(window)))
    return tuple(policies)


def client_id(scope: Scope, secret: bytes) -> str:
    """The identity by which a client is counted: the name of its key's holder, else a keyed hash of its address."""
    if CLIENT_NAME in scope:
        return f"key:{scope[CLIENT_NAME]}"
    address: Any = scope.get("client")
    text = network_of(address[0]) if address else ""
    return "address:" + blake2b(text.encode(), key=secret, digest_size=12).hexdigest()


def network_of(address: str) -> str:
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


async def standings(
    counters: Counters, client: str, cost: int, policies: tuple[Policy, ...], now: float
) -> list[Standing]:
    """Count work of a client where it may have it, and say how it stands with each policy; now: since the epoch [s]."""
    before = await counters.charge(client, cost, policies, now)
    counted = cost if fits(cost, policies, before) else 0
    return [
        Standing(
            policy,
            policy.quota - count - counted,
            policy.window - int(now % policy.window),
            count + cost > policy.quota,
        )
        for policy, count in zip(policies, before, strict=True)
    ]


def headers(after: list[Standing]) -> Headers:
    """The header fields that tell a client what is left of its quotas."""
    policy = ", ".join(f'"{one.policy.name}";q={one.policy.quota};w={one.policy.window};qu="{UNIT}"' for one in after)
    left = ", ".join(f'"{one.policy.name}";r={one.remaining};t={one.resets_in}' for one in after)
    return (b"ratelimit-policy", policy.encode()), (b"ratelimit", left.encode())


def _exceeded(cost: int, after: list[Standing]) -> HttpProblem:
    """Too little is left for a request of this cost; or no window would ever have enough, and waiting is of no use."""
    fields = {name.decode(): value.decode() for name, value in headers(after)}
    least = min(standing.policy.quota for standing in after)
    if cost > least:
        detail = f"This request costs {cost} units of work, and the quota never has more than {least}"
        return HttpProblem("too-large", f"{detail}: send it in {-(-cost // least)} parts, if it has parts.", fields)
    over = [standing for standing in after if standing.exceeded]
    wait = max(standing.resets_in for standing in over)
    names = ", ".join(
        f"{one.remaining} units of work are left of {one.policy.quota} in {one.policy.window} s" for one in over
    )
    return HttpProblem(
        "quota-exceeded",
        f"The quota is used up: this request costs {cost}, and {names}. Try again in {wait} s.",
        {"retry-after": str(wait), **fields},
    )
