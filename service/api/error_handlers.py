"""What the framework answers where a handler raises: problems alone, in the shape that they have everywhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import structlog
from litestar import Request, Response
from litestar.exceptions import HTTPException, MethodNotAllowedException, NotFoundException

from service.api.replies import HEADERS, NO_STORE
from service.api.serialization.suggestions import near, question
from service.http.media_types import PROBLEM
from service.http.problems import HttpProblem


def _response(problem: HttpProblem) -> Response[bytes]:
    headers = {**HEADERS, **problem.headers, "cache-control": NO_STORE}
    return Response(problem.body, status_code=problem.kind.status, media_type=PROBLEM.decode(), headers=headers)


def on_problem(_: Request[Any, Any, Any], problem: HttpProblem) -> Response[bytes]:
    """A problem raised by one of our own resources."""
    return _response(problem)


def on_http_exception(request: Request[Any, Any, Any], error: HTTPException) -> Response[bytes]:
    """What the framework refuses: no such path, no such method, and the rest as an unreadable request."""
    if isinstance(error, NotFoundException):
        path = request.scope["path"]
        paths = [route.path for route in request.app.routes if "{" not in route.path]
        meant = near(f"/v1/{path.rpartition('/')[2]}", paths) or near(path, paths)
        detail = f"No operation or resource has this path; /openapi.json lists them. {question(meant)}".rstrip()
        return _response(HttpProblem("not-found", detail, did_you_mean=meant))
    if isinstance(error, MethodNotAllowedException):
        allow = (error.headers or {}).get("allow", "GET, HEAD, OPTIONS")
        detail = f"This path takes: {allow}. It is read, and takes no question."
        return _response(HttpProblem("method-not-allowed", detail, {"allow": allow}))
    return _response(HttpProblem("unreadable", "The request does not have the form that this path takes."))


def on_failure(_: Request[Any, Any, Any], error: Exception) -> Response[bytes]:
    """A fault of ours: logged without the request's content."""
    structlog.get_logger().error("request failed", exc_info=error)
    return _response(HttpProblem("internal", "The service failed; the fault is ours and has been logged."))


HANDLERS: Final[dict[int | type[Exception], Callable[[Request[Any, Any, Any], Any], Response[bytes]]]] = {
    HttpProblem: on_problem,
    HTTPException: on_http_exception,
    Exception: on_failure,
}
