"""A report written as one page of HTML that needs nothing from elsewhere, or as Markdown.

Whatever a report says is escaped: in HTML by the template engine, in Markdown by the filter of its template. The page
carries its own style, whose hash its policy names, and its pictures as images, which run nothing.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from markupsafe import Markup

from service import __version__
from service.api.models.report import Audience, Report
from service.api.templates import templates_in
from service.charts.elements.layout import Sheet
from service.messages import message, spoken, spoken_language
from service.messages.citations import cited

HERE: Final = Path(__file__).parent
STYLE: Final = (HERE / "report.css").read_text(encoding="utf-8")
STYLE_SOURCE: Final = f"'sha256-{b64encode(sha256(STYLE.encode()).digest()).decode()}'"
"""The style as a policy names it."""
POLICY: Final = (
    f"default-src 'none'; style-src {STYLE_SOURCE}; img-src data:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
LIFTERS_PICTURES: Final = 1
"""Pages of the picture that the lifter gets: the first option, or the way ahead."""
_MARKS: Final = re.compile(r"([\\`*_\[\]<>|#~])")


def _written(value: Any) -> Any:
    """What is said by us or by an answer, its sources as a reader knows them; markup as it is."""
    return cited(value) if type(value) is str else value


def plain(text: str) -> str:
    """A text in Markdown, whose own marks stand in it as they are."""
    return _MARKS.sub(r"\\\1", " ".join(cited(text).split()))


_TEMPLATES: Final = templates_in(HERE)
_TEMPLATES.finalize = _written
_TEMPLATES.filters["plain"] = plain
_TEMPLATES.globals["version"] = __version__
_TEMPLATES.globals["language"] = spoken_language
_TEMPLATES.globals["say"] = lambda heading: message(f"heading_{heading}").text
_TEMPLATES.globals["unreviewed"] = lambda: "" if spoken().reviewed else message("language_not_reviewed").text
_PAGE: Final = _TEMPLATES.get_template("report.html")
_MARKDOWN: Final = _TEMPLATES.get_template("report.md")


def page(report: Report, audience: Audience, pictures: Sequence[Sheet] = ()) -> str:
    """The report as a page for a reader.

    Args:
        report: what to say
        audience: who reads it
        pictures: pages of the answer's picture, none where it has none
    """
    shown = pictures[:LIFTERS_PICTURES] if audience == "lifter" else pictures
    if report.halted:
        shown = ()  # they would say the same words again
    return _PAGE.render(
        report=report,
        lifter=audience == "lifter",
        style=Markup(STYLE),  # noqa: S704 - a file of ours
        pictures=[_picture(one) for one in shown],
    )


def markdown(report: Report, audience: Audience, picture: str = "") -> str:
    """The report as Markdown for a reader.

    Args:
        report: what to say
        audience: who reads it
        picture: address of the answer's picture, empty where it has none
    """
    text = _MARKDOWN.render(report=report, lifter=audience == "lifter", picture=picture)
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"


def _picture(sheet: Sheet) -> dict[str, Any]:
    data = b64encode(sheet.svg().encode()).decode()
    return {
        "source": f"data:image/svg+xml;base64,{data}",
        "title": sheet.title,
        "words": sheet.description,
        "width": round(sheet.width),
        "height": round(sheet.height),
    }
