"""What is answered to a request that no application gets to see: each a problem, as the bytes of a whole answer."""

from __future__ import annotations

from http import HTTPStatus
from typing import Final

import msgspec

from service.http.media_types import PROBLEM
from service.http.problems import HttpProblem, Problem
from service.http.responses import NO_STORE, SECURITY_HEADERS


class Rejection(msgspec.Struct, frozen=True):
    """The answer, and the reason phrase of its status, by which it is counted."""

    reason: str
    answer: bytes


def _rejection(problem: Problem) -> Rejection:
    body = msgspec.json.encode(problem)
    fields = (
        (b"content-type", PROBLEM),
        (b"content-length", b"%d" % len(body)),
        (b"cache-control", NO_STORE),
        *SECURITY_HEADERS,
        (b"connection", b"close"),
    )
    reason = problem.title if problem.type == "about:blank" else HTTPStatus(problem.status).phrase
    head = b"HTTP/1.1 %d %b\r\n" % (problem.status, reason.encode())
    return Rejection(reason, head + b"".join(b"%b: %b\r\n" % field for field in fields) + b"\r\n" + body)


TOO_LARGE: Final = _rejection(
    Problem(
        type="about:blank",  # RFC 6585 §5 says all there is to say
        title="Request Header Fields Too Large",
        status=431,
        detail="Request line and header fields together are larger than the service takes.",
    )
)
TOO_SLOW: Final = _rejection(HttpProblem("too-slow", "The head of the request did not come in time.").problem)
UNREADABLE: Final = _rejection(HttpProblem("unreadable", "The request is not readable HTTP.").problem)
BAD_HOST: Final = _rejection(
    HttpProblem(
        "unreadable", "Host: a request has this field once, with a name or address and, if need be, a port."
    ).problem
)
