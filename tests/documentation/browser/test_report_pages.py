"""Reports as people open and print them: on a desk, on a phone, on paper, and without colour."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any, Final, Literal
from urllib.parse import urlencode

import msgspec
import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from service.api.models.operation import Operation
from service.api.models.report import AUDIENCES, Audience
from service.api.operations.registry import OPERATIONS
from service.api.reports.writing import page as written
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from tests.documentation.browser.conftest import Watched
from tests.documentation.browser.contrast import shown_on

REPORTED: Final = [
    (operation, example) for operation in OPERATIONS if operation.report for example in operation.examples
]
A4: Final = 794, 1123  # [px] at 96 to the inch
PHONE: Final = 360  # [px]
LEAST_PRINT: Final = 8 * 96 / 72  # [px]
SHOWN_FIRST: Final = "adjustments sore-low-back"
IDS: Final = [f"{operation.name} {example.name}" for operation, example in REPORTED]
NUMBERS: Final = range(len(REPORTED))
[STOP] = [number for number in NUMBERS if REPORTED[number][1].name == "red-flag"]


def read(operation: Operation, request: dict[str, Any]) -> Any:  # noqa: ANN401 - a request of any operation
    return Reader(operation.request).read(msgspec.json.encode(request))


@cache
def html(number: int, audience: Audience) -> str:
    operation, example = REPORTED[number]
    asked = read(operation, example.request)
    assert operation.report is not None
    return written(operation.report(asked), audience, operation.picture(asked) if operation.picture else ())


@pytest.fixture
def sheet(browser: Browser) -> Iterator[Page]:
    """A page of a browser without a network, whose complaints fail the test."""
    context = browser.new_context(offline=True, viewport={"width": PHONE, "height": 740})
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    yield page
    context.close()
    assert complaints == []


def test_a_link_opens_as_a_page_under_its_policy(desk: Watched, artifacts: Path) -> None:
    operation, example = REPORTED[0]
    query = QueryForm(operation, Reader(operation.request)).query(read(operation, example.request))
    desk.page.goto(f"{desk.address}{operation.path}?{query}")
    assert desk.page.locator("h1").inner_text() == "Change the training and go on"
    assert desk.page.evaluate("() => getComputedStyle(document.querySelector('.do')).borderLeftWidth") == "6px"
    assert desk.page.evaluate("() => [...document.images].every((one) => one.complete && one.naturalWidth > 0)")
    desk.page.goto(f"{desk.address}{operation.path}?{query}&{urlencode({'for': 'lifter'})}")
    assert desk.page.locator("img").count() == 1
    desk.page.screenshot(path=artifacts / "report_lifter.png", full_page=True)


@pytest.mark.parametrize("audience", AUDIENCES)
@pytest.mark.parametrize("number", NUMBERS, ids=IDS)
def test_a_phone_scrolls_nothing_sideways_but_wide_pictures(sheet: Page, number: int, audience: Audience) -> None:
    sheet.set_content(html(number, audience))
    assert sheet.evaluate("() => document.documentElement.scrollWidth") <= PHONE
    cut = sheet.evaluate(
        """() => [...document.querySelectorAll("main *:not(.frame):not(.frame *):not(thead):not(thead *)")]
            .filter((one) => one.checkVisibility() && one.getBoundingClientRect().right > innerWidth + 1)
            .map((one) => one.outerHTML.slice(0, 80))"""
    )
    assert cut == []


@pytest.mark.parametrize("audience", AUDIENCES)
@pytest.mark.parametrize("number", NUMBERS, ids=IDS)
def test_on_paper_nothing_is_wider_than_the_sheet_or_a_picture_higher(
    sheet: Page, number: int, audience: Audience
) -> None:
    margin = 2 * 15 / 25.4 * 96
    width, height = A4[0] - margin, A4[1] - margin
    sheet.set_viewport_size({"width": round(width), "height": round(height)})
    sheet.emulate_media(media="print")
    sheet.set_content(html(number, audience))
    boxes = sheet.evaluate(
        """() => [...document.querySelectorAll("main *")].filter((one) => one.checkVisibility())
            .map((one) => [one.getBoundingClientRect().right, one.tagName, one.getBoundingClientRect().height])"""
    )
    assert [box for box in boxes if box[0] > width + 1] == []
    assert [box for box in boxes if box[1] == "IMG" and box[2] > height] == []
    pdf = sheet.pdf(prefer_css_page_size=True)
    [sizes] = {tuple(found) for found in re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)}
    assert (round(float(sizes[0])), round(float(sizes[1]))) == (595, 842)


@pytest.mark.parametrize("number", NUMBERS, ids=IDS)
def test_a_lifter_gets_a_sheet_in_letters_that_can_be_read(sheet: Page, number: int) -> None:
    """What is shown first on one sheet, its signs on the back; a plan or a week on two at most."""
    pages = re.findall(rb"/Type /Page\b", printed(sheet, number))
    assert len(pages) <= (2 if IDS[number] == SHOWN_FIRST else 3)
    margin = 2 * 11 / 25.4 * 96
    sheet.set_viewport_size({"width": round(A4[0] - margin), "height": round(A4[1] - margin)})
    sheet.emulate_media(media="print")
    assert sheet.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0  # a printer would shrink it
    sizes = sheet.locator("main *").evaluate_all(
        """(all) => all.filter((one) => one.checkVisibility() && one.innerText)
            .map((one) => parseFloat(getComputedStyle(one).fontSize))"""
    )
    assert min(sizes) >= LEAST_PRINT


def printed(sheet: Page, number: int) -> bytes:
    sheet.set_content(html(number, "lifter"))
    return sheet.pdf(prefer_css_page_size=True)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("audience", AUDIENCES)
def test_contrast(sheet: Page, scheme: Literal["light", "dark"], audience: Audience) -> None:
    sheet.emulate_media(color_scheme=scheme)
    for number in NUMBERS:
        sheet.set_content(html(number, audience))
        shown = shown_on(sheet)
        assert len(shown) > 10
        assert [one for one in shown if one.ratio < one.least] == []


@pytest.mark.parametrize("audience", AUDIENCES)
def test_headings_go_down_a_step_at_a_time(sheet: Page, audience: Audience) -> None:
    for number in NUMBERS:
        sheet.set_content(html(number, audience))
        levels = sheet.evaluate("() => [...document.querySelectorAll('h1,h2,h3')].map((one) => +one.tagName[1])")
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(below <= above + 1 for above, below in pairwise(levels))


def test_a_stop_is_the_first_and_largest_that_is_seen_on_a_phone(sheet: Page, artifacts: Path) -> None:
    sheet.set_content(html(STOP, "lifter"))
    sizes = sheet.evaluate(
        """() => [...document.querySelectorAll("main *")]
            .filter((one) => one.checkVisibility() && one.innerText?.trim())
            .map((one) => [parseFloat(getComputedStyle(one).fontSize), one.tagName])"""
    )
    assert max(sizes)[1] == "H1"
    assert [size for size in sizes if size[0] == max(sizes)[0]] == [max(sizes)]
    box = sheet.locator("#what-to-do").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < 740
    sheet.screenshot(path=artifacts / "report_red_flag_phone.png")


def test_nothing_is_said_by_colour_alone(sheet: Page) -> None:
    """All that the page itself shows is grey, and a stop has a sign of its own."""
    sheet.set_content(html(STOP, "practitioner"))
    sheet.evaluate("() => document.querySelectorAll('figure').forEach((one) => one.remove())")
    image = Image.open(BytesIO(sheet.screenshot(full_page=True))).convert("RGB")
    red, green, blue = (np.asarray(band, dtype=int) for band in image.split())
    assert max(int(abs(one - other).max()) for one, other in ((red, green), (green, blue), (blue, red))) < 24
    assert sheet.evaluate("() => getComputedStyle(document.querySelector('h1'), '::before').content").startswith('"■')
