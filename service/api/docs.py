"""The page at /docs: every operation of the description with a form to try it, from this service alone.

One page of plain HTML with its own small script and style: nothing is loaded from elsewhere, and the policy header that
goes with it forbids it.
"""

from __future__ import annotations

import json
from html import escape
from pathlib import Path
from typing import Any, Final

HERE: Final = Path(__file__).parent
TEMPLATE: Final = (HERE / "docs_page.html").read_text(encoding="utf-8")
POLICY: Final = "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
SCRIPT: Final = (HERE / "docs_page.js").read_bytes()
STYLE: Final = (HERE / "docs_page.css").read_bytes()


def page(document: dict[str, Any]) -> bytes:
    """The page for a description."""
    sections = []
    for tag in document["tags"]:
        rows = [
            _operation(path, method, found)
            for path, methods in document["paths"].items()
            for method, found in methods.items()
            if tag["name"] in found["tags"]
        ]
        if rows:
            sections.append(
                f"<section><h2>{escape(tag['name'])}</h2><p>{escape(tag['description'])}</p>{''.join(rows)}</section>"
            )
    info = document["info"]
    introduction = "".join(f"<p>{escape(part)}</p>" for part in info["description"].split("\n\n"))
    return (
        TEMPLATE.replace("{{title}}", escape(info["title"]))
        .replace("{{version}}", escape(info["version"]))
        .replace("{{introduction}}", introduction)
        .replace("{{sections}}", "".join(sections))
        .encode()
    )


def _operation(path: str, method: str, found: dict[str, Any]) -> str:
    """One operation as a disclosure with its words, an example to change, and the place of its answer."""
    key = escape(found["operationId"])
    body = ""
    if "requestBody" in found:
        examples = found["requestBody"]["content"]["application/json"]["examples"]
        first = next(iter(examples.values()))["value"]
        choices = "".join(
            f'<option value="{escape(json.dumps(example["value"], indent=2, ensure_ascii=False))}">{escape(example["summary"])}</option>'
            for example in examples.values()
        )
        body = (
            f'<label for="{key}-example">Example</label><select id="{key}-example" class="example">{choices}</select>'
            f'<label for="{key}-body">Request body</label>'
            f'<textarea id="{key}-body" rows="14" spellcheck="false">{escape(json.dumps(first, indent=2, ensure_ascii=False))}</textarea>'
        )
    for parameter in found.get("parameters", []):
        options = "".join(f"<option>{escape(value)}</option>" for value in parameter["schema"]["enum"])
        body += f'<label for="{key}-id">{escape(parameter["name"])}</label><select id="{key}-id" class="parameter">{options}</select>'
    return (
        f'<details id="{key}"><summary><span class="method">{method.upper()}</span> <code>{escape(path)}</code> '
        f"{escape(found['summary'])}</summary><p>{escape(found['description'])}</p>"
        f'<form data-method="{method.upper()}" data-path="{escape(path)}">{body}<button>Send</button></form>'
        f'<p class="status" role="status"></p><pre tabindex="0" aria-label="Answer" hidden></pre></details>'
    )
