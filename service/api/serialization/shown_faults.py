"""A fault as a problem shows it."""

from __future__ import annotations

from msgspec import UNSET, Raw

from service.errors import Fault
from service.http.problems import ProblemFault


def plain_fault(fault: Fault) -> ProblemFault:
    """A fault of a JSON request as it is shown."""
    return ProblemFault(
        fault.pointer,
        detail=fault.detail,
        allowed=fault.allowed or UNSET,
        example=UNSET if fault.example is None else Raw(fault.example),
        did_you_mean=fault.did_you_mean or UNSET,
    )
