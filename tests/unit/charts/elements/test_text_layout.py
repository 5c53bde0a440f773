"""Text broken to a width: every line fits, nothing is lost, and the work goes by what can be seen."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.text_layout import clean, width_of, wrapped
from tests.support.work import calls

SIZE = 12.0


@given(st.text(), st.floats(20, 400))
def test_every_line_fits_and_nothing_is_lost(text: str, width: float) -> None:
    lines = wrapped(text, width, SIZE, most=1000)
    assert all(width_of(line, SIZE) <= width + 1e-9 or len(line) == 1 for line in lines)
    assert "".join(lines).replace(" ", "") == clean(text).replace(" ", "")


def test_of_a_long_text_only_what_is_seen_is_measured() -> None:
    page = "a word and another one " * 40
    assert wrapped(page * 20, 300, SIZE) == wrapped(page, 300, SIZE)
    assert calls(lambda: wrapped(page * 20, 300, SIZE)) < 1.5 * calls(lambda: wrapped(page, 300, SIZE))


def test_the_work_of_a_line_grows_with_its_letters() -> None:
    line = "a word and another one " * 20
    assert calls(lambda: wrapped(2 * line, 1e9, SIZE)) < 2.5 * calls(lambda: wrapped(line, 1e9, SIZE))
