"""The words of the description: every shape, field, parameter and value in a sentence, none of which ends a comment."""

from __future__ import annotations

import re
import tomllib
from typing import Any, Final

import pytest

from tests.interface.clients.description import ENUMS, OPERATIONS, SCHEMAS
from tests.support.asking import objects
from tests.support.description import DOCUMENT, target
from tests.support.paths import ROOT

SENTENCE: Final = re.compile(r"[A-Z0-9].*[.?]", re.DOTALL)
VOCABULARY: Final = tomllib.loads((ROOT / "service" / "vocabulary.toml").read_text(encoding="utf-8"))
FIELDS_OF: Final = re.compile(r"Fields of (\w+) ")


def holder(schema: dict[str, Any]) -> dict[str, Any]:
    """The object that a field is, or holds a list of."""
    found = target(schema)
    while "properties" not in found:
        found = target(next(one for one in (found.get("items"), *found.get("anyOf", ())) if one))
    return found


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_shape_and_field_has_its_words(name: str) -> None:
    schema = SCHEMAS[name]
    assert SENTENCE.match(schema["description"])
    for field, found in schema.get("properties", {}).items():
        assert SENTENCE.fullmatch(found.get("description", "")), field


def test_every_parameter_and_header_has_its_words() -> None:
    listed = [one for operation in OPERATIONS.values() for one in operation["parameters"]]
    assert len(listed) > 500
    assert [one["name"] for one in listed if not SENTENCE.fullmatch(one["description"])] == []
    headers = DOCUMENT["components"]["headers"]
    assert [name for name, one in headers.items() if not SENTENCE.fullmatch(one["description"])] == []


@pytest.mark.parametrize("name", ENUMS)
def test_every_value_of_a_list_has_its_words(name: str) -> None:
    """In a sentence with the list; fields of an answer have them there."""
    schema = SCHEMAS[name]
    if found := FIELDS_OF.match(schema["description"]):
        for value in schema["enum"]:
            field, _, inner = value.partition(".")
            properties = SCHEMAS[found[1]]["properties"]
            assert field in properties
            assert not inner or inner in holder(properties[field])["properties"]
        return
    if name == "MessageId":
        assert "GET /v1/messages has its words" in schema["description"]
        return
    words = schema["x-enum-descriptions"]
    assert len(words) == len(schema["enum"])
    assert [text for text in words if not SENTENCE.fullmatch(text)] == []


def test_no_words_stand_in_the_vocabulary_in_vain() -> None:
    assert VOCABULARY.keys() <= ENUMS.keys()


def test_no_words_end_a_comment() -> None:
    """Into which generators put them; this sign ends it in most languages."""
    texts = [
        found[word] for found in objects(DOCUMENT) for word in ("description", "summary", "title") if word in found
    ]
    assert len(texts) > 1000
    assert [text for text in texts if isinstance(text, str) and "*/" in text] == []
