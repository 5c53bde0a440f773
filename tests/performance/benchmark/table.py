"""The results as Markdown, with what was aimed at beside what was measured."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from tests.performance.benchmark.load import Load

# Aims of the project for one worker on one core.
RATIO = 0.90  # of the echo's throughput, for a simple operation
PEER = 1.3  # times the throughput of the same computation in the peer
SEARCH = 0.008  # [s] of processor time for a consultation
MEMORY = 100.0  # [MB] idle
BATCH = 40.0  # times the throughput of single requests, by processor time
TABLE = 1.0  # [s] for a table of 10,000 rows
BULK_MEMORY = 100.0  # [MB] above idle
HEALTH = 0.100  # [s] p99 of /livez, whatever a client sends
START = 1.0  # [s] from start to ready
PLAN = 0.050  # [s] p99 of processor time over random ways back
WEEK = (0.060, 0.150)  # [s] p50 and p99 of processor time over random weeks of twenty lifts


class Row(msgspec.Struct, frozen=True):
    """What was measured of one request, over all rounds; echo: its body given back, measured in the same rounds.

    steady: a fixed load [requests/s], and p50 and p99 at it [s]; peer: the same computation there, if it is there.
    """

    name: str
    loads: tuple[Load, ...]
    echo: tuple[Load, ...]
    steady: tuple[float, float, float]
    peer: tuple[Load, ...] = ()

    @property
    def rate(self) -> float:
        """Median throughput over the rounds [requests/s]."""
        return median(load.rate for load in self.loads)

    @property
    def ratio(self) -> float:
        """Median over the rounds of the throughput relative to the echo's in the same round."""
        return median(own.rate / echo.rate for own, echo in zip(self.loads, self.echo, strict=True))

    @property
    def ratio_by_cost(self) -> float:
        """The same by the processor time that a request takes, which other work on the machine hardly moves."""
        return median(echo.cost / own.cost for own, echo in zip(self.loads, self.echo, strict=True))

    @property
    def cost(self) -> float:
        """Median processor time of a request [s]."""
        return median(load.cost for load in self.loads)

    @property
    def against_peer(self) -> float:
        """Median over the rounds of the throughput relative to the peer's in the same round."""
        return median(own.rate / peer.rate for own, peer in zip(self.loads, self.peer, strict=True))

    def cells(self, aim: str) -> tuple[str, ...]:
        """The row of the table."""
        rate, p50, p99 = self.steady
        return (
            self.name,
            f"{self.rate:,.0f}",
            f"{self.ratio:.0%}",
            f"{self.cost * 1e6:.0f}",
            f"{self.ratio_by_cost:.0%}",
            f"{self.against_peer:.2f} times" if self.peer else "",
            f"{rate:,.0f}",
            f"{p50 * 1e3:.2f}",
            f"{p99 * 1e3:.2f}",
            aim,
        )


class Footprint(msgspec.Struct, frozen=True):
    """One worker: memory after its start, after some requests, and after ten times as many consultations [MB].

    starts: its times from start to ready [s].
    """

    fresh: float
    used: float
    consulted: float
    starts: tuple[float, ...]


def verdict(*, met: bool) -> str:
    """One word for an aim."""
    return "met" if met else "MISSED"


