"""Six significant digits, as the language's own formatting gives them."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.units import significant, significant_span


@given(st.floats(-1e9, 1e9))
@example(0.0)
@example(999999.96)
@example(0.99999999)
@example(1e-300)
def test_six_digits_are_kept(value: float) -> None:
    assert significant(value) == pytest.approx(float(f"{value:.6g}"), rel=1.001e-5 if _tied(value) else 0.0, abs=0.0)


def test_nothing_has_no_sign() -> None:
    assert str(significant(-0.0)) == "0.0"


@given(st.floats(-1e9, 1e9), st.floats(0.0, 3.0), st.floats(0.0, 3.0))
@example(1.0, 0.1, 0.1)
@example(999999.0, 0.0, 1e-6)
@example(0.0, 0.0, 0.0)
def test_a_span_is_its_three_values(value: float, below: float, above: float) -> None:
    low, high = value - below * abs(value), value + above * abs(value)
    for ends in ((low, value, high), (value, low, high), (high, value, low)):
        assert significant_span(*ends) == tuple(map(significant, ends))


def _tied(value: float) -> bool:
    """Whether the seventh and later digits are so near one half that either neighbour is right."""
    digits = f"{abs(value):.16e}".split("e")[0].replace(".", "")
    return 4.9999999 <= float(f"{digits[6]}.{digits[7:]}") <= 5.0000001
