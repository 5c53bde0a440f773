"""Composition root: settings to the ASGI application. The only module that knows every other."""

from __future__ import annotations

import logging
import os
import secrets
import sys
from collections.abc import MutableMapping
from pathlib import Path
from traceback import extract_tb
from typing import Any, Final

import msgspec
import structlog
from litestar import Litestar, Request, Response
from litestar.datastructures import State
from litestar.exceptions import HTTPException, MethodNotAllowedException, NotFoundException

from service import __version__
from service.api.bulk.batch import mounted_batch
from service.api.bulk.streaming import Bounds
from service.api.bulk.tables import mounted_table
from service.api.catalogue.routes import HANDLERS, HEADERS
from service.api.operations.registry import OPERATIONS
from service.api.routes import mounted
from service.http.background import Background
from service.http.middleware.access_log import Observing
from service.http.middleware.api_keys import KeyRing, keys_from_text
from service.http.middleware.authentication import Access
from service.http.middleware.compression import Compression
from service.http.middleware.cors import CrossOrigin
from service.http.middleware.etag import Conditional
from service.http.middleware.load_shedding import Limits
from service.http.middleware.rate_limiting import Counters, MemoryCounters, RedisCounters, connected, policies_from_text
from service.http.problems import KINDS, MEDIA_TYPE, HttpProblem
from service.knowledge.citations import check_sources, cited
from service.observability.event_loop_lag import LoopLag
from service.observability.log_stream import Lines, standard_output
from service.observability.metrics import BUILD, LOOP_LAG
from service.observability.tracing import Tracer
from service.settings import Settings, from_environment

LOG_ENCODER: Final = msgspec.json.Encoder()
# reached by whoever watches over the process: never shed, refused or counted
HEALTH: Final = frozenset({"/livez", "/readyz", "/version"})
# what anybody may read who wants to know how to ask; counted, since the description is long
OPEN: Final = frozenset(
    {"/", "/docs", "/docs/page.js", "/docs/page.css", "/openapi.json", *(f"/problems/{kind}" for kind in KINDS)}
)
LEVELS: Final = {"debug": 10, "info": 20, "warning": 30, "error": 40}


def place_of_failure(_: object, __: str, line: MutableMapping[str, Any]) -> MutableMapping[str, Any]:
    """A log line's exception as its type and the lines of code it passed; its words may quote a request and go."""
    given = line.pop("exc_info", None)
    error = given if isinstance(given, BaseException) else sys.exc_info()[1]
    if given and error:
        line["exception"] = type(error).__name__
        line["passed"] = [
            f"{Path(frame.filename).name}:{frame.lineno} {frame.name}" for frame in extract_tb(error.__traceback__)
        ]
    return line


class AsLines(logging.Handler):
    """What the server and the libraries have to say, as lines of ours.

    Their own would hold the words of exceptions, and whoever writes them would wait for the reader of the log.
    """

    def emit(self, record: logging.LogRecord) -> None:
        """See logging.Handler."""
        error = record.exc_info[1] if record.exc_info else None
        words = record.getMessage().strip()
        structlog.get_logger().log(record.levelno, words, logger=record.name, exc_info=error)


def configure_log(level: str, lines: Lines) -> None:
    """JSON lines, of everything that is logged in the process."""
    logging.basicConfig(level=logging.WARNING, handlers=[AsLines()])
    # where another command than ours started the server, it has handlers of its own, and one that writes down queries
    for name in ("uvicorn", "uvicorn.error", "uvicorn.access"):
        logging.getLogger(name).handlers.clear()
        logging.getLogger(name).propagate = name != "uvicorn.access"
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(),
            place_of_failure,
            lambda _, __, line: LOG_ENCODER.encode(line),
        ],
        wrapper_class=structlog.make_filtering_bound_logger(LEVELS.get(level, 20)),
        logger_factory=structlog.BytesLoggerFactory(lines),  # type: ignore[arg-type]
        cache_logger_on_first_use=True,
    )


def _problem(found: HttpProblem) -> Response[bytes]:
    headers = {**HEADERS, **found.headers, "cache-control": "no-store"}
    return Response(found.body, status_code=found.kind.status, media_type=MEDIA_TYPE, headers=headers)


