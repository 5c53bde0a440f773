"""Every kind of picture in four renderers: light paper, colours of the palette as often as drawn, every text.

Chromium reads the style sheet, resvg, CairoSVG and LibreOffice do not, or not all of it. Pixels are counted; the bounds
are those between which all four were met, with room for another face of the letters.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Final, Literal

import pytest
from PIL import Image

from service.api.operations.registry import OPERATIONS
from service.charts.elements.palette import PALETTE
from service.charts.png import png
from tests.documentation.pictures.pixels import LETTER, apart, colour, counted, part_of, share
from tests.documentation.pictures.renderers import LIGHT, Pages, Shown, by_cairo, by_chromium
from tests.support.asking import decoded
from tests.support.drawn import SVG, box, read, texts

PAPER, DARK_PAPER = map(colour, PALETTE["paper"])
LEAST_PAPER, MOST_PAPER = 0.75, 0.98  # of a page [1]
LEAST_LETTERS, MOST_LETTERS = 0.06, 0.55  # of the room of a text [1]
LEAST_BARS: Final = 0.7  # of the area of bars [1]: whiskers and lines cross them, and edges are mixed with the paper
MOST_BARS: Final = 1.05  # the same, where nothing else has their colour
LEAST_BARS_OF_A_COLOUR: Final = 400.0  # [px²], of all bars of a colour: fewer pixels are mostly edges
FURTHEST_ON_AVERAGE: Final = 9.0  # [of 255], between a block of Chromium and of another: letters of another face
FURTHEST: Final = 170.0  # [of 255], of any block: a letter beside a gap
MARGIN: Final = 6.0  # [px], that nothing reaches into
BARS: Final = frozenset(
    {"higher", "lower", "kept", "linear", "squared", "tenth"}
)  # looks; grey are edges of letters too


@pytest.fixture(scope="session")
def pages() -> Pages:
    """Every page of each operation's first example, and the first page of its others."""
    found = {}
    for operation in OPERATIONS:
        for example in operation.examples if operation.picture else ():
            assert operation.picture is not None
            drawn = operation.picture(decoded(operation.name, example.request))
            for number, page in enumerate(drawn if example is operation.examples[0] else drawn[:1], 1):
                found[f"{operation.name}-{example.name}-{number}"] = page.svg()
    assert len(found) > 25
    return found


@pytest.fixture(scope="session", params=LIGHT)
def renderer(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="session")
def shown(renderer: str, pages: Pages, tmp_path_factory: pytest.TempPathFactory) -> Shown:
    return LIGHT[renderer](pages, tmp_path_factory.mktemp("pictures"))


@pytest.fixture(scope="session")
def in_chromium(pages: Pages) -> Shown:
    return by_chromium(pages)


@pytest.fixture(scope="session")
def in_the_dark(pages: Pages) -> Shown:
    return by_chromium(pages, "dark")


def test_each_page_is_as_large_as_it_says(pages: Pages, shown: Shown) -> None:
    for name, svg in pages.items():
        root = read(svg)
        assert shown[name].width == pytest.approx(int(root.attrib["width"]), abs=1)
        assert shown[name].height == pytest.approx(int(root.attrib["height"]), abs=1)


def test_the_paper_is_light_and_nothing_reaches_its_edge(shown: Shown) -> None:
    for name, picture in shown.items():
        assert LEAST_PAPER < share(picture, PAPER) < MOST_PAPER, name
        width, height = picture.size
        for edge in ((0, 0, MARGIN, height), (width - MARGIN, 0, width, height), (0, 0, width, MARGIN)):
            assert share(part_of(picture, edge), PAPER) > 0.99, name


def test_every_text_is_drawn_in_its_colour(pages: Pages, shown: Shown) -> None:
    hold_texts(pages, shown, "light")


