"""Composition root: settings to the ASGI application. The only module that knows every other."""

from __future__ import annotations

import sys
from collections.abc import MutableMapping
from pathlib import Path
from traceback import extract_tb
from typing import Any, Final

import msgspec
import structlog
from litestar import Litestar, Request, Response
from litestar.exceptions import HTTPException, MethodNotAllowedException, NotFoundException

from service.api.access_log import AccessLog
from service.api.contract import document
from service.api.endpoint import mounted
from service.api.operations import OPERATIONS
from service.api.problems import MEDIA_TYPE, HttpProblem
from service.api.resources import HANDLERS, HEADERS
from service.knowledge.checks import check_sources, cited
from service.settings import Settings, from_environment

LOG_ENCODER: Final = msgspec.json.Encoder()
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


def configure_log(level: str) -> None:
    """JSON lines on standard output."""
    structlog.configure(
        processors=[
            structlog.processors.add_log_level,
            structlog.processors.TimeStamper(),
            place_of_failure,
            lambda _, __, line: LOG_ENCODER.encode(line),
        ],
        wrapper_class=structlog.make_filtering_bound_logger(LEVELS.get(level, 20)),
        logger_factory=structlog.BytesLoggerFactory(sys.stdout.buffer),
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


def create_app(settings: Settings) -> Litestar:
    """The routes and error handling, for these settings."""
    return Litestar(
        route_handlers=[*(mounted(operation, settings.max_body) for operation in OPERATIONS), *HANDLERS],
        exception_handlers={HttpProblem: on_problem, HTTPException: on_http, Exception: on_failure},
        openapi_config=None,
        request_max_body_size=settings.max_body,
        logging_config=None,
    )


def create_application(settings: Settings) -> AccessLog:
    """What is served: the routes, with one log line a request around them."""
    configure_log(settings.log_level)
    check_sources(cited())
    return AccessLog(create_app(settings), frozenset(document()["paths"]))


application = create_application(from_environment())