def as_markdown(header: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    """A table with its first column to the left and the others to the right."""
    rule = ("---", *("---:" for _ in header[1:]))
    return "\n".join("| " + " | ".join(row) + " |" for row in (header, rule, *rows))


def throughput(baselines: list[Row], simple: list[Row], searches: list[Row]) -> str:
    """The table of requests, each operation with its aim."""
    rows = [row.cells("") for row in baselines]
    rows += [row.cells(f"{RATIO:.0%} of echo: {verdict(met=row.ratio >= RATIO)}{_ahead(row)}") for row in simple]
    rows += [row.cells(_within(row.cost, WEEK[0] if "week" in row.name else SEARCH)) for row in searches]
    header = (
        "operation",
        "requests/s",
        "ratio to echo",
        "processor time [µs]",
        "ratio by processor time",
        "against the peer",
        "at a fixed load of [requests/s]",
        "p50 [ms]",
        "p99 [ms]",
        "aim",
    )
    return as_markdown(header, rows)


def _within(seconds: float, most: float) -> str:
    return f"{most * 1e3:.0f} ms: {verdict(met=seconds <= most)}"


def _ahead(row: Row) -> str:
    return f"; {PEER} times the peer: {verdict(met=row.against_peer >= PEER)}" if row.peer else ""


def footprint(measured: Footprint, requests: int) -> str:
    """The table of memory and start."""
    start = median(measured.starts)
    rows = [
        weight("memory after start", measured.fresh),
        weight(f"memory after {requests:,} requests", measured.used),
        weight(f"memory after {10 * requests:,} consultations more, of as many lifters", measured.consulted),
        (
            f"start to ready, median of {len(measured.starts)}",
            f"{start:.2f} s",
            f"{START} s",
            verdict(met=start <= START),
        ),
    ]
    return as_markdown(("one worker", "measured", "at most", ""), rows)


class Crowd(msgspec.Struct, frozen=True):
    """Health beside one kind of request: p50, p99 and longest of its latencies [s]; answers of that kind meanwhile."""

    name: str
    p50: float
    p99: float
    longest: float
    answered: int


def crowds(measured: list[Crowd]) -> str:
    """The table of health under the longest requests."""
    rows: list[tuple[str, ...]] = [
        (
            one.name,
            f"{one.p50 * 1e3:.1f}",
            f"{one.p99 * 1e3:.1f}",
            f"{one.longest * 1e3:.1f}",
            f"{one.answered}",
            f"{HEALTH * 1e3:.0f} ms: {verdict(met=one.p99 <= HEALTH)}",
        )
        for one in measured
    ]
    return as_markdown(("/livez beside", "p50 [ms]", "p99 [ms]", "longest [ms]", "answers meanwhile", "aim"), rows)


class Spread(msgspec.Struct, frozen=True):
    """Processor times of random questions [s], shortest first; how many were refused, and answered otherwise.

    otherwise: by a direct way in place of one that is searched, or without a week that does it.
    """

    times: tuple[float, ...]
    refused: int
    otherwise: int

    def at(self, share: float) -> float:
        """The time that a share of the questions did not exceed [s]."""
        return self.times[min(len(self.times) - 1, int(share * len(self.times)))]


def spreads(plans: Spread, weeks: Spread, longest_weeks: Spread, lifts: tuple[int, int]) -> str:
    """The table of random questions: ways back, weeks of as many lifts as is aimed at, and the longest.

    lifts: of a week, in both [count].
    """
    half, nearly_all = weeks.at(0.5), weeks.at(0.99)
    met = verdict(met=half <= WEEK[0] and nearly_all <= WEEK[1])
    rows = [
        _spread("return-plan", plans, f"p99 {PLAN * 1e3:.0f} ms: {verdict(met=plans.at(0.99) <= PLAN)}"),
        _spread(
            f"week-adjustments, {lifts[0]} lifts",
            weeks,
            f"p50 {WEEK[0] * 1e3:.0f} ms, p99 {WEEK[1] * 1e3:.0f} ms: {met}",
        ),
        _spread(f"week-adjustments, {lifts[1]} lifts", longest_weeks, ""),
    ]
    shares = ("median [ms]", "p95 [ms]", "p99 [ms]", "longest [ms]")
    return as_markdown(("processor time over random questions", *shares, "refused; direct ways, no weeks", "aim"), rows)


def _spread(name: str, measured: Spread, aim: str) -> tuple[str, ...]:
    return (
        f"{name}, {len(measured.times):,}",
        *(f"{measured.at(share) * 1e3:.1f}" for share in (0.5, 0.95, 0.99, 1.0)),
        f"{measured.refused}; {measured.otherwise}",
        aim,
    )


class Bulk(msgspec.Struct, frozen=True):
    """Many load-for-reps questions at once; costs are the server's processor time [s], memory is above idle [MB].

    single: cost of a question by itself; batched: of one in a batch; tabulated: of one in a table; wall: time until a
    table of `rows` rows had come back [s].
    """

    single: float
    batched: float
    tabulated: float
    wall: float
    rows: int
    memory: float


def bulk(measured: Bulk) -> str:
    """The table of batches and tables."""
    gain = measured.single / measured.batched
    rows: list[tuple[str, ...]] = [
        (
            "batch, load-for-reps",
            f"{1 / measured.batched:,.0f} questions/s, {gain:.1f} times single",
            f"{BATCH:.0f} times",
            verdict(met=gain >= BATCH),
        ),
        (
            f"table of {measured.rows:,} rows, load-for-reps",
            f"{measured.wall:.2f} s, {measured.tabulated * measured.rows:.2f} s of processor time",
            f"{TABLE:.0f} s",
            verdict(met=measured.wall <= TABLE),
        ),
        (
            "most memory above idle",
            f"{measured.memory:.0f} MB",
            f"{BULK_MEMORY:.0f} MB",
            verdict(met=measured.memory <= BULK_MEMORY),
        ),
    ]
    return as_markdown(("many at once, one core", "measured", "aim", ""), rows)


def weight(name: str, memory: float) -> tuple[str, ...]:
    """The row of a memory [MB]."""
    return name, f"{memory:.0f} MB", f"{MEMORY:.0f} MB", verdict(met=memory <= MEMORY)


class Expensive(msgspec.Struct, frozen=True):
    """The most expensive request found for an operation or picture: its size [bytes], calls counted, and time [s]."""

    name: str
    size: int
    calls: int
    seconds: float


def expensive(measured: list[Expensive]) -> str:
    """The table of the most expensive requests."""
    rows: list[tuple[str, ...]] = [
        (one.name, f"{one.size:,}", f"{one.calls:,}", f"{one.seconds * 1e3:.1f}") for one in measured
    ]
    return as_markdown(("most expensive request found", "bytes", "calls of functions", "time [ms]"), rows)
