"""Asks the service with Python's standard library alone. course.py beside it is a course of care with it."""

from __future__ import annotations

import json
import os
import urllib.error
import urllib.request
from typing import Any

SERVICE = os.environ.get("SERVICE", "http://127.0.0.1:8000")
HEADERS = {"content-type": "application/json"}  # and {"authorization": "Bearer KEY"} where the service asks for one


class Refused(Exception):
    """A question without an answer, in the service's own words."""


def ask(operation: str, question: dict[str, Any]) -> dict[str, Any]:
    """The answer of one operation. Raises Refused with every fault of the question."""
    request = urllib.request.Request(f"{SERVICE}/v1/{operation}", json.dumps(question).encode(), HEADERS)
    try:
        with urllib.request.urlopen(request, timeout=10) as reply:
            answer: dict[str, Any] = json.load(reply)
            return answer
    except urllib.error.HTTPError as error:
        problem = json.load(error)
        faults = [
            f"{fault.get('pointer', '')}: {fault['detail']} Example: {json.dumps(fault.get('example'))}"
            for fault in problem.get("errors", [])
        ]
        raise Refused("\n".join(faults) or problem["detail"]) from None
    except urllib.error.URLError as error:
        raise Refused(f"No service at {SERVICE}: {error.reason}") from None


def kg(value: float) -> dict[str, Any]:
    """A mass in kilograms."""
    return {"value": value, "unit": "kg"}


def lb(value: float) -> dict[str, Any]:
    """A mass in pounds."""
    return {"value": value, "unit": "lb"}
