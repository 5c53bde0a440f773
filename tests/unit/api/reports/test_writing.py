"""A report written down: both readers, and whatever it says escaped."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from msgspec.structs import replace

from service.api.models.report import AUDIENCES, Audience, Choice, Report, SignsOf, Table
from service.api.reports.writing import markdown, page
from service.charts.elements.layout import Sheet

HOSTILE = "<script>alert(1)</script>\" onload='x' | [a](javascript:b) # *c* {{ 7 * 7 }}"


def report_saying(text: str) -> Report:
    return Report(
        title=text,
        decision=text,
        ask_first=[text],
        what_to_do=[text],
        when_to_stop=[text],
        why=[text],
        watch=[text],
        next_time=[text],
        signs=[SignsOf(text, [text])],
        meanwhile=[text],
        choices=[Choice(text, [text], [text], [text])] * 3,
        tables=[Table(text, [text, text], [[text, text]], for_lifter=one) for one in (True, False)],
        basis=[text],
        sources=[text],
        cautions=[text],
        lifters_cautions=[text],
    )


class Elements(HTMLParser):
    """The elements and attributes of a page, and the words in it."""

    def __init__(self) -> None:
        super().__init__()
        self.names: set[str] = set()
        self.attributes: set[str] = set()
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@pytest.mark.parametrize("audience", AUDIENCES)
def test_a_hostile_text_is_words_alone(audience: Audience) -> None:
    picture = Sheet(HOSTILE, HOSTILE, 560, 100, lambda _: ())
    hostile, usual = Elements(), Elements()
    hostile.feed(page(report_saying(HOSTILE), audience, [picture]))
    usual.feed(page(report_saying("As before."), audience, [picture]))
    assert hostile.names == usual.names
    assert hostile.attributes == usual.attributes
    assert "".join(hostile.words).count(HOSTILE) > 10
    assert "49" not in "".join(hostile.words)


@pytest.mark.parametrize("audience", AUDIENCES)
def test_marks_of_a_text_are_no_marks_of_markdown(audience: Audience) -> None:
    text, usual = (markdown(report_saying(said), audience) for said in (HOSTILE, "as before"))
    assert len(text.splitlines()) == len(usual.splitlines())
    assert not re.search(r"(?<!\\)[<>\[\]]", text)
    assert "49" not in text


def test_a_lifter_gets_no_numbers_and_no_basis() -> None:
    report = report_saying("said")
    assert "Basis" in page(report, "practitioner")
    assert "Basis" not in page(report, "lifter")
    assert page(report, "practitioner").count("<tbody>") == 2
    assert "## Basis" not in markdown(report, "lifter")


def test_sources_are_named_as_a_reader_knows_them() -> None:
    report = report_saying("It is so (downie_2013).")
    for written in (page(report, "lifter"), markdown(report, "practitioner")):
        assert "Downie et al. 2013" in written
        assert "downie" not in written


def test_a_lifter_gets_the_first_picture_alone() -> None:
    pictures = [Sheet(f"Page {number}", "What is drawn.", 560, 100, lambda _: ()) for number in range(3)]
    report = report_saying("said")
    assert [page(report, audience, pictures).count("<img") for audience in AUDIENCES] == [3, 1]
    assert 'alt="Page 0. What is drawn."' in page(report, "lifter", pictures)


def test_a_page_that_stops_everything_says_so_once() -> None:
    halted = replace(report_saying("Stop now."), stop=True, halted=True)
    pictures = [Sheet("Stop and refer", "The same words.", 560, 100, lambda _: ())]
    assert not any("<img" in page(halted, audience, pictures) for audience in AUDIENCES)
