"""Figures between those of a table."""

from __future__ import annotations

import pytest

from service.interpolation import interpolated


@pytest.mark.parametrize(
    ("wanted", "found"), [(-1.0, 10.0), (0.0, 10.0), (0.5, 15.0), (1.0, 20.0), (2.0, 0.0), (3.0, -20.0), (9.0, -20.0)]
)
def test_a_figure_lies_in_a_straight_line_between_its_neighbours_and_stays_beyond_the_ends(
    wanted: float, found: float
) -> None:
    assert interpolated((0.0, 1.0, 3.0), (10.0, 20.0, -20.0), wanted) == pytest.approx(found)
