"""The page at /docs as a person reads it: guide, search, reference, by keyboard, on a phone, without a script."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import Browser, Page, expect

from service.api.docs.guide import guide
from tests.documentation.browser.conftest import PATIENCE, Watched
from tests.documentation.browser.contrast import Shown, luminance, shown_on
from tests.documentation.browser.forms import ANSWERED, MAIN_JOB, answer_of, open_all, opened, send
from tests.support.live import Live

EASY_TARGET: Final = 24  # [px] WCAG 2.2, 2.5.8
LANGUAGES: Final = {snippet.label: snippet.language for step in guide() for snippet in step.snippets}
STEPS: Final = len(guide())
OUTLINE: Final = """() => {
  const style = getComputedStyle(document.activeElement);
  return [document.activeElement.tagName, style.outlineStyle, style.outlineColor, parseFloat(style.outlineWidth)];
}"""
NAMED: Final = "() => document.activeElement.id || document.activeElement.parentElement.id"
IN_VIEW: Final = """(id) => {
  const { top, bottom } = document.getElementById(id).getBoundingClientRect();
  return top >= 0 && top < innerHeight && bottom > 0;
}"""


@pytest.fixture(autouse=True)
def patience() -> None:
    expect.set_options(timeout=PATIENCE)


def test_root_leads_a_browser_here(desk: Watched, artifacts: Path) -> None:
    desk.page.goto(f"{desk.address}/")
    assert desk.page.url == f"{desk.address}/docs"
    assert desk.page.title().startswith("Program adjustment")
    desk.page.screenshot(path=artifacts / "page.png")


def test_headings_go_down_a_step_at_a_time(desk: Watched) -> None:
    levels = desk.page.evaluate(
        "() => [...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map((one) => +one.tagName[1])"
    )
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))


# --- guide -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("label", LANGUAGES)
def test_language_is_chosen_once_for_every_request(desk: Watched, label: str) -> None:
    desk.page.get_by_label(label, exact=True).check()
    shown = desk.page.locator(".step:not(#guide-mistakes) .snippet:visible")
    assert shown.evaluate_all("(all) => all.map((one) => one.dataset.language)") == [LANGUAGES[label]] * STEPS
    desk.page.reload()
    expect(desk.page.get_by_label(label, exact=True)).to_be_checked()


def test_requests_of_the_guide_ask_this_server(desk: Watched, served: Live) -> None:
    addresses = desk.page.locator(".snippet pre").evaluate_all(
        "(all) => all.flatMap((one) => one.textContent.match(/http:..[^/]*/g))"
    )
    assert set(addresses) == {desk.address}
    desk.page.get_by_label("curl", exact=True).check()
    for step in ("pain", "adjust", "week"):
        text = desk.page.locator(f"#guide-{step} .snippet:visible pre").inner_text()
        found = re.search(r"'http://[^/]*(/[^']*)'.* -d '(.*)'", text, re.DOTALL)
        assert found is not None
        reply = served.ask("POST", found[1], found[2].encode(), {"content-type": "application/json"})
        assert reply.status == 200
        assert reply.json() == next(one.answer for one in guide() if one.id == step)


def test_what_is_copied_is_what_is_shown(desk: Watched) -> None:
    desk.page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=desk.address)
    desk.page.get_by_label("Python", exact=True).check()
    step = desk.page.locator("#guide-adjust")
    button = step.locator(".snippet:visible").get_by_role("button", name="Copy")
    button.click()
    expect(button).to_have_text("Copied")
    copied = desk.page.evaluate("() => navigator.clipboard.readText()")
    assert copied == step.locator(".snippet:visible pre").text_content()
    compile(copied, "snippet", "exec")
    expect(button).to_have_text("Copy")


def test_every_block_of_code_has_its_button(desk: Watched) -> None:
    without = desk.page.locator("pre").evaluate_all(
        "(all) => all.filter((one) => !one.previousElementSibling?.matches('button.copy')).map((one) => one.outerHTML)"
    )
    assert without == []
    assert desk.page.locator("pre").count() > 100


# --- search ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("wanted", "first", "address"),
    [
        ("POST session review", "POST /v1/session-review", "#session-review"),
        ("reps_in_reserve", "reps_in_reserve", ".reps_in_reserve"),
        ("Front squat", "front_squat", "#ExerciseId.front_squat"),
        ("bladder", "bladder_change", "#SignId.bladder_change"),
        ("quota-exceeded", "quota-exceeded", "#problem-quota-exceeded"),
        ("RateLimit", "RateLimit", "#header-RateLimit"),
        ("stop_at_sign", "stop_at_sign", "/v1/messages/stop_at_sign"),
    ],
)
def test_search_leads_there(desk: Watched, wanted: str, first: str, address: str) -> None:
    desk.page.get_by_label("Search").fill(wanted)
    found = desk.page.locator("#search-results a").first
    expect(found.locator("code")).to_have_text(first)
    assert (found.get_attribute("href") or "").endswith(address)
    found.click()
    if not address.startswith("/"):
        place = desk.page.url.partition("#")[2]
        desk.page.wait_for_function(IN_VIEW, arg=place)
        expect(desk.page.locator("#search-results a")).to_have_count(0)
    else:
        assert desk.page.url == f"{desk.address}{address}"


def test_search_goes_by_keyboard_and_says_how_many(desk: Watched) -> None:
    page = desk.page
    page.keyboard.press("/")
    expect(page.get_by_label("Search")).to_be_focused()
    page.keyboard.type("dorsiflexion")
    expect(page.locator("#search-status")).to_have_text(re.compile(r"^\d+ found$"))
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator("#search-results a").nth(1)).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.wait_for_function("() => location.hash.length > 1")
    page.wait_for_function(IN_VIEW, arg=page.url.partition("#")[2])
    page.keyboard.press("/")
    page.keyboard.type("no such thing anywhere")
    expect(page.locator("#search-status")).to_have_text("0 found")
    page.keyboard.press("Escape")
    expect(page.locator("#search-status")).to_have_text("")
    expect(page.get_by_label("Search")).to_have_value("")


# --- reference -------------------------------------------------------------------------------------------------------
def test_link_in_the_contents_opens_its_operation(desk: Watched) -> None:
    desk.page.locator("nav a[href='#tempo']").click()
    expect(desk.page.locator("#tempo-body")).to_be_visible()


def test_types_lead_from_shape_to_shape(desk: Watched) -> None:
    operation = opened(desk.page, MAIN_JOB)
    for step in ("Adjustments.prescription", "Prescription.reps"):
        field = desk.page.locator(f"dt[id='{step}'] + dd")
        name = field.locator("a").first.inner_text()
        field.locator("a").first.click()
        assert desk.page.url.endswith(f"#shape-{name}")
        desk.page.wait_for_function(IN_VIEW, arg=f"shape-{name}")
    expect(desk.page.locator("dt[id='RepRange.low'] b")).to_have_text("required")
    expect(desk.page.locator("dt[id='RepRange.low'] + dd")).to_contain_text("whole number, 1 to")
    assert operation.locator("dt[id='Adjustments.prescription']").count() == 1


def test_a_value_in_a_closed_list_is_opened_by_its_link(desk: Watched) -> None:
    value = desk.page.locator("dt[id='ExerciseId.front_squat']")
    expect(value).to_be_hidden()
    desk.page.goto(f"{desk.address}/docs#ExerciseId.front_squat")
    expect(value).to_be_visible()


def test_everything_can_be_read_without_a_script(browser: Browser, served: Live) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"http://127.0.0.1:{served.port}/docs#Prescription.load")
    expect(page.locator("dt[id='Prescription.load']")).to_be_in_viewport()
    expect(page.get_by_label("Search")).to_be_hidden()
    page.get_by_label("Kotlin", exact=True).check()
    expect(page.locator("#guide-adjust .snippet:visible")).to_have_attribute("data-language", "kotlin")
    context.close()


# --- keyboard, colours, phone ----------------------------------------------------------------------------------------
def test_keyboard_alone_is_enough(desk: Watched) -> None:
    """From the contents to an answer and back to the question, and what has the focus is always marked."""
    page = desk.page
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate(NAMED) == "language-curl"
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Python", exact=True)).to_be_checked()
    page.locator(f"nav a[href='#{MAIN_JOB}']").focus()
    page.keyboard.press("Enter")
    expect(page.locator(f"#{MAIN_JOB}")).to_have_attribute("open", "")
    reached = []
    for key in ["Tab", "Tab", "Tab"]:
        page.keyboard.press(key)
        reached.append(page.evaluate(NAMED))
        tag, line, colour, width = page.evaluate(OUTLINE)
        assert (line, width) == ("solid", 3), tag
        marked = Shown(
            tag, "edge", colour, page.evaluate("() => getComputedStyle(document.body).backgroundColor"), 0, 0
        )
        assert marked.ratio >= marked.least
    assert reached[:2] == [f"{MAIN_JOB}-example", f"{MAIN_JOB}-body"]
    assert page.evaluate("() => document.activeElement.textContent") == "Send"
    page.keyboard.press("Space")
    status, answer = answer_of(page.locator(f"#{MAIN_JOB}-post"))
    expect(status).to_have_text(ANSWERED)
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+Home")
    page.keyboard.press("Delete")
    page.keyboard.press("Control+Enter")
    expect(status).to_have_text(re.compile("^Refused: 4"))
    for _ in range(6):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.className") == "answer":
            break
    expect(answer).to_be_focused()


def test_contrast_is_enough_in_both_colour_schemes(desk_in: Watched) -> None:
    page = desk_in.page
    open_all(page)
    form = page.locator(f"#{MAIN_JOB} form").first
    form.locator(".body").fill("{}")
    send(form)
    expect(answer_of(form)[0]).to_have_text(re.compile("^Refused: 422"))
    page.get_by_label("Search").fill("load")
    expect(page.locator("#search-results a").first).to_be_visible()
    found = shown_on(page)
    assert len([shown for shown in found if shown.kind == "edge"]) > 50
    assert len(found) > 5_000
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
    form = page.locator("#joint-demand form").first
    for name, answered in (("Send", ANSWERED), ("Send for a picture", "Answered: 200, image/svg+xml")):
        send(form, name)
        expect(answer_of(form)[0]).to_have_text(answered)
        fits(page)
    page.screenshot(path=artifacts / "phone.png")
    page.get_by_label("Search").fill("pain in session")
    expect(page.locator("#search-results a").first).to_be_visible()
    fits(page)
    for language in LANGUAGES:
        page.get_by_label(language, exact=True).check()
        fits(page)


def fits(page: Page) -> None:
    width, room = page.evaluate("() => [document.documentElement.scrollWidth, window.innerWidth]")
    assert width <= room == 320


def test_phone_has_room_for_fingers(phone: Watched) -> None:
    open_all(phone.page)
    small = phone.page.evaluate(
        """(least) => [...document.querySelectorAll("button, summary, select, textarea, input, nav a, .search a")]
          .filter((one) => one.checkVisibility())
          .filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < least)
          .map((one) => one.outerHTML.slice(0, 80))""",
        EASY_TARGET,
    )
    assert small == []
