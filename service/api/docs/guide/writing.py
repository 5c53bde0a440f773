"""Requests written in each language by its template, and JSON written to be read."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from service.api.docs.guide.models import ADDRESS, Json, Message, Snippet
from service.api.templates import templates_in

WIDTH: Final = 110
LONGEST_TEXT: Final = 250
"""Characters of one text in a formula, which may have 255."""
LANGUAGES: Final = {"curl": "curl", "python": "Python", "typescript": "TypeScript", "kotlin": "Kotlin"}
CELLS: Final = {"cell": ("Cell, with commas", ","), "cell-semicolons": ("Cell, with semicolons", ";")}


def written(value: Json, literal: Callable[[Any], str] = lambda value: json.dumps(value, ensure_ascii=False)) -> str:
    """JSON in which what fits stands on one line; literal: how a text, number, truth or null is written."""

    def line(value: Json) -> str:
        if isinstance(value, dict):
            return "{" + ", ".join(f"{literal(name)}: {line(inner)}" for name, inner in value.items()) + "}"
        return "[" + ", ".join(map(line, value)) + "]" if isinstance(value, list) else literal(value)

    def lines(value: Json, indent: str, before: int) -> str:
        whole = line(value)
        if not value or not isinstance(value, dict | list) or len(indent) + before + len(whole) < WIDTH:
            return whole
        inside = indent + "  "
        if isinstance(value, list):
            parts = [lines(inner, inside, 0) for inner in value]
        else:
            names = {name: f"{literal(name)}: " for name in value}
            parts = [names[name] + lines(inner, inside, len(names[name])) for name, inner in value.items()]
        start, end = "[]" if isinstance(value, list) else "{}"
        return f"{start}\n{inside}" + f",\n{inside}".join(parts) + f"\n{indent}{end}"

    return lines(value, "", 0)


def _python(value: Json) -> str:
    """JSON as a literal of Python."""
    return written(value, lambda one: json.dumps(one, ensure_ascii=False) if isinstance(one, str) else repr(one))


_TEMPLATES: Final = templates_in(Path(__file__).parent / "snippets")
_TEMPLATES.filters |= {"python": _python, "quoted": shlex.quote, "text": json.dumps}


def snippets(message: Message, address: str = ADDRESS) -> list[Snippet]:
    """A request in every language, as programs that print the answer; a body has to be JSON."""
    asked = {"message": message, "url": address + message.target}
    asked["question"] = json.loads(message.body) if message.body else None
    return [
        Snippet(language, label, _TEMPLATES.get_template(f"{language}.jinja").render(asked))
        for language, label in LANGUAGES.items()
    ]


def cells(target: str, *, number: bool, address: str = ADDRESS) -> list[Snippet]:
    """An address of one bare cell as formulas; number: whether the cell is one, which any country then reads as one."""
    url = address + target
    pieces = [url[start : start + LONGEST_TEXT] for start in range(0, len(url), LONGEST_TEXT)]
    template = _TEMPLATES.get_template("cell.jinja")
    return [
        Snippet(language, label, template.render(pieces=pieces, number=number, separator=separator))
        for language, (label, separator) in CELLS.items()
    ]
