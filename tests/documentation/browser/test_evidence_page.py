"""The page of evidence as a person reads it: opened, in both colour schemes, by keyboard, and on a phone."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from service.knowledge.evidence import QUANTITIES
from tests.documentation.browser.conftest import Watched
from tests.documentation.browser.contrast import shown_on

PATH = "/v1/evidence"


def opened(seen: Watched, query: str = "") -> None:
    seen.page.goto(f"{seen.address}{PATH}{query}")


def test_docs_lead_to_the_page(desk: Watched, artifacts: Path) -> None:
    desk.page.get_by_role("link", name=PATH).click()
    assert desk.page.url == f"{desk.address}{PATH}"
    assert desk.page.title().startswith("Evidence behind the numbers")
    assert desk.page.locator("#quantities > section").count() == len(QUANTITIES)
    desk.page.screenshot(path=artifacts / "evidence.png", full_page=True)


def test_one_quantity_and_back(desk: Watched) -> None:
    opened(desk)
    desk.page.locator("#knee_moment h3 a").click()
    assert desk.page.locator("#quantities > section").count() == 1
    desk.page.get_by_role("link", name="The evidence of every quantity").click()
    assert desk.page.url == f"{desk.address}{PATH}"


def test_headings_go_down_a_step_at_a_time(desk: Watched) -> None:
    opened(desk)
    levels = desk.page.evaluate("() => [...document.querySelectorAll('h1,h2,h3,h4')].map((one) => +one.tagName[1])")
    assert levels.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))


def test_contrast(desk_in: Watched) -> None:
    opened(desk_in)
    desk_in.page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    shown = shown_on(desk_in.page)
    assert len(shown) > 500
    assert [one for one in shown if one.ratio < one.least] == []


def test_a_phone_scrolls_tables_alone_sideways(phone: Watched, artifacts: Path) -> None:
    opened(phone)
    assert phone.page.evaluate("() => document.documentElement.scrollWidth") <= 320
    phone.page.screenshot(path=artifacts / "evidence_phone.png")


def test_wide_tables_can_be_reached_by_keyboard(desk: Watched) -> None:
    opened(desk)
    regions = desk.page.locator(".wide")
    assert regions.count() > 20
    assert all(regions.nth(index).get_attribute("tabindex") == "0" for index in range(regions.count()))
