"""In which language a question is answered: `language` of its query, for links and cells, which send no headers.

What it states is taken out of the query before (service.http.middleware.language); what is left of it is a fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from service.api.serialization.field_faults import shortened
from service.http.languages import PARAMETER
from service.http.problems import ProblemFault
from service.knowledge.languages import LANGUAGES

LANGUAGE: Final = PARAMETER
TAGS: Final = tuple(LANGUAGES)
ONLY_LANGUAGE: Final = f"{LANGUAGE} alone is taken, once, as one of: {', '.join(TAGS)}"
"""What is said of a query that may have nothing else, within a sentence."""


def language_faults(parameters: Iterable[tuple[str, str]]) -> Iterator[ProblemFault]:
    """What is wrong with the language named in a query: that it is none of ours, or stands twice."""
    stated = [text for name, text in parameters if name == LANGUAGE]
    if len(stated) > 1:
        yield ProblemFault("", LANGUAGE, "This parameter is given more than once.", "once")
    elif stated:
        detail = f'There are no sentences in "{shortened(stated[0])}".'
        yield ProblemFault("", LANGUAGE, detail, f"one of: {', '.join(TAGS)}", TAGS[0])
