"""A picture in pixels: of any text, at any scale, in letters that come with the service."""

from __future__ import annotations

import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from service.charts.elements.layout import Sheet
from service.charts.elements.theme import letters
from service.charts.png import png

HOSTILE = '<script>alert("1")</script> & ]]> \x00\n\u202e\ud800 &#0; <!ENTITY a "b">'


def sheet(text: str) -> str:
    return Sheet(text, text, 300.0, 30.0, lambda top: [letters(text, 5.0, top + 20.0)]).svg()


def opened(svg: str, zoom: int = 1) -> Image.Image:
    return Image.open(io.BytesIO(png(svg, zoom)))


@given(st.text(max_size=30))
@settings(max_examples=50)
def test_any_text_can_be_drawn(text: str) -> None:
    assert opened(sheet(text)).size == (300, 30)


@pytest.mark.parametrize("text", [HOSTILE, "&lt;", "😀", "膝", "\u200fركبة"])
def test_strange_texts_too(text: str) -> None:
    assert opened(sheet(text)).size == (300, 30)


@pytest.mark.parametrize("zoom", [1, 2])
def test_its_size_is_that_of_the_picture_times_the_scale(zoom: int) -> None:
    assert opened(sheet("Knee"), zoom).size == (zoom * 300, zoom * 30)


@pytest.mark.parametrize("text", ["Knee", "Größe 62,5", "Łydka", "Присед", "Γόνατο", "≤ 1 200 × 2 °C − 3 %…"])
def test_letters_are_drawn(text: str) -> None:
    """No letter is the box that stands for one that a face has not."""
    blank = opened(sheet("")).tobytes()
    missing = opened(sheet("\ue000")).tobytes()
    for letter in set(text) - set(" \u202f"):
        assert opened(sheet(letter)).tobytes() not in (blank, missing), letter


def test_the_same_picture_is_the_same_file() -> None:
    assert png(sheet("Knee")) == png(sheet("Knee"))
