"""Writes episode.http, the consultation of the guide as requests that an editor sends.

From the top of the repository: python -m deploy.examples.make_http. The form is the open one of .http files: variables,
then requests parted by ###. The file in the repository is what this writes; a test compares them.
"""

from __future__ import annotations

import sys
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape

from service.api.docs.guide import ADDRESS, guide

HERE = Path(__file__).parent
FILE = HERE / "episode.http"


def episode() -> str:
    """The text of the file."""
    templates = Environment(
        loader=FileSystemLoader(HERE),
        autoescape=select_autoescape(),
        undefined=StrictUndefined,
        trim_blocks=True,
        keep_trailing_newline=True,
    )
    return templates.get_template("episode.http.jinja").render(steps=guide(), address=ADDRESS)


if __name__ == "__main__":
    FILE.write_text(episode(), encoding="utf-8")
    sys.stdout.write(f"{FILE} written\n")
