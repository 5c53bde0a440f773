"""The number of a quantity, said as its field and its unit are: the bounds that the field states, and an example, in that unit."""

from __future__ import annotations

import re
from typing import Any, Final

import msgspec
from msgspec.structs import replace

from service.api.serialization.near_values import rounded
from service.api.serialization.request_fields import RequestField
from service.units import SI

STATED: Final = re.compile(r"(?:(-?\d+(?:\.\d+)?)|up) to (-?\d+(?:\.\d+)?) (kg|m|deg|s|min)\b")
"""Bounds as the words of a field state them: "1.3 to 2.3 m", "up to 5 min"."""


def number_in_unit(number: RequestField, quantity: RequestField, unit: str | None) -> RequestField:
    """The field of a number, which by itself knows neither its quantity nor its unit.

    Args:
        number: the field of the number
        quantity: the field of the quantity, which has an example
        unit: the unit that was sent; None where none was that is known, and that of the example counts
    """
    example = msgspec.json.decode(quantity.example or b"")
    unit = unit or example["unit"]
    low, high = _bounds(number.schema, quantity.description, unit)
    value = example["value"]
    if unit != example["unit"]:
        value = rounded(value * SI[example["unit"]] / SI[unit], upwards=False)
    shown = msgspec.json.encode(min(max(value, low), high))
    return replace(number, description=quantity.description, allowed=f"{low:g} to {high:g} {unit}", example=shown)


def _bounds(schema: dict[str, Any], words: str, unit: str) -> tuple[float, float]:
    """Both ends, of all lifts that the words name; where they state none, those of any quantity of the kind."""
    low, high = schema["minimum"], schema["maximum"]
    stated = STATED.findall(words)
    lows = [float(least) * SI[of] / SI[unit] for least, _, of in stated if least]
    highs = [float(most) * SI[of] / SI[unit] for _, most, of in stated]
    if lows:
        low = max(low, rounded(min(lows), upwards=True))
    if highs:
        high = min(high, rounded(max(highs), upwards=False))
    return low, high
