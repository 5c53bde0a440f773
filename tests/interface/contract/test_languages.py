"""Answers in another language: chosen by header or query, in every form, with English beside what tells to stop."""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest
from httpx import Response
from litestar.testing import TestClient

from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.app import create_asgi
from service.knowledge.signs import SIGNS
from service.messages import Message, speaking, text_of
from service.messages.catalogue import BOOKS, CATALOGUE, accompanied
from service.settings import Settings

app: TestClient[Any] = TestClient(create_asgi(Settings()), raise_server_exceptions=False)
SPANISH: Final = {"accept-language": "es"}
EXAMPLES: Final = [(operation, example) for operation in OPERATIONS for example in operation.examples]
REPORTED: Final = [(operation, example) for operation, example in EXAMPLES if operation.report]
BY_NAME: Final = {operation.name: operation for operation in OPERATIONS}
ENGLISH_STAYS: Final = {
    "interval",  # what a span means
    "unit",
    "label",  # names of the client's own
    "labels",
    "reference",
    "equation",
    "published",  # quotations of studies
    "studies",
}
"""Fields whose texts are English in every language."""
OF_VALUES_ALONE: Final = "method_relation"
"""A sentence of nothing but an id and an equation."""
CELL: Final = "/v1/bar-loading?target=100kg&bar=20kg&as=text&select=/cautions/0/text"


def ask(name: str, question: dict[str, Any], query: str = "", **headers: str) -> Response:
    return app.post(f"/v1/{name}{query}", json=question, headers={"accept-language": "es", **headers})


