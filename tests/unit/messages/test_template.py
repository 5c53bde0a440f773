"""A template is refused where it cannot be filled, and takes exactly the values that it describes."""

from __future__ import annotations

import re
from typing import Final

import pytest

from service.knowledge.loader import UnusableData
from service.knowledge.message_templates import MessageTemplate
from service.messages.kinds import single_kinds
from service.messages.names import english
from service.messages.template import Template

SINGLE: Final = single_kinds(english())


def template(text: str, **values: str | tuple[str]) -> Template:
    return Template("code", MessageTemplate(text, values), SINGLE)


@pytest.mark.parametrize(
    ("text", "values", "fault"),
    [
        ("At {pain} of 10.", {}, "The place `pain` is not described"),
        ("At once.", {"pain": "number"}, "No place for the value `pain`"),
        ("At {pain} of 10.", {"pain": "figure"}, "No kind of value is called `figure`"),
        ("At {pain:upwards} of 10.", {"pain": "number"}, "A place has a form that its kind has not"),
        ("The {region:loud}.", {"region": "region"}, "A place has a form that its kind has not"),
        ("At {pain of 10.", {"pain": "number"}, "expected '}' before end of string"),
    ],
)
def test_what_cannot_be_filled_stops_the_start(text: str, values: dict[str, str], fault: str) -> None:
    with pytest.raises(UnusableData, match=re.escape(fault)):
        template(text, **values)


@pytest.mark.parametrize("values", [{}, {"pain": 3, "more": 1}, {"more": 1}])
def test_other_values_than_described_are_refused(values: dict[str, float]) -> None:
    with pytest.raises(TypeError, match="code takes the values pain, not"):
        template("At {pain} of 10.", pain="number").shown(values)


@pytest.mark.parametrize("value", ["3", True, None, float("nan")])
def test_a_value_of_another_kind_is_refused(value: object) -> None:
    with pytest.raises(TypeError):
        template("At {pain} of 10.", pain="number").shown({"pain": value})


def test_an_id_that_has_no_words_is_refused() -> None:
    with pytest.raises(KeyError):
        template("The {region}.", region="region").shown({"region": "elsewhere"})


@pytest.mark.parametrize(("names", "text"), [(["knee"], "knee"), (["knee", "hip"], "knee and hip")])
def test_a_list_is_written_as_people_say_it(names: list[str], text: str) -> None:
    assert template("{regions}", regions=("region",)).text({"regions": names}) == text


@pytest.mark.parametrize(
    ("lifts", "text"),
    [(["pull_up"], "Pull-up stays: do it."), (["pull_up", "barbell_row"], "Pull-up and barbell row stay: do them.")],
)
def test_words_go_with_how_many_a_list_has_and_it_begins_with_one_capital(lifts: list[str], text: str) -> None:
    sentence = template("{lifts:start} {lifts:stays|stay}: do {lifts:it|them}.", lifts=("exercise",))
    assert sentence.text({"lifts": lifts}) == text


@pytest.mark.parametrize(("count", "text"), [(1, "1 set"), (2, "2 sets"), (0, "0 sets")])
def test_a_word_goes_with_its_number(count: int, text: str) -> None:
    assert template("{sets} {sets:set|sets}", sets="number").text({"sets": count}) == text


@pytest.mark.parametrize(("degrees", "text"), [(-0.2, "0 degrees"), (-0.6, "-1 degrees"), (1.2, "1 degree")])
def test_nothing_is_less_than_nothing(degrees: float, text: str) -> None:
    words = template("{lean:.0f}", lean="quantity").text({"lean": {"value": degrees, "unit": "deg"}})
    assert words == text
