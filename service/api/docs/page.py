"""The page at /docs: every operation of the description with forms to try it, from this service alone.

One page of plain HTML with its own small script and style: nothing is loaded from elsewhere, and the policy header that
goes with it forbids it. All forms are filled with the examples of the operations, which are one invented consultation.
"""

from __future__ import annotations

import json
import re
from functools import cache
from html import escape
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlencode

from service.api.openapi.document import document
from service.api.openapi.references import dereferenced
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import FORM, SELECT, QueryForm

HERE: Final = Path(__file__).parent
TEMPLATE: Final = (HERE / "page.html").read_text(encoding="utf-8")
POLICY: Final = "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
SCRIPT: Final = (HERE / "page.js").read_bytes()
STYLE: Final = (HERE / "page.css").read_bytes()
PICTURE: Final = "image/svg+xml"
MOST_IN_CONTENTS: Final = 8
IN_A_CELL: Final = (
    '<p>Address: <a class="link"></a></p>'
    "<p>In a cell, where formulas take commas, and where they take semicolons. "
    "Where the part is a text, leave <code>NUMBERVALUE</code> out; a value from another cell goes in as "
    "<code>&quot;&amp;ENCODEURL(A1)&amp;&quot;</code>.</p>"
    '<pre class="formula" role="region" tabindex="0" aria-label="Formula with commas"></pre>'
    '<pre class="formula" role="region" tabindex="0" aria-label="Formula with semicolons"></pre>'
)
ANSWER: Final = (
    '<p class="status" role="status"></p><img class="picture" alt="" hidden>'
    '<pre class="answer" role="region" tabindex="0" aria-label="Answer" hidden></pre>'
)
HEADER: Final = "header"


@cache
def page() -> bytes:
    """The page, made once from the description."""
    described = dereferenced(document())
    sections, contents = [], []
    for number, tag in enumerate(described["tags"]):
        paths = {
            path: methods
            for path, methods in described["paths"].items()
            if any(tag["name"] in found["tags"] for found in methods.values())
        }
        if paths:
            name, place = escape(tag["name"]), f"section-{number}"
            shown = "".join(_path(path, methods) for path, methods in paths.items())
            sections.append(
                f'<section id="{place}"><h2>{name}</h2><p>{escape(tag["description"])}</p>{shown}</section>'
            )
            contents.append(f'<li><a href="#{place}">{name}</a>{_contents(paths)}</li>')
    info = described["info"]
    introduction = "".join(f"<p>{_with_code(part)}</p>" for part in info["description"].split("\n\n"))
    return (
        TEMPLATE.replace("{{title}}", escape(info["title"]))
        .replace("{{version}}", escape(info["version"]))
        .replace("{{introduction}}", introduction)
        .replace("{{contents}}", "".join(contents))
        .replace("{{sections}}", "".join(sections))
        .encode()
    )


def _with_code(text: str) -> str:
    """A paragraph; what stands between backticks is code."""
    return re.sub(r"`([^`]*)`", r"<code>\1</code>", escape(text, quote=False))


def _contents(paths: dict[str, Any]) -> str:
    """Links to the operations of a section, unless they are too many to be found among."""
    if len(paths) > MOST_IN_CONTENTS:
        return ""
    links = (
        f'<li><a href="#{_key(path)}">{escape(_first(methods)["summary"])}</a></li>' for path, methods in paths.items()
    )
    return f"<ul>{''.join(links)}</ul>"


def _key(path: str) -> str:
    """The id of a path on the page."""
    return re.sub(r"[^a-z0-9]+", "-", path.removeprefix("/v1").lower()).strip("-")


def _first(methods: dict[str, Any]) -> Any:
    """What a path is for: a question with a body, where it takes one."""
    return methods.get("post", methods.get("get"))


def _path(path: str, methods: dict[str, Any]) -> str:
    """All ways to ask one path as a disclosure: its words, examples to change, and the places of the answers."""
    key, first = _key(path), _first(methods)
    method = "POST" if "post" in methods else "GET"
    queries = _queries(path)
    ways = _example(key, first, queries)
    if "post" in methods:
        ways += _form(key, "POST", path, _body(key, methods["post"]), _buttons(methods["post"]))
    if queries:
        ways += (
            '<details class="address"><summary><h4>By address, for links and the cells of a spreadsheet</h4></summary>'
            + _form(f"{key}-address", "GET", path, _question(key, methods["get"], queries), "<button>Send</button>")
            + "</details>"
        )
    elif "get" in methods:
        choices = "".join(_choice(key, one) for one in first.get("parameters", []) if one["in"] != HEADER)
        ways += _form(key, "GET", path, choices, "<button>Send</button>")
    return (
        f'<details class="operation" id="{key}"><summary><h3>{escape(first["summary"])}</h3> '
        f'<code><span class="method">{method}</span> {escape(path)}</code></summary>'
        f"<p>{_with_code(first['description'])}</p>{ways}</details>"
    )


