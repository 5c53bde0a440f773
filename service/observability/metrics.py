"""What is counted, for Prometheus. Labels are routes, methods, statuses and names of our own, never text of a request.

Served on a port of its own, so that it is neither open to clients nor counted with their requests.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from prometheus_client import (
    CollectorRegistry,
    Counter,
    Gauge,
    GCCollector,
    Histogram,
    Info,
    PlatformCollector,
    ProcessCollector,
    start_http_server,
)

REGISTRY: Final = CollectorRegistry()
# memory, processor time, open files and start of the process; the interpreter and its garbage collections
for _collector in (ProcessCollector, PlatformCollector, GCCollector):
    _collector(registry=REGISTRY)
_BUCKETS: Final = (0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5)

REQUESTS: Final = Counter("requests_total", "Requests answered.", ("route", "method", "status"), registry=REGISTRY)
SECONDS: Final = Histogram(
    "request_seconds", "Time from request to answer.", ("route",), registry=REGISTRY, buckets=_BUCKETS
)
IN_FLIGHT: Final = Gauge("requests_in_flight", "Requests being answered.", registry=REGISTRY)
SHED: Final = Counter(
    "requests_shed_total", "Requests refused because too many were being answered.", registry=REGISTRY
)
REFUSED: Final = Counter("requests_refused_total", "Requests refused by access rules.", ("reason",), registry=REGISTRY)
QUOTA_STORE_FAILURES: Final = Counter(
    "quota_store_failures_total", "Times the quota store did not answer.", registry=REGISTRY
)
KEY_FILE_UNREAD: Final = Gauge(
    "key_file_unread_seconds", "For how long the file of keys could not be read; 0 if it can.", registry=REGISTRY
)
LOG_LINES_DROPPED: Final = Counter(
    "log_lines_dropped_total", "Log lines that nobody read in time, or at all.", registry=REGISTRY
)
CANDIDATES: Final = Histogram(
    "consultation_candidates",
    "Prescriptions tried in a consultation.",
    registry=REGISTRY,
    buckets=(5, 10, 20, 40, 60, 80, 120, 160, 240),
)
LOOP_LAG: Final = Histogram(
    "event_loop_lag_seconds",
    "How late the event loop came to what was due.",
    registry=REGISTRY,
    buckets=(0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0),
)
BUILD: Final = Info("build", "Release and description that is served.", registry=REGISTRY)


@cache
def answered(route: str, method: str, status: int) -> Counter:
    """The counter of one route, method and status, looked up once."""
    return REQUESTS.labels(route, method, str(status))


@cache
def seconds_of(route: str) -> Histogram:
    """The histogram of one route, looked up once."""
    return SECONDS.labels(route)


def serve(host: str, port: int) -> None:
    """Serve the figures on a port of their own, in a thread that ends with the process."""
    start_http_server(port, addr=host, registry=REGISTRY)
