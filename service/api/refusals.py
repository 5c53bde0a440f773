"""How what the pure functions say becomes an HTTP answer: refusals as problems, faults of ours as a logged 500."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final, TypeAlias, TypeVar

import structlog

from service.api.serialization.near_values import with_near_value
from service.api.serialization.shown_faults import plain_fault
from service.api.serialization.unreadable import Unreadable
from service.errors import Fault, Refusal
from service.http.problems import HttpProblem, ProblemFault, invalid

Request = TypeVar("Request")
Result = TypeVar("Result")
Presentation: TypeAlias = Callable[[Fault], ProblemFault]
"""How a fault is shown to a client that asks in a certain form."""
log: Final = structlog.get_logger()


def from_refusal(refusal: Refusal, shown: Presentation = plain_fault) -> HttpProblem:
    """A refusal of the pure functions as a problem, each of its faults as it is shown."""
    return invalid(map(shown, refusal.faults))


def answered(compute: Callable[[Request], Result], request: Request) -> Result:
    """What a pure function gives for a request. Raises its Refusal, with a value that would be accepted where one is known."""
    try:
        return compute(request)
    except Refusal as refusal:
        raise refusal.with_faults(partial(with_near_value, request)) from None


def outcome(
    compute: Callable[[], Result],
    path: str,
    shown: Presentation = plain_fault,
    example: Callable[[], bytes | None] = lambda: None,
) -> Result:
    """What a pure function gives; example: JSON of what could have been read instead of bytes that cannot be.

    Raises HttpProblem for its refusal (422), for bytes that cannot be read (400), and for any fault of ours (500).
    """
    try:
        return compute()
    except Refusal as refusal:
        raise from_refusal(refusal, shown) from None
    except Unreadable as error:
        detail = str(error)
        fault = Fault("", detail, "a JSON object", example())
        raise HttpProblem("unreadable", detail, faults=() if fault.example is None else (plain_fault(fault),)) from None
    except HttpProblem:
        raise
    except Exception:
        # the log line names lines of ours; neither the request nor the exception's words are written
        log.exception("computation failed", path=path)
        raise HttpProblem("internal", "The computation failed; the fault is ours and has been logged.") from None
