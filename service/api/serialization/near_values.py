"""An example for what a method refuses: the value nearest to the stated one that it accepts, in the client's own unit."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import Any, Final

import msgspec
from msgspec.structs import replace

from service.errors import Fault
from service.units import SI, Quantity

DIGITS: Final = 3
"""Significant digits of an example."""
SLACK: Final = 1e-9  # of a last digit, by which a number may miss a round one and still be it


def with_near_value(request: Any, fault: Fault) -> Fault:
    """A fault with an example, where it says how the stated value has to change.

    Args:
        request: as it was asked
        fault: whose pointer leads into the request
    """
    if fault.change is None or fault.example is not None:
        return fault
    stated = _at(request, fault.pointer)
    if isinstance(stated, Quantity):
        value = near(stated.value, fault.change / SI[stated.unit])
        return replace(fault, example=msgspec.json.encode({"value": value, "unit": stated.unit}))
    if isinstance(stated, int | float):
        return replace(fault, example=msgspec.json.encode(near(stated, fault.change, whole=float(stated).is_integer())))
    return fault


def near(value: float, change: float, *, whole: bool = False) -> float:
    """A changed value to a few digits, rounded away from what it was, since it has to change that much at least.

    Args:
        value: as stated
        change: to be added
        whole: whether it stays a whole number
    """
    changed = value + change
    if whole:
        return floor(changed + SLACK) if change < 0 else ceil(changed - SLACK)
    return rounded(changed, upwards=change >= 0)


def rounded(value: float, *, upwards: bool) -> float:
    """A value to a few digits, never below it if upwards, else never above it."""
    if abs(value) < SLACK:
        return 0.0
    digits = DIGITS - 1 - floor(log10(abs(value)))
    scaled = value * 10.0**digits
    whole = ceil(scaled - SLACK) if upwards else floor(scaled + SLACK)
    return round(whole / 10.0**digits, max(digits, 0))


def _at(request: Any, pointer: str) -> Any:
    """What a request states at a pointer, None where it states nothing there."""
    value = request
    for step in pointer.split("/")[1:]:
        if isinstance(value, list):
            value = value[int(step)] if step.isdecimal() and int(step) < len(value) else None
        else:
            value = getattr(value, step, None)
    return value
