"""Each sentence of another language stands where the English one does, has its places, and can be said."""

from __future__ import annotations

import re
from string import Formatter
from typing import Any, Final

import pytest

from service.knowledge.languages import ACCOMPANIED, TRANSLATIONS
from service.knowledge.loader import DATA, read_toml
from service.knowledge.message_templates import FILES, PHRASES, TEMPLATES, WORDS
from service.messages.catalogue import BOOKS, accompanied, message
from service.messages.language import speaking

SENTENCES: Final = [
    (tag, file, code)
    for tag, translation in TRANSLATIONS.items()
    for file, said in translation.sentences.items()
    for code in said
]
OF_RECORDS: Final = {"signs", "cues"}
"""Files of what English has in the records of signs, urgencies, circumstances to confirm and cues."""
STOPS: Final = re.compile(
    r"\b(?:stop(?! rule)|stops|doctor|emergency|physical therapist|painkillers?|professional|clinician|midwife"
    r"|leave (?:it|the lift|this lift) out|looked at|warning signs?|red flag)\b",
    re.IGNORECASE,
)
OF_OTHER_THINGS: Final = {
    "cue_stop_above_the_chest",
    "cue_press_from_chin_height",
    "cue_bar_to_the_knees",
    "depth_above_bottom",
    "depth_above_chest",
    "ruled_out_range_of_motion_at_its_shortest",
    "assumed_stance",
    "assumed_urgency",
    "assumed_review_choices",
    "gate_repeat",
    "rule_review_due_instead",
}
"""Where a movement ends, and how we came to a number: nobody stops training by these."""


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def english(code: str) -> str:
    return TEMPLATES[code].text if code in TEMPLATES else PHRASES[code].text


def file_of(code: str) -> set[str]:
    if code in FILES or code in PHRASES:
        return {
            path.stem for path in (DATA / "messages").glob("*.toml") if path.stem != "words" and code in read_toml(path)
        }
    return OF_RECORDS


@pytest.mark.parametrize(("tag", "file", "code"), SENTENCES)
def test_a_sentence_has_the_places_of_the_english_one_and_stands_in_the_same_file(
    tag: str, file: str, code: str
) -> None:
    text = TRANSLATIONS[tag].sentences[file][code]
    assert places(text) == places(english(code))
    assert file in file_of(code)


@pytest.mark.parametrize(("tag", "file", "code"), SENTENCES)
def test_a_sentence_ends_and_begins_as_the_english_one(tag: str, file: str, code: str) -> None:
    text = TRANSLATIONS[tag].sentences[file][code]
    assert text.endswith(".") == english(code).endswith(".")
    assert text == " ".join(text.split())
    if re.match(r"[A-Z]", english(code)) and re.match(r"[^\W\d_]", text):
        assert text[0].isupper()


@pytest.mark.parametrize(("tag", "code"), [(tag, code) for tag in TRANSLATIONS for code in TEMPLATES])
def test_every_sentence_can_be_said_and_has_english_beside_it_where_it_may_not_stand_alone(tag: str, code: str) -> None:
    values: dict[str, Any] = BOOKS["en"].own[code].example
    with speaking(tag):
        said = message(code, **values)
    plain = message(code, **values)
    assert (said.code, said.values) == (plain.code, plain.values)
    assert said.text
    assert "{" not in said.text
    if accompanied(code):
        assert plain.text in said.text
    else:
        assert "(English:" not in said.text


@pytest.mark.parametrize("code", TEMPLATES)
def test_what_says_to_stop_or_to_see_somebody_has_english_beside_it(code: str) -> None:
    assert accompanied(code) or code in OF_OTHER_THINGS or not STOPS.search(TEMPLATES[code].text)


@pytest.mark.parametrize("tag", TRANSLATIONS)
def test_all_sentences_are_translated(tag: str) -> None:
    said = {code for one, _, code in SENTENCES if one == tag}
    translated = len(said & (TEMPLATES.keys() | PHRASES.keys())) / len(TEMPLATES.keys() | PHRASES.keys())
    assert translated == 1.0, sorted((TEMPLATES.keys() | PHRASES.keys()) - said)


@pytest.mark.parametrize("tag", TRANSLATIONS)
def test_words_are_those_of_the_same_ids(tag: str) -> None:
    words = TRANSLATIONS[tag].words
    assert {name: words[name].keys() for name in words} == {name: WORDS[name].keys() for name in WORDS}


def test_what_never_stands_alone_is_said_somewhere() -> None:
    assert set(ACCOMPANIED.codes) <= TEMPLATES.keys()
    assert set(ACCOMPANIED.files) <= set(FILES.values())
    assert all(any(code.startswith(begin) for code in TEMPLATES) for begin in ACCOMPANIED.begins)


@pytest.mark.parametrize(
    ("tag", "means", "said"),
    [
        ("en", [3.5, 2.5, 2], "The weekly means went 3.5, 2.5 and 2: not rising."),
        ("es", [3.5, 2.5, 2], "Las medias semanales fueron 3,5; 2,5 y 2: no suben."),
        ("es", [4, 3, 2], "Las medias semanales fueron 4, 3 y 2: no suben."),
    ],
)
def test_items_of_a_list_stay_apart_where_the_decimal_mark_is_a_comma(tag: str, means: list[float], said: str) -> None:
    with speaking(tag):
        assert message("review_weeks_not_rising", means=means).text == said
