"""Where the work of clients is counted: in the process, or in Redis for several replicas.

A store that is down does not take the service down: each replica then counts by itself against the whole quota, so a
client may for that time get as many times its quota as there are replicas. That is the stated policy.

Written here since Litestar's own limit reads, changes and writes in its store, where two requests can share what is left,
and sends header fields of an old draft.
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
RETRIED_AFTER: Final = 2.0  # [s], how long a store that failed is left alone
MOST_COUNTERS: Final = 100_000  # in memory
CHARGE: Final = """
local before, fits = {}, true
for i, key in ipairs(KEYS) do
    before[i] = tonumber(redis.call('GET', key) or 0)
    fits = fits and before[i] + ARGV[1] <= tonumber(ARGV[2 * i])
end
if fits then
    for i, key in ipairs(KEYS) do
        redis.call('INCRBY', key, ARGV[1])
        if before[i] == 0 then redis.call('EXPIRE', key, ARGV[2 * i + 1]) end
    end
end
return before
"""
"""What Redis does in one step, so that no two requests spend the same remainder: MemoryCounters.charge, with counters that vanish
with their windows. KEYS: a counter for each policy; ARGV: cost, then quota and window of each."""

Mode = Literal["own", "shared", "store_down"]
"""Where counts are: in this process, shared by all replicas, or in this process because the store is down."""


class Policy(msgspec.Struct, frozen=True):
    """How much work a client may ask for.

    Attributes:
        name: by which header fields and counters call it
        quota: most work in one window [units of work]
        window: length of a window [s]
    """

    name: str
    quota: int
    window: int


class Counters(Protocol):
    """Counts work by client, policy and window."""

    @property
    def mode(self) -> Mode:
        """Where it is counted now, in the word that readiness says."""

    async def charge(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """Count work of a client, if every policy has room for it.

        Args:
            client: its name or the hash of its address
            cost: of the work [units of work]
            policies: each counted by itself
            now: time since the epoch [s]

        Returns:
            for each policy, what its present window held before [units of work]
        """


class MemoryCounters:
    """Counters of one process."""

    @property
    def mode(self) -> Mode:
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
        key = (client, policy.name)
        if len(self._counts) >= MOST_COUNTERS and key not in self._counts:
            # the oldest half goes: those clients begin their window anew, which errs in their favour
            for oldest in list(self._counts)[: MOST_COUNTERS // 2]:
                del self._counts[oldest]
        self._counts[key] = (int(now // policy.window), count)


class RedisCounters:
    """Counters in Redis or Valkey, shared by all replicas; counted in memory while the store is down."""

    def __init__(self, client: Redis) -> None:
        self._redis = client
        self._charge = client.register_script(CHARGE)
        self._memory = MemoryCounters()
        self._retry_at = 0.0
        self._lost = False

    async def charge(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """See Counters. Never raises: a store that does not answer is not asked again for a while."""
        if self.down:
            return await self._memory.charge(client, cost, policies, now)
        try:
            before = await self._shared(client, cost, policies, now)
        except Exception as error:  # noqa: BLE001 - whatever ails the store, requests are answered
            self._lost = True
            self._retry_at = time.monotonic() + RETRIED_AFTER
            QUOTA_STORE_FAILURES.inc()
            structlog.get_logger().warning("quota store down, counting alone", reason=type(error).__name__)
            return await self._memory.charge(client, cost, policies, now)
        self._lost = False
        return before

    @property
    def mode(self) -> Mode:
        """Whether the store was reached when it was last asked."""
        return "store_down" if self._lost else "shared"

    @property
    def down(self) -> bool:
        """Whether the store failed lately, so that requests are counted here alone."""
        return time.monotonic() < self._retry_at

    async def close(self) -> None:
        """Close the connections."""
        await self._redis.aclose()

    async def _shared(self, client: str, cost: int, policies: tuple[Policy, ...], now: float) -> list[int]:
        """One round trip."""
        keys = [f"quota:{policy.name}:{int(now // policy.window)}:{client}" for policy in policies]
        bounds = [number for policy in policies for number in (policy.quota, policy.window)]
        return [int(count) for count in await self._charge(keys, [cost, *bounds])]


def fits(cost: int, policies: tuple[Policy, ...], before: list[int]) -> bool:
    """Whether every policy has room for a cost beside what its window held before."""
    return all(count + cost <= policy.quota for policy, count in zip(policies, before, strict=True))


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
