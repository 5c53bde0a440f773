"""The edge where units live: quantities as clients write them, and the SI floats that everything inside uses.

The units are a closed list. Their factors are taken from pint once, when this module is imported, in exact rational
arithmetic, and kept as plain floats; no text of a caller ever reaches pint's parser, and no pint object lives on.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, log10
from typing import Annotated, Any, Final, Literal

import msgspec
import pint
from msgspec import Meta

MassUnit = Literal["kg", "lb"]
LengthUnit = Literal["m", "cm", "in", "ft"]
AngleUnit = Literal["deg", "rad"]
TimeUnit = Literal["s", "min"]

PINT_NAMES: Final[dict[str, str]] = {
    "kg": "kilogram",
    "lb": "pound",
    "m": "meter",
    "cm": "centimeter",
    "in": "inch",
    "ft": "foot",
    "deg": "degree",
    "rad": "radian",
    "s": "second",
    "min": "minute",
}


def _factors() -> dict[str, float]:
    """SI value of one of each unit, e.g. 0.45359237 for the pound."""
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(non_int_type=Fraction)
    one = Fraction(1)
    return {
        unit: float(registry.Quantity(one, pint_name).to_base_units().magnitude)
        for unit, pint_name in PINT_NAMES.items()
    }


SI: Final[dict[str, float]] = _factors()


class Mass(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False):
    """A mass, as written on a plate or shown by a scale: 0 to 2500 in kg or lb.

    Attributes:
        value: How many of the unit.
        unit: Kilograms or pounds; an answer comes in the unit of the load asked about.
    """

    value: Annotated[float, Meta(ge=0, le=2500)]
    unit: MassUnit


class Length(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False):
    """A length: -300 to 300 in m, cm, in or ft; negative only where the field says that it has a direction.

    Attributes:
        value: How many of the unit.
        unit: Metres, centimetres, inches or feet.
    """

    value: Annotated[float, Meta(ge=-300, le=300)]
    unit: LengthUnit


class Angle(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False):
    """An angle: -180 to 180 in deg or rad; negative only where the field says that it has a direction.

    Attributes:
        value: How many of the unit.
        unit: Degrees or radians.
    """

    value: Annotated[float, Meta(ge=-180, le=180)]
    unit: AngleUnit


class Duration(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False):
    """A time: 0 to 3600 in s or min.

    Attributes:
        value: How many of the unit.
        unit: Seconds or minutes.
    """

    value: Annotated[float, Meta(ge=0, le=3600)]
    unit: TimeUnit


Quantity = Mass | Length | Angle | Duration


def si(quantity: Quantity) -> float:
    """The quantity in the SI unit of its kind [kg, m, rad or s]."""
    return quantity.value * SI[quantity.unit]


_DIGITS: Final = 6
_SCALES: Final = {power: 10.0 ** (_DIGITS - 1 - power) for power in range(-_DIGITS, _DIGITS)}
_BEYOND: Final = 10.0**_DIGITS
_WHOLE: Final = 1.5 * 2.0**52
"""Next to this floats are whole numbers: to add and take it away rounds half to even, as round does and faster."""


def significant(value: float) -> float:
    """The value to six significant digits: enough for any use of these models, and free of rounding errors."""
    if not value:
        return 0.0  # a negative nothing too
    scale = _SCALES.get(floor(log10(abs(value))))
    # a whole number of units of the last digit, over an exact power of ten, is the float nearest to the decimal number
    return float(f"{value:.{_DIGITS}g}") if scale is None else (value * scale + _WHOLE - _WHOLE) / scale


def significant_span(low: float, value: float, high: float) -> tuple[float, float, float]:
    """Three values to six significant digits each; where they share a power of ten, as most spans do, by one scale."""
    scale = _SCALES.get(floor(log10(low))) if low > 0.0 else None
    if scale is None or not low <= value <= high or high * scale >= _BEYOND:
        return significant(low), significant(value), significant(high)
    return (
        (low * scale + _WHOLE - _WHOLE) / scale,
        (value * scale + _WHOLE - _WHOLE) / scale,
        (high * scale + _WHOLE - _WHOLE) / scale,
    )


def mass(kilograms: float, unit: MassUnit) -> Mass:
    """A mass as a quantity.

    Args:
        kilograms: a mass [kg]
        unit: of the quantity
    """
    return Mass(significant(kilograms / SI[unit]), unit)


def length(metres: float, unit: LengthUnit) -> Length:
    """A length as a quantity.

    Args:
        metres: a length [m]
        unit: of the quantity
    """
    return Length(significant(metres / SI[unit]), unit)


def angle(radians: float, unit: AngleUnit) -> Angle:
    """An angle as a quantity.

    Args:
        radians: an angle [rad]
        unit: of the quantity
    """
    return Angle(significant(radians / SI[unit]), unit)


def duration(seconds: float, unit: TimeUnit) -> Duration:
    """A time as a quantity.

    Args:
        seconds: a time [s]
        unit: of the quantity
    """
    return Duration(significant(seconds / SI[unit]), unit)
