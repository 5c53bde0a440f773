"""The documentation as one text: the guide, then every operation, shape and list of values, and no more."""

from __future__ import annotations

import re
from typing import Final

import pytest

from service.api.docs.as_text import MOST_VALUES, documentation
from service.api.docs.guide import guide, mistakes
from service.api.models.operation import Operation
from service.api.openapi.document import document
from service.api.operations.registry import OPERATIONS

TEXT: Final = documentation().decode()
DESCRIBED: Final = document()
SCHEMAS: Final = DESCRIBED["components"]["schemas"]
MOST: Final = 400_000
"""Characters, some 100,000 of the tokens that language models count."""


def headings(level: int) -> list[str]:
    prose = re.sub(r"^```.*?^```$", "", TEXT, flags=re.DOTALL | re.MULTILINE)
    return re.findall(rf"^{'#' * level} (.*)$", prose, re.MULTILINE)


def section(heading: str) -> str:
    """What stands under a heading, up to the next one."""
    found = re.search(rf"^#+ {re.escape(heading)}\n(.*?)(?=^#|\Z)", TEXT, re.DOTALL | re.MULTILINE)
    assert found, heading
    return found[1]


def test_the_guide_comes_first_then_what_goes_wrong_then_the_reference() -> None:
    title, *parts = headings(1)
    assert title.startswith("Program adjustment, version ")
    assert parts[:4] == ["Guide: one consultation", "What goes wrong, and the mend", "Problems", "The main job"]
    assert parts[-2:] == ["Shapes", "Lists of values"]


def test_its_size_is_bounded_and_said() -> None:
    assert len(TEXT) < MOST
    said = re.search(r"some ([\d,]+) characters", TEXT)
    assert said
    assert abs(int(said[1].replace(",", "")) - len(TEXT)) <= 5_000


def test_it_is_plain_markdown() -> None:
    fences = re.findall(r"^```.*$", TEXT, re.MULTILINE)
    assert len(fences) % 2 == 0
    assert set(fences[1::2]) == {"```"}
    assert not re.search(r"&(?:amp|lt|gt|quot|#\d+);", TEXT)
    assert "\n\n\n" not in TEXT
    assert not re.search(r"[.?:]:$", TEXT, re.MULTILINE)
    assert not re.search(
        r"\{[{%]|[}%]\}(?!\})", re.sub(r"^```.*?^```$|`[^`]*`", "", TEXT, flags=re.DOTALL | re.MULTILINE)
    )


def test_every_step_and_mistake_stands_with_its_requests() -> None:
    for step in guide():
        assert all(paragraph in TEXT for paragraph in step.paragraphs)
        assert step.shown in TEXT
        assert [snippet.code in TEXT for snippet in step.snippets if snippet.language in ("curl", "python")] == [
            True
        ] * 2
    for mistake in mistakes():
        assert mistake.shown in section(mistake.title)
        assert mistake.asked.body in section(mistake.title)
        assert mistake.mended.body in section(mistake.title)


@pytest.mark.parametrize("path", DESCRIBED["paths"])
def test_every_path_has_its_section(path: str) -> None:
    method = "POST" if "post" in DESCRIBED["paths"][path] else "GET"
    found = [heading for heading in headings(2) if heading.startswith(f"{method} {path}: ")]
    if path.startswith("/v1/tables/") and path != f"/v1/tables/{OPERATIONS[0].name}":
        assert found == []
        assert f"`{path}`" in TEXT
    else:
        assert len(found) == 1


@pytest.mark.parametrize("operation", OPERATIONS, ids=[operation.name for operation in OPERATIONS])
def test_every_operation_has_its_fields_an_example_and_its_address(operation: Operation) -> None:
    for name in (operation.request.__name__, operation.answer.__name__):
        schema = SCHEMAS[name]
        lines = {line[1]: line[2] for line in re.finditer(r"^- `(\w+)` \((.*?)\): ", section(name), re.MULTILINE)}
        assert list(lines) == list(schema["properties"])
        assert [field for field, said in lines.items() if said.startswith("required")] == [
            field for field in schema["properties"] if field in schema["required"]
        ]
    assert f"By address: `GET {operation.path}?" in TEXT
    assert all(example.summary in TEXT for example in operation.examples[:1])


def test_every_shape_but_those_of_a_batch_and_every_list_has_its_section() -> None:
    of_a_batch = {operation.title + kind for operation in OPERATIONS[1:] for kind in ("Item", "Result")}
    names = {*headings(2), *headings(3)}
    assert [name for name in SCHEMAS if name not in names | of_a_batch and not name.endswith("Fields")] == []


def test_every_value_has_its_sentence_where_the_list_is_not_the_catalogues() -> None:
    for name, schema in SCHEMAS.items():
        words = schema.get("x-enum-descriptions")
        if words and len(words) <= MOST_VALUES and not name.endswith("Fields"):
            assert all(
                f"- `{value}`: {said}\n" in section(name) for value, said in zip(schema["enum"], words, strict=True)
            )
