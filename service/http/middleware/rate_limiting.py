"""How much work a client may ask for in a window of time, counted here or in Redis for several replicas.

Work is counted in the units of service.http.cost. A request for which too little is left is refused and not counted, so
that what is left stays for smaller ones.

Header fields as in draft-ietf-httpapi-ratelimit-headers-10 (the latest seen; it never became an RFC):
`RateLimit-Policy` lists the policies, `RateLimit` what is left of each; the quota unit `qu` says what they count.

A store that is down does not take the service down: each replica then counts by itself against the whole quota, so a
client may for that time get as many times its quota as there are replicas. That is the stated policy.
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Final, Literal, Protocol

import msgspec
import structlog

from service.observability.metrics import QUOTA_STORE_FAILURES

if TYPE_CHECKING:
    from redis.asyncio import Redis

PATIENCE: Final = 0.25  # [s], longest wait for the store
TRIED_AGAIN_AFTER: Final = 2.0  # [s], how long a store that failed is left alone
_KEPT_AT_MOST: Final = 100_000  # counters in memory
UNIT: Final = "work"
CHARGE: Final = """
local before, fits = {}, true
for i, place in ipairs(KEYS) do
    before[i] = tonumber(redis.call('GET', place) or 0)
    fits = fits and before[i] + ARGV[1] <= tonumber(ARGV[2 * i])
end
if fits then
    for i, place in ipairs(KEYS) do
        redis.call('INCRBY', place, ARGV[1])
        if before[i] == 0 then redis.call('EXPIRE', place, ARGV[2 * i + 1]) end
    end
end
return before
"""
"""What Redis does in one step, so that no two requests share a rest: MemoryCounters.charge, with counters that vanish
with their windows. KEYS: a counter for each policy; ARGV: cost, then quota and window of each."""


Where = Literal["own", "shared", "store_down"]


class Policy(msgspec.Struct, frozen=True):
    """At most `quota` units of work in each window of `window` seconds."""

    name: str
    quota: int
    window: int


class Standing(msgspec.Struct, frozen=True):
    """Where a client stands with one policy after a request.

    remaining: units left in this window; resets_in: seconds until the next; exceeded: whether the request asked for
    more than was left.
    """

    policy: Policy
    remaining: int
    resets_in: int
    exceeded: bool


def policies_from_text(text: str) -> tuple[Policy, ...]:
    """Policies from `burst=600/60,day=100000/86400` (units/seconds); raises ValueError for what is not that."""
    found = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        name, _, amount = part.partition("=")
        quota, _, window = amount.partition("/")
        if not (name.isidentifier() and quota.isdecimal() and window.isdecimal() and int(quota) and int(window)):
            raise ValueError(f"QUOTAS holds {part!r}, which is not of the form name=units/seconds")
        found.append(Policy(name, int(quota), int(window)))
    return tuple(found)


class Counters(Protocol):
    """Counts work by client and window; standing: where, in a word that readiness tells."""

    @property
    def standing(self) -> Where:
        """Own, shared, or own because the store is down."""

    async def charge(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """Return, for each policy, what its present window held before; count the cost if every policy has room."""


class MemoryCounters:
    """Counters of one process."""

    @property
    def standing(self) -> Where:
        """See Counters."""
        return "own"

    def __init__(self) -> None:
        self._counts: dict[tuple[str, str], tuple[int, int]] = {}

    async def charge(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """See Counters."""
        before = [self._count(client, policy, now) for policy in policies]
        if fits(cost, policies, before):
            for policy, count in zip(policies, before, strict=True):
                self._keep(client, policy, now, count + cost)
        return before

    def _count(self, client: str, policy: Policy, now: float) -> int:
        window, count = self._counts.get((client, policy.name), (0, 0))
        return count if window == now // policy.window else 0

    def _keep(self, client: str, policy: Policy, now: float, count: int) -> None:
        place = (client, policy.name)
        if len(self._counts) >= _KEPT_AT_MOST and place not in self._counts:
            # the oldest half goes: those clients begin their window anew, which errs in their favour
            for old in list(self._counts)[: _KEPT_AT_MOST // 2]:
                del self._counts[old]
        self._counts[place] = (int(now // policy.window), count)


class RedisCounters:
    """Counters in Redis or Valkey, shared by all replicas; counted in memory while the store is down."""

    def __init__(self, client: Redis) -> None:
        self._redis = client
        self._charge = client.register_script(CHARGE)
        self._alone = MemoryCounters()
        self._try_again = 0.0
        self._lost = False

    async def charge(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """See Counters. Never raises: a store that does not answer is left alone for a while."""
        if self.down:
            return await self._alone.charge(client, cost, policies, now)
        try:
            before = await self._shared(client, cost, policies, now)
        except Exception as error:  # noqa: BLE001 - whatever ails the store, requests are answered
            self._lost = True
            self._try_again = time.monotonic() + TRIED_AGAIN_AFTER
            QUOTA_STORE_FAILURES.inc()
            structlog.get_logger().warning("quota store down, counting alone", reason=type(error).__name__)
            return await self._alone.charge(client, cost, policies, now)
        self._lost = False
        return before

    @property
    def standing(self) -> Where:
        """Whether the store was reached when it was last asked."""
        return "store_down" if self._lost else "shared"

    @property
    def down(self) -> bool:
        """Whether the store failed lately, so that requests are counted here alone."""
        return time.monotonic() < self._try_again

    async def close(self) -> None:
        """Let the connections go."""
        await self._redis.aclose()

    async def _shared(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """One round trip."""
        places = [f"quota:{policy.name}:{int(now // policy.window)}:{client}" for policy in policies]
        bounds = [number for policy in policies for number in (policy.quota, policy.window)]
        return [int(count) for count in await self._charge(places, [cost, *bounds])]


def fits(cost: int, policies: tuple[Policy, ...], before: list[int]) -> bool:
    """Whether every policy has room for a cost beside what its window held before."""
    return all(count + cost <= policy.quota for policy, count in zip(policies, before, strict=True))


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


def headers(found: list[Standing]) -> tuple[tuple[bytes, bytes], ...]:
    """The header fields that tell a client where it stands."""
    policy = ", ".join(f'"{one.policy.name}";q={one.policy.quota};w={one.policy.window};qu="{UNIT}"' for one in found)
    left = ", ".join(f'"{one.policy.name}";r={one.remaining};t={one.resets_in}' for one in found)
    return (b"ratelimit-policy", policy.encode()), (b"ratelimit", left.encode())


def connected(url: str) -> RedisCounters:
    """Counters in the store at a URL (redis:// or rediss://); nothing is opened before the first request.

    Raises ValueError, which does not quote the URL since that may hold a password.
    """
    # loaded only where they are configured
    from redis.asyncio import Redis  # noqa: PLC0415
    from redis.asyncio.retry import Retry  # noqa: PLC0415
    from redis.backoff import NoBackoff  # noqa: PLC0415

    once = Retry(NoBackoff(), 0)
    try:
        client = Redis.from_url(url, socket_timeout=PATIENCE, socket_connect_timeout=PATIENCE, retry=once)
    except ValueError:
        raise ValueError("REDIS_URL is not the address of a store") from None
    return RedisCounters(client)