def messages(part: Any) -> Iterator[dict[str, Any]]:  # noqa: ANN401 - any JSON
    if isinstance(part, dict):
        if part.keys() == {"code", "values", "text"}:
            yield part
        for inner in part.values():
            yield from messages(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from messages(inner)


def alike(english: Any, spanish: Any, name: str = "") -> Iterator[tuple[str, str]]:  # noqa: ANN401 - any JSON
    """Texts of several words that are the same in both, by the field that holds them."""
    if name in ENGLISH_STAYS or (isinstance(english, dict) and english.get("code") == OF_VALUES_ALONE):
        return
    if isinstance(english, dict):
        for key, inner in english.items():
            yield from alike(inner, spanish[key], key)
    elif isinstance(english, list):
        said = spanish[1:] if name == "cautions" and len(spanish) > len(english) else spanish
        assert len(said) == len(english)
        for one, other in zip(english, said, strict=True):
            yield from alike(one, other, name)
    elif isinstance(english, str) and " " in english and english == spanish:
        yield name, english


def is_spanish(answer: Any) -> None:  # noqa: ANN401 - any JSON
    for one in messages(answer):
        assert one["code"] in BOOKS["es"].own
        assert one["text"] == text_of(one["code"], one["values"], "es")


@pytest.mark.parametrize(("operation", "example"), EXAMPLES, ids=lambda part: part.name)
def test_an_answer_says_the_same_in_spanish_and_nothing_in_english(operation: Any, example: Any) -> None:  # noqa: ANN401
    english = app.post(operation.path, json=example.request)
    spanish = ask(operation.name, example.request)
    assert (english.headers["content-language"], spanish.headers["content-language"]) == ("en", "es")
    assert spanish.json()["cautions"][0]["code"] == "language_not_reviewed"
    is_spanish(spanish.json())
    assert list(alike(english.json(), spanish.json())) == []
    again = app.post(operation.path, json=example.request)
    assert again.content == english.content


@pytest.mark.parametrize("reader", ["lifter", "practitioner"])
@pytest.mark.parametrize(("operation", "example"), REPORTED, ids=lambda part: part.name)
def test_a_report_is_in_spanish_and_says_that_nobody_reviewed_it(operation: Any, example: Any, reader: str) -> None:  # noqa: ANN401
    page = ask(operation.name, example.request, f"?as=html&for={reader}")
    text = ask(operation.name, example.request, f"?as=markdown&for={reader}").text
    assert '<html lang="es">' in page.text
    unreviewed = text_of("language_not_reviewed", {}, "es")
    assert unreviewed in page.text.replace("&#34;", '"').partition("</header>")[0]
    assert unreviewed in "\n".join(text.splitlines()[:8]).replace("\\", "")
    english = app.post(f"{operation.path}?as=markdown&for={reader}", json=example.request).text
    assert set(re.findall("^## .*", text, re.MULTILINE)).isdisjoint(re.findall("^## .*", english, re.MULTILINE))
    assert '<html lang="en">' in app.post(f"{operation.path}?as=html", json=example.request).text


def test_a_course_of_care_in_spanish() -> None:
    """A consultation, a review of what came of it, and the way back, each from the answer before."""
    asked = BY_NAME["adjustments"].examples[0].request
    adjusted = ask("adjustments", asked).json()
    new = adjusted["options"][0]["prescription"]
    review = {
        "prescription": new,
        "original": asked["prescription"],
        "lifter": asked["lifter"],
        "region": asked["complaint"]["region"],
        "sessions": [{"pain_in_session": 1, "pain_next_morning": 0}] * 2,
    }
    reviewed = ask("session-review", review).json()
    plan = {name: review[name] for name in ("original", "lifter", "region")} | {"adjusted": new}
    planned = ask("return-plan", plan).json()
    for answer in (adjusted, reviewed, planned):
        is_spanish(answer)
        assert len(list(messages(answer))) > 5
    for name, question in (("adjustments", asked), ("session-review", review), ("return-plan", plan)):
        for reader in ("lifter", "practitioner"):
            page = ask(name, question, f"?as=html&for={reader}")
            assert (page.status_code, page.headers["content-language"]) == (200, "es")


# --- what nobody may misread -----------------------------------------------------------------------------------------
def test_signs_stand_beside_english() -> None:
    listed = {one["id"]: one for one in app.get("/v1/signs", headers=SPANISH).json()["signs"]}
    plain = {one["id"]: one for one in app.get("/v1/signs").json()["signs"]}
    assert listed.keys() == plain.keys() == SIGNS.keys()
    for one, english in plain.items():
        for field in ("text", "what_to_do", "stop_rule"):
            assert listed[one][field].endswith(f" (English: {english[field]})")
            assert not listed[one][field].startswith(english[field][:20])


@pytest.mark.parametrize(
    "change",
    [{"signs": ["saddle_numbness"]}, {"signs": ["pain_that_wakes"]}, {"pain_in_session": 9}, {"pain_at_rest": 6}],
)
def test_where_training_stops_english_stands_beside_every_such_sentence(change: dict[str, Any]) -> None:
    asked = BY_NAME["adjustments"].examples[0].request
    question = asked | {"complaint": asked["complaint"] | change}
    answer = ask("adjustments", question).json()
    assert answer["decision"] in ("refer", "pause_and_review")
    stops = [one for one in messages(answer) if accompanied(one["code"])]
    assert stops
    for one in stops:
        assert text_of(one["code"], one["values"]) in one["text"]
    english, spanish = (
        app.post("/v1/adjustments?as=markdown", json=question, headers={"accept-language": tag}).text
        for tag in ("en", "es")
    )
    sections = ("heading_when_to_stop", "heading_training_until_then")
    said = [f"## {CATALOGUE[code].text({})}" for code in sections]
    stop_lines = next(
        part for part in english.split("\n\n") if any(part.startswith(one) for one in said) or part[:2] == "- "
    )
    for line in re.findall("^- (.*)", stop_lines, re.MULTILINE):
        assert line in spanish
    assert re.search(r"^\*\*.+ \(English: .+\)\.\*\*$", spanish, re.MULTILINE)


# --- how it is chosen ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("accepted", "language"),
    [
        ("es", "es"),
        ("ES-mx", "es"),
        ("es-419, en;q=0.5", "es"),
        ("fr, es;q=0.5, en;q=0.4", "es"),
        ("es, *;q=0.1", "es"),
        ("en;q=0.2, es;q=0.1", "en"),
        ("en-GB,en;q=0.9,es;q=0.8", "en"),
        ("es;q=0, en;q=0.1", "en"),
        ("es;q=0", "en"),
        ("es;q=0.5, *;q=0.8", "en"),
        ("de", "en"),
        ("*", "en"),
        ("est", "en"),
        ("", "en"),
        ("-,;q=;,es-", "es"),
        ("es;q=nan", "en"),
        ("es;q=1e400", "en"),
        ("es;q=-1", "en"),
        ("\xff\x80;q=\xff", "en"),
        ("a" * 50_000, "en"),
        ("es-" * 20_000, "es"),
        (";" * 50_000, "en"),
        ("x," * 30_000 + "es", "en"),
    ],
)
def test_the_header_chooses_and_never_breaks_anything(accepted: str, language: str) -> None:
    for path in (CELL, "/v1/signs"):
        found = app.get(path, headers=[(b"accept-language", accepted.encode("latin-1"))])
        assert (found.status_code, found.headers["content-language"]) == (200, language)
        assert "accept-language" in found.headers["vary"].split(", ")


