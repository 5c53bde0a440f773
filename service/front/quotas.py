"""How many requests a client may make in a window of time, counted here or in Redis for several replicas.

Header fields as in draft-ietf-httpapi-ratelimit-headers-10 (the latest seen; it never became an RFC):
`RateLimit-Policy` lists the policies, `RateLimit` what is left of each.

A store that is down does not take the service down: each replica then counts by itself against the whole quota, so a
client may for that time get as many times its quota as there are replicas. That is the stated policy.
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Final, Literal, Protocol

import msgspec
import structlog

from service.front.metrics import QUOTA_STORE_FAILURES

if TYPE_CHECKING:
    from redis.asyncio import Redis

PATIENCE: Final = 0.25  # [s], longest wait for the store
TRIED_AGAIN_AFTER: Final = 2.0  # [s], how long a store that failed is left alone
_KEPT_AT_MOST: Final = 100_000  # counters in memory


Where = Literal["own", "shared", "store_down"]


class Policy(msgspec.Struct, frozen=True):
    """At most `quota` requests in each window of `window` seconds."""

    name: str
    quota: int
    window: int


class Standing(msgspec.Struct, frozen=True):
    """Where a client stands with one policy: requests counted in this window, and seconds until the next."""

    policy: Policy
    used: int
    resets_in: int

    @property
    def remaining(self) -> int:
        """Requests left in this window."""
        return max(0, self.policy.quota - self.used)

    @property
    def exceeded(self) -> bool:
        """Whether this request is one too many."""
        return self.used > self.policy.quota


def policies_from_text(text: str) -> tuple[Policy, ...]:
    """Policies from `burst=600/60,day=100000/86400` (requests/seconds); raises ValueError for what is not that."""
    found = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        name, _, amount = part.partition("=")
        quota, _, window = amount.partition("/")
        if not (name.isidentifier() and quota.isdecimal() and window.isdecimal() and int(quota) and int(window)):
            raise ValueError(f"QUOTAS holds {part!r}, which is not of the form name=requests/seconds")
        found.append(Policy(name, int(quota), int(window)))
    return tuple(found)


class Counters(Protocol):
    """Counts hits by client and window; standing: where, in a word that readiness tells."""

    @property
    def standing(self) -> Where:
        """Own, shared, or own because the store is down."""

    async def hit(self, client: str, policies: tuple[Policy, ...], now: float) -> list[int]:
        """Count one request and return, for each policy, the requests of its present window, this one included."""


class MemoryCounters:
    """Counters of one process."""

    @property
    def standing(self) -> Where:
        """See Counters."""
        return "own"

    def __init__(self) -> None:
        self._counts: dict[tuple[str, str], tuple[int, int]] = {}

    async def hit(self, client: str, policies: tuple[Policy, ...], now: float) -> list[int]:
        """See Counters."""
        return [self._count(client, policy, int(now // policy.window)) for policy in policies]

    def _count(self, client: str, policy: Policy, window: int) -> int:
        place = (client, policy.name)
        begun, count = self._counts.get(place, (window, 0))
        count = count + 1 if begun == window else 1
        if len(self._counts) >= _KEPT_AT_MOST and place not in self._counts:
            # the oldest half goes: those clients begin their window anew, which errs in their favour
            for old in list(self._counts)[: _KEPT_AT_MOST // 2]:
                del self._counts[old]
        self._counts[place] = (window, count)
        return count


class RedisCounters:
    """Counters in Redis or Valkey, shared by all replicas; counted in memory while the store is down."""

    def __init__(self, client: Redis) -> None:
        self._redis = client
        self._alone = MemoryCounters()
        self._try_again = 0.0
        self._lost = False

    async def hit(self, client: str, policies: tuple[Policy, ...], now: float) -> list[int]:
        """See Counters. Never raises: a store that does not answer is left alone for a while."""
        if self.down:
            return await self._alone.hit(client, policies, now)
        try:
            used = await self._shared(client, policies, now)
        except Exception as error:  # noqa: BLE001 - whatever ails the store, requests are answered
            self._lost = True
            self._try_again = time.monotonic() + TRIED_AGAIN_AFTER
            QUOTA_STORE_FAILURES.inc()
            structlog.get_logger().warning("quota store down, counting alone", reason=type(error).__name__)
            return await self._alone.hit(client, policies, now)
        self._lost = False
        return used

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

    async def _shared(self, client: str, policies: tuple[Policy, ...], now: float) -> list[int]:
        """One round trip: each counter is raised and made to vanish with its window."""
        async with self._redis.pipeline(transaction=False) as pipeline:
            for policy in policies:
                place = f"quota:{policy.name}:{int(now // policy.window)}:{client}"
                pipeline.incr(place)
                pipeline.expire(place, policy.window, nx=True)
            answers = await pipeline.execute()
        return [int(count) for count in answers[::2]]


async def standings(counters: Counters, client: str, policies: tuple[Policy, ...], now: float) -> list[Standing]:
    """Count one request of a client and say where it stands with each policy; now: seconds since the epoch."""
    used = await counters.hit(client, policies, now)
    return [
        Standing(policy, count, policy.window - int(now % policy.window))
        for policy, count in zip(policies, used, strict=True)
    ]


def headers(found: list[Standing]) -> tuple[tuple[bytes, bytes], ...]:
    """The header fields that tell a client where it stands."""
    policy = ", ".join(f'"{one.policy.name}";q={one.policy.quota};w={one.policy.window}' for one in found)
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
