"""Requests in each language say what is asked, whatever stands in it."""

from __future__ import annotations

import ast
import json
import shlex
from typing import Final

from service.api.docs.guide.models import Message, Snippet
from service.api.docs.guide.writing import WIDTH, cells, snippets, written

QUESTION: Final = {
    "a": [1, 2.5, True, None],
    "it's": 'the "one"',
    "long": [{"name": "x" * 60, "value": 1}] * 3,
    "b": {},
}


def test_json_is_the_same_on_fewer_lines() -> None:
    text = written(QUESTION)
    assert json.loads(text) == QUESTION
    assert '  "a": [1, 2.5, true, null],' in text.splitlines()
    assert max(map(len, text.splitlines())) <= WIDTH
    assert written({"value": 1}) == '{"value": 1}'


def by_language(message: Message) -> dict[str, Snippet]:
    return {snippet.language: snippet for snippet in snippets(message)}


def test_python_states_the_question_as_its_own_literal() -> None:
    code = by_language(Message("POST", "/v1/rest", written(QUESTION)))["python"].code
    (assigned,) = (
        node
        for node in ast.parse(code).body
        if isinstance(node, ast.Assign) and "question" in ast.unparse(node.targets[0])
    )
    assert ast.literal_eval(assigned.value) == QUESTION


def test_a_shell_reads_the_body_as_it_is() -> None:
    body = written(QUESTION)
    words = shlex.split(by_language(Message("POST", "/v1/rest?fields=a,b", body))["curl"].code)
    assert words == [
        "curl",
        "-sS",
        "http://127.0.0.1:8000/v1/rest?fields=a,b",
        "-H",
        "content-type: application/json",
        "-d",
        body,
    ]
    assert shlex.split(by_language(Message("GET", "/v1/signs"))["curl"].code) == [
        "curl",
        "-sS",
        "http://127.0.0.1:8000/v1/signs",
    ]


def test_a_text_in_a_formula_is_short_and_the_number_reads_the_same_in_every_country() -> None:
    target = "/v1/rest?" + "x" * 600
    commas, semicolons = (cell.code for cell in cells(target, number=True))
    assert commas.startswith('=NUMBERVALUE(WEBSERVICE("http://127.0.0.1:8000/v1/rest?x')
    assert commas.endswith('x"),".",",")')
    assert semicolons.endswith('x");".";",")')
    pieces = commas.removeprefix('=NUMBERVALUE(WEBSERVICE("').removesuffix('"),".",",")').split('"&"')
    assert "".join(pieces) == f"http://127.0.0.1:8000{target}"
    assert max(map(len, pieces)) == 250


def test_a_text_in_a_cell_says_where_there_is_no_service() -> None:
    commas, semicolons = (cell.code for cell in cells("/v1/rest", number=False))
    assert commas == '=IFERROR(WEBSERVICE("http://127.0.0.1:8000/v1/rest"),"no answer")'
    assert semicolons == '=IFERROR(WEBSERVICE("http://127.0.0.1:8000/v1/rest");"no answer")'
