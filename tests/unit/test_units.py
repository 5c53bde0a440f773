"""Quantities at the edge: into SI, back out in the unit asked for, and nothing outside their bounds."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final, get_args

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.units import (
    PINT_NAMES,
    SI,
    Angle,
    AngleUnit,
    Duration,
    Length,
    LengthUnit,
    Mass,
    MassUnit,
    TimeUnit,
    angle,
    duration,
    length,
    mass,
    si,
    significant,
)

KINDS: Final[dict[Any, tuple[Any, Callable[[float, Any], Any], tuple[float, float]]]] = {
    Mass: (MassUnit, mass, (0, 2500)),
    Length: (LengthUnit, length, (-300, 300)),
    Angle: (AngleUnit, angle, (-180, 180)),
    Duration: (TimeUnit, duration, (0, 3600)),
}
PAIRS: Final = [(kind, unit) for kind, (units, _, _) in KINDS.items() for unit in get_args(units)]


@pytest.mark.parametrize(("kind", "unit"), PAIRS)
@given(st.floats(0.001, 1000))
def test_quantity_comes_back_in_the_unit_asked_for(kind: Any, unit: str, value: float) -> None:  # noqa: ANN401 - four kinds
    shown = KINDS[kind][1](value * SI[unit], unit)
    assert isinstance(shown, kind)
    assert shown.unit == unit
    assert shown.value == pytest.approx(value, rel=5e-6)
    assert si(shown) == pytest.approx(value * SI[unit], rel=5e-6)


@pytest.mark.parametrize(("kind", "unit"), PAIRS)
def test_quantity_outside_its_bounds_or_of_another_unit_is_no_quantity(kind: Any, unit: str) -> None:  # noqa: ANN401
    low, high = KINDS[kind][2]
    for value in (low, high):
        assert msgspec.convert({"value": value, "unit": unit}, kind).value == value
    for wrong in (low - 0.001, high + 0.001, math.inf, "5", None):
        with pytest.raises(msgspec.ValidationError):
            msgspec.convert({"value": wrong, "unit": unit}, kind)
    others = set(SI) - set(get_args(KINDS[kind][0]))
    for other in [*others, "kilogram", "5 * lb", "kg^2", unit.upper(), ""]:
        with pytest.raises(msgspec.ValidationError):
            msgspec.convert({"value": 1, "unit": other}, kind)


def test_quantity_needs_both_fields_and_no_other() -> None:
    for broken in ({"value": 5}, {"unit": "kg"}, {"value": 5, "unit": "kg", "per": "side"}, 5, "5 kg"):
        with pytest.raises(msgspec.ValidationError):
            msgspec.convert(broken, Mass)


def test_units_are_a_closed_list() -> None:
    assert set(SI) == set(PINT_NAMES) == {unit for units, _, _ in KINDS.values() for unit in get_args(units)}


@given(st.floats(1e-6, 1e9))
def test_six_significant_digits_are_kept(value: float) -> None:
    assert significant(value) == pytest.approx(value, rel=5e-6)
    assert significant(significant(value)) == significant(value)


def test_arithmetic_dust_is_dropped() -> None:
    assert significant(0.1 + 0.2) == 0.3
    assert mass(135 * SI["lb"], "lb").value == 135


def test_pound_is_the_avoirdupois_pound() -> None:
    assert si(Mass(1, "lb")) == 0.45359237  # NIST SP 811, exactly