@pytest.mark.parametrize("path", [CELL, "/v1/signs", "/v1/messages/pause_stop", "/v1/exercises", "/v1/regions/knee"])
def test_the_query_outranks_the_header_and_tags_differ(path: str) -> None:
    joined = "&" if "?" in path else "?"
    spanish = app.get(f"{path}{joined}language=es", headers={"accept-language": "en"})
    english = app.get(f"{path}{joined}language=en", headers=SPANISH)
    assert (spanish.headers["content-language"], english.headers["content-language"]) == ("es", "en")
    assert spanish.content != english.content
    assert spanish.headers["etag"] != english.headers["etag"]
    assert app.get(path, headers=SPANISH).content == spanish.content
    same = app.get(path, headers=SPANISH | {"if-none-match": spanish.headers["etag"]})
    other = app.get(path, headers=SPANISH | {"if-none-match": english.headers["etag"]})
    assert (same.status_code, other.status_code) == (304, 200)


def test_tables_and_batches_are_in_the_language_as_well() -> None:
    example = BY_NAME["bar-loading"].examples[0].request
    batch = app.post("/v1/batch?language=es", json={"requests": [{"operation": "bar-loading", "body": example}]})
    is_spanish(batch.json())
    table = app.post(
        "/v1/tables/bar-loading?language=es",
        content="target,bar\n100kg,20kg\n",
        headers={"content-type": "text/csv"},
    )
    for found in (batch, table):
        assert (found.status_code, found.headers["content-language"]) == (200, "es")
        assert text_of("not_a_diagnosis", {}, "es").partition(",")[0] in found.text


@pytest.mark.parametrize("stated", ["de", "", "ES", "es&language=es", "es&language=en"])
def test_a_language_that_is_none_is_refused_by_name(stated: str) -> None:
    example = BY_NAME["bar-loading"].examples[0].request
    asked = [
        (422, app.get(f"{CELL.replace('as=text&select=/cautions/0/text', 'as=json')}&language={stated}")),
        (422, app.post(f"/v1/bar-loading?language={stated}", json=example)),
        (422, app.post(f"/v1/tables/tempo?language={stated}", content="", headers={"content-type": "text/csv"})),
        (400, app.post(f"/v1/batch?language={stated}", json={"requests": []})),
        (400, app.get(f"/v1/signs?language={stated}")),
        (400, app.get(f"/v1/exercises/front_squat?language={stated}")),
    ]
    for status, found in asked:
        assert found.status_code == status, found.text
        assert "language" in found.text
        assert "en, es" in found.text or "once" in found.text


def test_where_nothing_is_said_no_language_is_taken() -> None:
    for path in ("/v1/sources", "/v1/relations"):
        assert app.get(f"{path}?language=es").status_code == 400
        assert "content-language" not in app.get(path, headers=SPANISH).headers


def test_pictures_and_problems_are_in_english() -> None:
    asked = BY_NAME["adjustments"].examples[0].request
    spanish, english = (ask("adjustments", asked, "?as=svg"), app.post("/v1/adjustments?as=svg", json=asked))
    assert spanish.content == english.content
    assert spanish.headers["content-language"] == "en"
    assert ask("adjustments", {}).json()["title"] == app.post("/v1/adjustments", json={}).json()["title"]


def test_the_languages_are_listed_with_how_much_they_say() -> None:
    listed = app.get("/v1/messages?language=es").json()
    english, spanish = listed["languages"]
    assert (english["language"], english["reviewed"], english["sentences"]) == ("en", True, len(listed["messages"]))
    assert (spanish["language"], spanish["name"], spanish["reviewed"]) == ("es", "español", False)
    assert spanish["sentences"] == sum(one["language"] == "es" for one in listed["messages"])
    for one in listed["messages"]:
        assert (" (English: " in one["text"]) == one["english_beside"]


# --- one answer after another ----------------------------------------------------------------------------------------
def test_no_sentence_is_kept_from_one_answer_to_the_next() -> None:
    """Of an answer in Spanish nothing is left that an English one could take up: what is kept holds no sentences."""
    fixed = {code for code, template in CATALOGUE.items() if not template.kinds}
    before = {id(one) for one in gc.get_objects() if type(one) is Message}
    for operation, example in EXAMPLES:
        request = Reader(operation.request).read(msgspec.json.encode(example.request))
        with speaking("es"):
            operation.compute(request)
    gc.collect()
    kept = {one.code for one in gc.get_objects() if type(one) is Message and id(one) not in before}
    assert kept <= fixed
