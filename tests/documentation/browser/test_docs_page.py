"""The page at /docs as a person uses it: opened, tried, read, by mouse, by keyboard, and on a phone."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.documentation.browser.conftest import PATIENCE, Watched
from tests.documentation.browser.contrast import Shown, luminance, shown_on
from tests.support.live import Live
from tests.support.paths import DESCRIPTION

ANSWERED: Final = re.compile("^Answered: 200, ")
MAIN_JOB: Final = "adjustments"
EASY_TARGET: Final = 24  # [px] WCAG 2.2, 2.5.8
OUTLINE: Final = """() => {
  const style = getComputedStyle(document.activeElement);
  return [document.activeElement.tagName, style.outlineStyle, style.outlineColor, parseFloat(style.outlineWidth)];
}"""
NAMED: Final = "() => document.activeElement.id || document.activeElement.parentElement.id"


@pytest.fixture(autouse=True)
def patience() -> None:
    expect.set_options(timeout=PATIENCE)


def opened(page: Page, key: str) -> Locator:
    operation = page.locator(f"#{key}")
    operation.locator("> summary").click()
    return operation


def open_all(page: Page) -> None:
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")


def answer_of(form: Locator) -> tuple[Locator, Locator]:
    """The status below a form, and the answer below that."""
    status = form.locator("xpath=following-sibling::p[1]")
    return status, form.locator("xpath=following-sibling::pre[1]")


def test_root_leads_a_browser_here(desk: Watched) -> None:
    desk.page.goto(f"{desk.address}/")
    assert desk.page.url == f"{desk.address}/docs"
    assert desk.page.title().startswith("Program adjustment")


def test_headings_go_down_a_step_at_a_time(desk: Watched) -> None:
    levels = desk.page.evaluate(
        "() => [...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map((one) => +one.tagName[1])"
    )
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))


def test_demo_request_is_answered_and_shown(desk: Watched, served: Live, artifacts: Path) -> None:
    form = opened(desk.page, MAIN_JOB).locator("form").first
    question = form.locator(".body").input_value()
    form.get_by_role("button", name="Send", exact=True).click()
    status, answer = answer_of(form)
    expect(status).to_have_text(ANSWERED)
    expect(answer).to_be_visible()
    shown = json.loads(answer.inner_text())
    assert shown["decision"] == "adjust"
    assert shown == served.post(f"/v1/{MAIN_JOB}", question.encode()).json()
    desk.page.locator(f"#{MAIN_JOB}").screenshot(path=artifacts / "answer.png")
    desk.page.screenshot(path=artifacts / "page.png", full_page=True)


def test_every_operation_is_answered_as_it_stands_there(desk: Watched) -> None:
    described = json.loads(DESCRIPTION.read_bytes())["paths"]
    forms = desk.page.locator("form")
    assert forms.count() == sum(len(methods) for methods in described.values())
    open_all(desk.page)
    for form in forms.all():
        form.get_by_role("button", name="Send", exact=True).click()
    refused = {}
    for form in forms.all():
        status, answer = answer_of(form)
        expect(status).to_have_text(re.compile("^(Answered|Refused|No answer)"))
        if not ANSWERED.match(status.inner_text()) or len(answer.inner_text()) == 0:
            refused[form.get_attribute("id")] = status.inner_text()
    assert refused == {}


def test_pictures_are_seen(desk: Watched, artifacts: Path) -> None:
    described = json.loads(DESCRIPTION.read_bytes())["paths"]
    drawn = [
        path for path, methods in described.items() if "image/svg+xml" in str(methods.get("post", {}).get("responses"))
    ]
    open_all(desk.page)
    buttons = desk.page.get_by_role("button", name="Send for a picture").all()
    assert len(buttons) == len(drawn) > 2
    for button in buttons:
        button.click()
        form = button.locator("xpath=ancestor::form")
        expect(answer_of(form)[0]).to_have_text("Answered: 200, image/svg+xml")
        picture = form.locator("xpath=following-sibling::img[1]")
        expect(picture).to_be_visible()
        picture.evaluate("(one) => one.decode()")
        width, height = picture.evaluate("(one) => [one.naturalWidth, one.naturalHeight]")
        assert min(width, height) > 100
        assert len(picture.get_attribute("alt") or "") > 10
        colours = picture.evaluate(
            """(one) => {
              const canvas = Object.assign(document.createElement("canvas"), { width: 300, height: 200 });
              const context = canvas.getContext("2d");
              context.drawImage(one, 0, 0, 300, 200);
              const data = new Uint32Array(context.getImageData(0, 0, 300, 200).data.buffer);
              return new Set(data).size;
            }"""
        )
        assert colours > 20  # an empty or unstyled picture has one or two
        picture.screenshot(path=artifacts / f"{form.get_attribute('id')}.png")


def test_refusal_is_told(desk: Watched) -> None:
    form = opened(desk.page, "load-for-reps").locator("form").first
    body = form.locator(".body")
    body.fill(body.input_value().replace('"reps": 9', '"reps": 99'))
    form.get_by_role("button", name="Send", exact=True).click()
    status, answer = answer_of(form)
    expect(status).to_have_text(re.compile("^Refused: 422, application/problem"))
    assert json.loads(answer.inner_text())["errors"][0]["pointer"] == "/target/reps"


def test_address_and_formulas_follow_the_form(desk: Watched, served: Live) -> None:
    operation = opened(desk.page, "load-for-reps")
    operation.locator(".address > summary").click()
    form = operation.locator("form").last
    link = form.locator(".link")
    path = link.inner_text().removeprefix(desk.address)
    load = served.post("/v1/load-for-reps", operation.locator(".body").input_value().encode()).json()["load"]
    assert json.loads(served.ask("GET", path).body) == load["value"]
    commas, semicolons = (formula.inner_text() for formula in form.locator(".formula").all())
    assert commas == f'=NUMBERVALUE(WEBSERVICE("{link.inner_text()}"),".",",")'
    assert semicolons == commas.replace('),".",', ');".";')
    operation.locator(".example").select_option(index=1)
    form.locator(".select").fill("/load/low")
    changed = link.inner_text().removeprefix(desk.address)
    other = served.post("/v1/load-for-reps", operation.locator(".body").input_value().encode()).json()["load"]
    assert other != load
    assert json.loads(served.ask("GET", changed).body) == other["low"]


def test_long_formulas_are_cut_into_texts_that_a_cell_takes(desk: Watched) -> None:
    """A text in a formula has at most 255 characters (vendors' limit)."""
    open_all(desk.page)
    formulas = desk.page.locator(".formula").all_inner_texts()
    assert max(map(len, formulas)) > 400
    assert max(len(text) for formula in formulas for text in formula.split('"')) <= 255


def test_key_goes_with_the_question_only_where_one_is_given(desk: Watched) -> None:
    form = opened(desk.page, "bar-loading").locator("form").first
    for key in ("", "key-of-a-test"):
        desk.page.get_by_label("API key").fill(key)
        with desk.page.expect_request(f"{desk.address}/v1/bar-loading") as sent:
            form.get_by_role("button", name="Send", exact=True).click()
        assert sent.value.headers.get("authorization") == (f"Bearer {key}" if key else None)


def test_link_in_the_contents_opens_its_operation(desk: Watched) -> None:
    desk.page.locator("nav a[href='#tempo']").click()
    expect(desk.page.locator("#tempo-body")).to_be_visible()


def test_keyboard_alone_is_enough(desk: Watched) -> None:
    """From the top of the page to an answer and back to the question, and what has the focus is always marked."""
    page = desk.page
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    reached = []
    for key in ["Tab", "Enter", "Tab", "Tab", "Tab"]:
        page.keyboard.press(key)
        reached.append(page.evaluate(NAMED))
        tag, line, colour, width = page.evaluate(OUTLINE)
        assert (line, width) == ("solid", 3), tag
        marked = Shown(
            tag, "edge", colour, page.evaluate("() => getComputedStyle(document.body).backgroundColor"), 0, 0
        )
        assert marked.ratio >= marked.least
    assert reached[:4] == [MAIN_JOB, MAIN_JOB, f"{MAIN_JOB}-example", f"{MAIN_JOB}-body"]
    assert page.evaluate("() => document.activeElement.textContent") == "Send"
    page.keyboard.press("Space")
    status, answer = answer_of(page.locator(f"#{MAIN_JOB}-form"))
    expect(status).to_have_text(ANSWERED)
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+Home")
    page.keyboard.press("Delete")
    page.keyboard.press("Control+Enter")
    expect(status).to_have_text(re.compile("^Refused: 4"))
    for _ in range(3):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.className") == "answer":
            break
    expect(answer).to_be_focused()


def test_contrast_is_enough_in_both_colour_schemes(desk_in: Watched) -> None:
    page = desk_in.page
    open_all(page)
    form = page.locator(f"#{MAIN_JOB} form").first
    form.locator(".body").fill("{}")
    form.get_by_role("button", name="Send", exact=True).click()
    expect(answer_of(form)[0]).to_have_text(re.compile("^Refused: 422"))
    found = shown_on(page)
    assert len([shown for shown in found if shown.kind == "edge"]) > 50
    assert len(found) > 300
    poor = {f"{shown.what} {shown.kind}: {shown.ratio:.2f}" for shown in found if shown.ratio < shown.least}
    assert poor == set()


def test_luminance_of_black_white_and_grey() -> None:
    """White and black by definition; #767676 on white is the well-known grey that just passes (from memory)."""
    assert (luminance("rgb(0, 0, 0)"), luminance("rgb(255, 255, 255)")) == pytest.approx((0, 1))
    grey = Shown("", "text", "rgb(118, 118, 118)", "rgb(255, 255, 255)", 16, 400)
    assert 4.5 < grey.ratio < 4.6


def test_phone_needs_no_scrolling_sideways(phone: Watched, artifacts: Path) -> None:
    page = phone.page
    open_all(page)
    for name in ("Send", "Send for a picture"):
        page.locator("#joint-demand").get_by_role("button", name=name, exact=True).first.click()
        expect(page.locator("#joint-demand .status").first).to_have_text(
            ANSWERED if name == "Send" else "Answered: 200, image/svg+xml"
        )
        width, room = page.evaluate("() => [document.documentElement.scrollWidth, window.innerWidth]")
        assert width <= room == 320
    page.locator("#joint-demand").screenshot(path=artifacts / "phone.png")


def test_phone_has_room_for_fingers(phone: Watched) -> None:
    open_all(phone.page)
    small = phone.page.evaluate(
        """(least) => [...document.querySelectorAll("button, summary, select, textarea, input, nav a")]
          .filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < least)
          .map((one) => one.outerHTML.slice(0, 80))""",
        EASY_TARGET,
    )
    assert small == []
