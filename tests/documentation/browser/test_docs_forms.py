"""The forms of the page at /docs as a person uses them: sent, drawn, reported, and asked by address."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, Final

import pytest
from playwright.sync_api import Locator, expect

from tests.documentation.browser.conftest import PATIENCE, Watched
from tests.documentation.browser.forms import ANSWERED, MAIN_JOB, answer_of, open_all, opened, send
from tests.support.live import Live
from tests.support.paths import DESCRIPTION

DESCRIBED: Final[dict[str, Any]] = json.loads(DESCRIPTION.read_bytes())["paths"]
PICTURE: Final = "Send for a picture"
COLOURS: Final = """(one) => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 300, height: 200 });
  const context = canvas.getContext("2d");
  context.drawImage(one, 0, 0, 300, 200);
  const data = new Uint32Array(context.getImageData(0, 0, 300, 200).data.buffer);
  return new Set(data).size;
}"""


@pytest.fixture(autouse=True)
def patience() -> None:
    expect.set_options(timeout=PATIENCE)


def paths_with(media_type: str) -> list[str]:
    return [path for path, methods in DESCRIBED.items() if media_type in str(methods.get("post", {}).get("responses"))]


def test_demo_request_is_answered_and_shown(desk: Watched, served: Live, artifacts: Path) -> None:
    form = opened(desk.page, MAIN_JOB).locator("form").first
    question = form.locator(".body").input_value()
    send(form)
    status, answer = answer_of(form)
    expect(status).to_have_text(ANSWERED)
    expect(answer).to_be_visible()
    shown = json.loads(answer.inner_text())
    assert shown["decision"] == "adjust"
    assert shown == served.post(f"/v1/{MAIN_JOB}", question.encode()).json()
    desk.page.locator(f"#{MAIN_JOB}").screenshot(path=artifacts / "answer.png")


def test_every_operation_is_answered_as_it_stands_there(desk: Watched) -> None:
    forms = desk.page.locator("form")
    assert forms.count() == sum(len(methods) for methods in DESCRIBED.values())
    open_all(desk.page)
    for form in forms.all():
        send(form)
    refused = {}
    for form in forms.all():
        status, answer = answer_of(form)
        expect(status).to_have_text(re.compile("^(Answered|Refused|No answer)"))
        if not ANSWERED.match(status.inner_text()) or len(answer.inner_text()) == 0:
            refused[form.get_attribute("id")] = status.inner_text()
    assert refused == {}


def test_pictures_are_seen(desk: Watched, artifacts: Path) -> None:
    desk.page.set_viewport_size({"width": 1200, "height": 1400})  # higher than a picture
    drawn = paths_with("image/svg+xml")
    assert desk.page.get_by_text(PICTURE, exact=True).count() == len(drawn) > 2
    for path in drawn:
        form = opened(desk.page, path.removeprefix("/v1/")).locator("form").first
        send(form, PICTURE)
        expect(answer_of(form)[0]).to_have_text("Answered: 200, image/svg+xml")
        is_a_picture(form)
        form.locator(".picture").screenshot(path=artifacts / f"{form.get_attribute('id')}.png")


def is_a_picture(form: Locator) -> None:
    picture = form.locator(".picture")
    expect(picture).to_be_visible()
    picture.evaluate("(one) => one.decode()")
    width, height = picture.evaluate("(one) => [one.naturalWidth, one.naturalHeight]")
    assert min(width, height) > 100
    assert len(picture.get_attribute("alt") or "") > 10
    assert picture.evaluate(COLOURS) > 20  # an empty or unstyled picture has one or two


def test_pages_of_a_picture_are_chosen(desk: Watched) -> None:
    """As many as the answer says, each shown when it is chosen; a picture of one page offers none."""
    form = opened(desk.page, MAIN_JOB).locator("form").first
    with desk.page.expect_response(re.compile("as=svg")) as first:
        send(form, PICTURE)
    pages = int(first.value.headers["pages"])
    assert pages > 1
    choice = form.get_by_label("Page of the picture")
    assert choice.locator("option").all_inner_texts() == [f"{page} of {pages}" for page in range(1, pages + 1)]
    expect(form.locator(".picture")).to_have_attribute("alt", re.compile(f", page 1 of {pages}$"))
    with desk.page.expect_response(re.compile("page=2")):
        choice.select_option("2")
    expect(form.locator(".picture")).to_have_attribute("alt", re.compile(f", page 2 of {pages}$"))
    expect(choice).to_have_value("2")
    is_a_picture(form)
    send(form)
    expect(answer_of(form)[1]).to_be_visible()
    expect(choice).to_be_hidden()
    other = opened(desk.page, "load-for-reps").locator("form").first
    send(other, PICTURE)
    expect(other.locator(".picture")).to_be_visible()
    expect(other.get_by_label("Page of the picture")).to_be_hidden()


@pytest.mark.parametrize("audience", ["practitioner", "lifter"])
def test_reports_are_shown_with_their_own_style_and_saved(desk: Watched, audience: str, tmp_path: Path) -> None:
    button = f"Report for the {audience}"
    assert desk.page.get_by_text(button, exact=True).count() == len(paths_with("text/html")) > 2
    form = opened(desk.page, MAIN_JOB).locator("form").first
    send(form, button)
    expect(answer_of(form)[0]).to_have_text(re.compile("^Answered: 200, text/html"))
    assert form.locator(".report").get_attribute("sandbox") == ""
    report = form.frame_locator(".report")
    expect(report.locator(f"body.{audience} h1")).to_have_text("Change the training and go on")
    assert report.locator(".do").evaluate("(one) => getComputedStyle(one).borderLeftWidth") == "6px"
    assert report.locator("img").first.evaluate("(one) => one.complete && one.naturalWidth > 0")
    with desk.page.expect_download() as saved:
        form.get_by_role("link", name="Save the report as a file").click()
    saved.value.save_as(tmp_path / "report.html")
    assert "<h1>Change the training and go on</h1>" in (tmp_path / "report.html").read_text(encoding="utf-8")


def test_refusal_is_told(desk: Watched) -> None:
    form = opened(desk.page, "load-for-reps").locator("form").first
    body = form.locator(".body")
    body.fill(body.input_value().replace('"reps": 9', '"reps": 99'))
    send(form)
    status, answer = answer_of(form)
    expect(status).to_have_text(re.compile("^Refused: 422, application/problem"))
    assert json.loads(answer.inner_text())["errors"][0]["pointer"] == "/target/reps"


def test_address_and_formulas_follow_the_form(desk: Watched, served: Live) -> None:
    operation = opened(desk.page, "load-for-reps")
    operation.locator(".address > summary").click()
    form = operation.locator(".address form")
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


def test_what_a_list_is_cut_by_goes_into_its_address(desk: Watched) -> None:
    form = opened(desk.page, "signs").locator("form")
    for region, query in (("", ""), ("knee", "?region=knee")):
        form.get_by_label("region").select_option(region)
        with desk.page.expect_request(re.compile("/v1/signs")) as sent:
            send(form)
        assert sent.value.url == f"{desk.address}/v1/signs{query}"
        expect(answer_of(form)[0]).to_have_text(ANSWERED)


def test_long_formulas_are_cut_into_texts_that_a_cell_takes(desk: Watched) -> None:
    """A text in a formula has at most 255 characters (vendors' limit)."""
    open_all(desk.page)
    desk.page.get_by_label("Cell, with commas", exact=True).check()
    for formulas in (
        desk.page.locator(".formula").all_inner_texts(),
        desk.page.locator(".snippet[data-language=cell] pre").all_inner_texts(),
    ):
        assert max(map(len, formulas)) > 400
        assert max(len(text) for formula in formulas for text in formula.split('"')) <= 255


def test_key_goes_with_the_question_only_where_one_is_given(desk: Watched) -> None:
    form = opened(desk.page, "bar-loading").locator("form").first
    for key in ("", "key-of-a-test"):
        desk.page.get_by_label("API key").fill(key)
        with desk.page.expect_request(f"{desk.address}/v1/bar-loading") as sent:
            send(form)
        assert sent.value.headers.get("authorization") == (f"Bearer {key}" if key else None)
