"""Text broken to a width: every line fits, nothing is lost, and the work goes by what can be seen."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.text_layout import clean, share_in_words, width_of, wrapped
from service.intervals import Interval
from tests.support.work import calls

SIZE = 12.0


@given(st.text(), st.floats(20, 400))
def test_every_line_fits_and_nothing_is_lost(text: str, width: float) -> None:
    lines = wrapped(text, width, SIZE, most=1000)
    assert all(width_of(line, SIZE) <= width + 1e-9 or len(line) == 1 for line in lines)
    assert "".join(lines).replace(" ", "") == clean(text).replace(" ", "")


@pytest.mark.parametrize("part", ["62.5 kg", "4 s", "90 %", "315 lb", "25 cm"])
def test_a_number_stays_with_its_unit(part: str) -> None:
    text = f"down to the floor with {part}, then up and so on for a while, {part} again, and {part}"
    for width in range(90, 300):
        assert " ".join(wrapped(text, width, SIZE, most=99)).count(part) == 3
        assert sum(line.count(part) for line in wrapped(text, width, SIZE, most=99)) == 3


@pytest.mark.parametrize(
    ("low", "value", "high", "said"),
    [
        (0.87, 0.9, 0.93, "90 % (87 to 93)"),
        (0.9, 0.9, 0.9, "90 %"),
        (-7.0, 0.36, 1.4, "hardly known"),
        (0.33, 1.01, 21.2, "hardly known"),
        (-0.2, 0.5, 2.9, "50 % (−20 to 290)"),
    ],
)
def test_a_span_that_tells_nobody_anything_is_not_numbered(low: float, value: float, high: float, said: str) -> None:
    assert share_in_words(Interval(value, low, high)) == said


def test_of_a_long_text_only_what_is_seen_is_measured() -> None:
    page = "a word and another one " * 40
    assert wrapped(page * 20, 300, SIZE) == wrapped(page, 300, SIZE)
    assert calls(lambda: wrapped(page * 20, 300, SIZE)) < 1.5 * calls(lambda: wrapped(page, 300, SIZE))


def test_the_work_of_a_line_grows_with_its_letters() -> None:
    line = "a word and another one " * 20
    assert calls(lambda: wrapped(2 * line, 1e9, SIZE)) < 2.5 * calls(lambda: wrapped(line, 1e9, SIZE))
