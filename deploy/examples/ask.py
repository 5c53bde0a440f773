"""Asks the service with Python's standard library alone. course.py beside it is a course of care with it."""

from __future__ import annotations

import json
import os
import sys
import urllib.error
import urllib.request
from types import TracebackType
from typing import IO, Any

SERVICE = os.environ.get("SERVICE", "http://127.0.0.1:8000")
HEADERS = {"content-type": "application/json"}  # and {"authorization": "Bearer KEY"} where the service asks for one


class Refused(Exception):
    """A question without an answer, in the service's own words, with which a program ends that does not catch it."""


def ask(path: str, question: dict[str, Any] | None = None) -> Any:  # noqa: ANN401 - JSON
    """The answer of an operation; without a question what is listed at a path, such as signs?region=knee.

    JSON, or else a text (adjustments?as=markdown) or the bytes of a picture. Raises Refused with every fault.
    """
    data = None if question is None else json.dumps(question).encode()
    request = urllib.request.Request(f"{SERVICE}/v1/{path}", data, HEADERS)
    try:
        with urllib.request.urlopen(request, timeout=10) as reply:
            return _content(reply, reply.headers.get_content_type())
    except urllib.error.HTTPError as error:
        problem = _content(error, error.headers.get_content_type())
        raise Refused(_faults(problem) if isinstance(problem, dict) else f"{error}") from None
    except OSError as error:
        reason = getattr(error, "reason", error)
        raise Refused(f"No service at {SERVICE}: {reason}. SERVICE=http://… names another.") from None


def _content(reply: IO[bytes], kind: str) -> Any:  # noqa: ANN401 - JSON
    body = reply.read()
    if kind.endswith("json"):
        return json.loads(body)
    return body if kind == "image/png" else body.decode()


def _faults(problem: dict[str, Any]) -> str:
    lines = []
    for fault in problem.get("errors", []):
        example = f" Example: {json.dumps(fault['example'])}" if "example" in fault else ""
        lines.append(f"{fault.get('parameter', fault['pointer'])}: {fault['detail']}{example}")
    return "\n".join(lines) or str(problem["detail"])


def _end(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    if isinstance(error, Refused):
        print(error, file=sys.stderr)
    else:
        sys.__excepthook__(kind, error, trace)


sys.excepthook = _end


def kg(value: float) -> dict[str, Any]:
    """A mass in kilograms."""
    return {"value": value, "unit": "kg"}


def lb(value: float) -> dict[str, Any]:
    """A mass in pounds."""
    return {"value": value, "unit": "lb"}
