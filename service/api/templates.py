"""Templates of pages and texts: HTML is escaped, what is not known is a fault, and tags leave no lines behind."""

from __future__ import annotations

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape


def templates_in(folder: Path) -> Environment:
    """The templates of a folder. What is put into those called .html is escaped."""
    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=select_autoescape(),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
