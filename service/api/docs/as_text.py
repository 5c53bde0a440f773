"""The whole documentation as one text in Markdown, for reading offline and for language models: GET /docs.md.

The guide first, then the reference, from the same values as the page. What would only repeat is left out, so that it
stays within what such a model takes in: the tables stand once for all operations, long answers and long lists of ids are
named and not written out.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Final

from service.api.bulk.tables import table_path
from service.api.docs.contents import contents
from service.api.docs.guide import ADDRESS, guide, mistakes
from service.api.openapi.document import document
from service.api.operations.registry import OPERATIONS
from service.api.templates import templates_in
from service.http.problems import KINDS

LANGUAGES: Final = {"curl": "sh", "python": "python"}
"""The languages in which the guide's requests stand here, as Markdown calls them."""
LONGEST_ANSWER: Final = 4_500
"""Characters of an example of an answer that is written out."""
LONGEST_EXAMPLE: Final = 80
"""Characters of an example beside a field; what is longer is an object whose own fields have theirs."""
UNBOUNDED: Final = "10,000 entries"
"""How the bounds of a list end that has none of its own."""
OF_JSON: Final = "In the JSON form: "
"""What is said of a parameter that is a field of the question, which has its own line."""
OF_A_BATCH: Final = ("Item", "Result")
"""Shapes that each operation has in a batch, alike."""
MOST_VALUES: Final = 100
"""Values of a list that are written out."""


@cache
def documentation() -> bytes:
    """The text, made once."""
    description = document()
    first, *others = OPERATIONS
    alike = {operation.title + kind for operation in others for kind in OF_A_BATCH}
    text = _TEMPLATE.render(
        info=description["info"],
        address=ADDRESS,
        steps=guide(),
        mistakes=mistakes(),
        languages=LANGUAGES,
        kinds=KINDS.items(),
        contents=contents(),
        names={name: one["name"] for name, one in description["components"]["parameters"].items()},
        left_out=list(map(table_path, others)),
        table=table_path(first),
        parameters=[one for one in contents().parameters if OF_JSON not in one.words],
        shapes=[one for one in contents().shapes if one.name not in alike],
        unbounded=UNBOUNDED,
        longest_example=LONGEST_EXAMPLE,
        longest_answer=LONGEST_ANSWER,
        most_values=MOST_VALUES,
    )
    text = re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"
    return text.replace("{characters}", f"{round(len(text), -4):,}").encode()


_TEMPLATE: Final = templates_in(Path(__file__).parent).get_template("documentation.md.jinja")
