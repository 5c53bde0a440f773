"""The page at /docs: a guide through one consultation, then the whole description as a reference with forms to try it.

Made once by our templates from the description, in plain HTML that is read without a script, with its own small scripts
and style; nothing is loaded from elsewhere, and the policy header that goes with it forbids it. Renderers whose files
install from PyPI were tried under the same policy, offline, on a screen 360 px wide: Redoc (drf-spectacular-sidecar
2026.10, 1.1 MB) shows nothing, since it writes styles inline; Scalar (offapi 0.1.4, 4.7 MB) breaks the policy eighteen
times; Swagger UI (either, 2.0 MB) keeps to it, shows addresses and nothing of a field until each is opened, and searches
no fields. Each needs the description of 1.5 MB besides and shows nothing without a script; none has a guide, and
Litestar's own plugins load theirs from elsewhere.
"""

from __future__ import annotations

import re
from functools import cache
from html import escape
from pathlib import Path
from typing import Final

from markupsafe import Markup

from service.api.docs.contents import contents
from service.api.docs.guide import guide, mistakes
from service.api.models.report import AUDIENCES
from service.api.openapi.document import document
from service.api.reports.writing import STYLE_SOURCE
from service.api.templates import templates_in
from service.http.problems import KINDS

HERE: Final = Path(__file__).parent
POLICY: Final = (
    f"default-src 'none'; style-src 'self' {STYLE_SOURCE}; script-src 'self'; connect-src 'self'; "
    "img-src 'self' data: blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Reports that are shown in a frame of the page bring their own style, known by its hash."""
FILES: Final = {
    name: ((HERE / name).read_bytes(), media_type)
    for name, media_type in (
        ("page.css", "text/css"),
        ("page.js", "text/javascript"),
        ("reading.js", "text/javascript"),
    )
}
MOST_IN_CONTENTS: Final = 8
"""Operations of a section that can be found among their links."""
MOST_SHOWN: Final = 30
"""Values of a list that are shown before it is opened."""


@cache
def page() -> bytes:
    """The page, made once."""
    description = document()
    shown = _TEMPLATES.get_template("page.html").render(
        info=description["info"],
        steps=guide(),
        mistakes=mistakes(),
        languages={snippet.language: snippet.label for step in guide() for snippet in step.snippets}.items(),
        contents=contents(),
        names={name: one["name"] for name, one in description["components"]["parameters"].items()},
        kinds=KINDS.values(),
        audiences=AUDIENCES,
        most_in_contents=MOST_IN_CONTENTS,
        most_shown=MOST_SHOWN,
    )
    return shown.encode()


def _with_code(text: str) -> Markup:
    """A text; what stands between backticks is code."""
    return Markup(re.sub(r"`([^`]*)`", r"<code>\1</code>", escape(text, quote=False)))  # noqa: S704 - escaped


def _lines(text: str) -> Markup:
    """A text inside of an element, quotation marks as they are."""
    return Markup(escape(text, quote=False))  # noqa: S704 - escaped


def _quoted(text: str) -> Markup:
    """A text in an attribute that stands in single quotation marks, of which JSON has few."""
    return Markup(_lines(text).replace("'", "&#39;"))  # noqa: S704 - escaped


_TEMPLATES: Final = templates_in(HERE)
_TEMPLATES.filters |= {"with_code": _with_code, "lines": _lines, "quoted": _quoted}