def _form(key: str, method: str, path: str, fields: str, buttons: str) -> str:
    """A form and the place of its answer."""
    return (
        f'<form id="{key}-form" data-method="{method}" data-path="{escape(path)}">{fields}'
        f'<div class="buttons">{buttons}</div></form>{ANSWER}'
    )


def _queries(path: str) -> dict[str, str]:
    """The queries that ask the examples of a computation by its address, by the examples' words."""
    for operation in OPERATIONS:
        if operation.path == path:
            reader: Reader[Any] = Reader(operation.request)
            flat = QueryForm(operation, reader).flat
            return {
                example.summary: urlencode(flat.to_texts(reader.fit(example.request)), safe=",;")
                for example in operation.examples
            }
    return {}


def _content(described: dict[str, Any]) -> tuple[str, dict[str, str]]:
    """The media type of a request's body, and its examples as text by their words."""
    ((media_type, content),) = described["content"].items()
    return media_type, {
        example["summary"]: value if isinstance(value, str) else json.dumps(value, indent=2, ensure_ascii=False)
        for example in content["examples"].values()
        for value in [example["value"]]
    }


def _example(key: str, found: dict[str, Any], queries: dict[str, str]) -> str:
    """The choice of the example that fills the forms."""
    if "requestBody" not in found:
        return ""
    choices = "".join(
        f'<option value="{escape(text)}" data-query="{escape(queries.get(summary, ""))}">{escape(summary)}</option>'
        for summary, text in _content(found["requestBody"])[1].items()
    )
    return f'<label for="{key}-example">Example</label><select id="{key}-example" class="example">{choices}</select>'


def _body(key: str, found: dict[str, Any]) -> str:
    media_type, examples = _content(found["requestBody"])
    first = next(iter(examples.values()))
    return (
        f'<label for="{key}-body">Question ({media_type})</label><textarea id="{key}-body" class="body" '
        f'data-media-type="{media_type}" rows="{min(first.count(chr(10)) + 1, 14)}" spellcheck="false">{escape(first)}</textarea>'
    )


def _buttons(found: dict[str, Any]) -> str:
    """Send, and for an operation that draws its answer, the picture."""
    picture = '<button class="second" data-form="svg">Send for a picture</button>'
    return "<button>Send</button>" + (picture if PICTURE in found["responses"]["200"]["content"] else "")


def _question(key: str, found: dict[str, Any], queries: dict[str, str]) -> str:
    """The query, the form of its answer and the part of it, and the place of the address and the formulas made of them."""
    parameters = {one["name"]: one for one in found["parameters"] if one["in"] != HEADER}
    forms = "".join(
        f"<option{' selected' if form == 'text' else ''}>{escape(form)}</option>"
        for form in parameters[FORM]["schema"]["enum"]
    )
    (answer,) = found["responses"]["200"]["content"]["application/json"]["examples"].values()
    names = ", ".join(f"<code>{escape(name)}</code>" for name in parameters if name not in (FORM, SELECT))
    return (
        f'<label for="{key}-query">Query</label>'
        f'<textarea id="{key}-query" class="query" rows="4" spellcheck="false">{escape(next(iter(queries.values())))}</textarea>'
        f"<p>Parameters: {names}.</p>"
        f'<label for="{key}-as">Form of the answer (<code>{FORM}</code>)</label><select id="{key}-as" class="as">{forms}</select>'
        f'<label for="{key}-select">Part of the answer (<code>{SELECT}</code>, a JSON Pointer; for csv and text)</label>'
        f'<input id="{key}-select" class="select" spellcheck="false" autocomplete="off" value="{escape(_first_value(answer["value"]))}">'
        + IN_A_CELL
    )


def _first_value(answer: Any) -> str:
    """The JSON Pointer of the first single value of an answer."""
    if isinstance(answer, dict):
        name, value = next(iter(answer.items()))
        return f"/{name}{_first_value(value)}"
    return f"/0{_first_value(answer[0])}" if isinstance(answer, list) else ""


def _choice(key: str, parameter: dict[str, Any]) -> str:
    name = escape(parameter["name"])
    options = "".join(f"<option>{escape(value)}</option>" for value in parameter["schema"]["enum"])
    return (
        f'<label for="{key}-{name}">{name}</label>'
        f'<select id="{key}-{name}" class="parameter" data-name="{name}">{options}</select>'
    )