def on_problem(_: Request[Any, Any, Any], found: HttpProblem) -> Response[bytes]:
    """A problem raised by one of our own resources."""
    return _problem(found)


def on_http(_: Request[Any, Any, Any], error: HTTPException) -> Response[bytes]:
    """What the framework refuses: no such path, no such method, and the rest as an unreadable request."""
    if isinstance(error, NotFoundException):
        return _problem(HttpProblem("not-found", "No operation or resource has this path; /openapi.json lists them."))
    if isinstance(error, MethodNotAllowedException):
        allow = (error.headers or {}).get("allow", "GET, HEAD, OPTIONS")
        return _problem(HttpProblem("method-not-allowed", f"This path takes: {allow}.", {"allow": allow}))
    return _problem(HttpProblem("unreadable", "The request does not have the form that this path takes."))


def on_failure(_: Request[Any, Any, Any], error: Exception) -> Response[bytes]:
    """A fault of ours: logged without the request's content."""
    structlog.get_logger().error("request failed", exc_info=error)
    return _problem(HttpProblem("internal", "The service failed; the fault is ours and has been logged."))


def create_app(
    settings: Settings,
    counters: Counters | None = None,
    tracer: Tracer | None = None,
    background: Background | None = None,
) -> Litestar:
    """The routes and error handling, for these settings."""
    background = background or Background(settings.most_at_once)
    bulk = Bounds(settings.max_bulk_body, settings.most_cost, background)
    closed = [counters.close] if isinstance(counters, RedisCounters) else []
    lag = LoopLag(LOOP_LAG)
    return Litestar(
        route_handlers=[
            *(mounted(operation, settings.max_body, background) for operation in OPERATIONS),
            *(mounted_table(operation, bulk) for operation in OPERATIONS),
            mounted_batch(bulk, settings.max_body),
            *HANDLERS,
        ],
        exception_handlers={HttpProblem: on_problem, HTTPException: on_http, Exception: on_failure},
        openapi_config=None,
        request_max_body_size=settings.max_body,
        logging_config=None,
        on_startup=[lag.start],
        on_shutdown=[lag.stop, background.close, *closed, *([tracer.close] if tracer else [])],
        state=State({"counters": counters or MemoryCounters()}),
    )


def key_ring(settings: Settings) -> KeyRing | None:
    """The keys that are asked for, None where everyone may ask.

    Raises ValueError where other machines can reach a service that has neither keys nor leave to do without, and
    whatever reading the keys raises.
    """
    path = Path(settings.api_keys_file) if settings.api_keys_file else None
    given = keys_from_text(settings.api_keys)
    if given or path:
        return KeyRing(given, path, settings.api_keys_grace_seconds)
    if settings.beyond_loopback and not settings.open_access:
        raise ValueError(
            f"HOST {settings.host} can be reached by other machines: set API_KEYS_FILE or API_KEYS, or OPEN_ACCESS=true"
        )
    return None


def create_application(settings: Settings) -> Observing:
    """What is served: the routes; around them how answers travel, who may ask and how much, and what is noted of it."""
    configure_log(settings.log_level, standard_output())
    check_sources(cited())
    BUILD.info({"version": __version__})
    ring = key_ring(settings)
    counters: Counters = connected(settings.redis_url) if settings.redis_url else MemoryCounters()
    tracer = Tracer() if os.environ.get("OTEL_EXPORTER_OTLP_ENDPOINT") else None
    # the other half is for short questions, which are answered while long ones wait
    background = Background(max(1, settings.most_at_once // 2))
    routed = create_app(settings, counters, tracer, background)
    app: Any = Conditional(Compression(routed))
    secret = settings.quota_secret.encode()[:64] or secrets.token_bytes(32)
    app = Access(app, ring, policies_from_text(settings.quotas), counters, secret, HEALTH, OPEN)
    app = Limits(app, settings.most_at_once, settings.request_seconds, HEALTH, background)
    if settings.allowed_origins:
        app = CrossOrigin(app, settings.allowed_origins)
    return Observing(app, frozenset(route.path for route in routed.routes), HEALTH, tracer)


application = create_application(from_environment())