def test_bars_are_as_large_as_they_are_said_to_be(pages: Pages, shown: Shown) -> None:
    compared = 0
    for name, svg in pages.items():
        bars: Counter[str] = Counter()
        beside = set()
        for one in read(svg).iter():
            if one.tag == f"{SVG}rect" and one.get("class") in BARS and "data-sign" not in one.attrib:
                bars[one.attrib["fill"]] += round(float(one.attrib["width"]) * float(one.attrib["height"]))
            else:
                beside |= {one.get("fill"), one.get("stroke")}
        for fill, area in bars.items():
            if area > LEAST_BARS_OF_A_COLOUR:
                found = counted(shown[name], colour(fill))
                assert found > LEAST_BARS * area, (name, fill)
                assert fill in beside or found < MOST_BARS * area, (name, fill)
                compared += fill not in beside
    assert compared > 5


def test_every_colour_that_is_drawn_is_seen(pages: Pages, shown: Shown) -> None:
    for name, svg in pages.items():
        drawn = {one.attrib[kind] for one in read(svg).iter() for kind in ("fill", "stroke") if kind in one.attrib}
        for fill in drawn - {"none"}:
            assert counted(shown[name], colour(fill), LETTER) > 0, (name, fill)


def test_renderers_agree(shown: Shown, in_chromium: Shown) -> None:
    for name, picture in shown.items():
        average, most = apart(picture, in_chromium[name])
        assert average < FURTHEST_ON_AVERAGE, name
        assert most < FURTHEST, name


def test_without_its_style_sheet_a_picture_is_the_same(pages: Pages, in_chromium: Shown) -> None:
    bare = {name: re.sub(r"<style>.*?</style>", "", svg, flags=re.DOTALL) for name, svg in pages.items()}
    assert all(len(bare[name]) < len(svg) for name, svg in pages.items())
    assert all(png(bare[name]) == png(svg) for name, svg in pages.items())
    assert same(by_chromium(bare), in_chromium)
    assert same(by_cairo(bare), by_cairo(pages))


def test_a_reader_in_the_dark_sees_dark_paper_and_every_text_in_its_dark_colour(
    pages: Pages, in_the_dark: Shown
) -> None:
    for name, picture in in_the_dark.items():
        assert LEAST_PAPER < share(picture, DARK_PAPER) < MOST_PAPER, name
        assert counted(picture, PAPER) == 0, name
    hold_texts(pages, in_the_dark, "dark")


def hold_texts(pages: Pages, shown: Shown, scheme: Literal["light", "dark"]) -> None:
    in_scheme = {light: light if scheme == "light" else dark for light, dark in PALETTE.values()}
    for name, svg in pages.items():
        for text in texts(svg):
            letters = share(part_of(shown[name], box(text)), colour(in_scheme[text.attrib["fill"]]), LETTER)
            assert LEAST_LETTERS < letters < MOST_LETTERS, (name, text.text)


def same(one: Shown, other: Shown) -> bool:
    return all(one[name].tobytes() == picture.tobytes() for name, picture in other.items())


def test_a_face_of_the_machine_is_not_needed(pages: Pages, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a container without any font letters are drawn all the same: none of the machine's are looked at."""
    before = {name: png(svg) for name, svg in list(pages.items())[:3]}
    monkeypatch.setenv("FONTCONFIG_FILE", str(tmp_path / "none"))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert {name: png(pages[name]) for name in before} == before
    sheet = '<svg xmlns="http://www.w3.org/2000/svg" width="80" height="20"><text x="2" y="15">{}</text></svg>'
    drawn = {text: png(sheet.format(text)) for text in ("", "Kniebeuge", "Ωμός", "Присед", "−1 °·×")}
    assert len(set(drawn.values())) == len(drawn)


def test_pixels_are_counted_as_they_are() -> None:
    picture = Image.new("RGB", (20, 10), PAPER)
    picture.paste((0, 0, 0), (0, 0, 5, 10))
    assert counted(picture, (0, 0, 0)) == 50
    assert counted(picture, (9, 0, 0)) == 50
    assert counted(picture, (11, 0, 0)) == 0
    assert share(picture, PAPER) == pytest.approx(0.75)
    assert apart(picture, picture) == (0.0, 0.0)
