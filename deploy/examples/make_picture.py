"""Writes adjustment.svg, the picture of the README's first question.

From the top of the repository: python -m deploy.examples.make_picture. A test compares it with what the service draws.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from service.api.operations.adjustments.chart import adjustments_chart
from service.api.operations.adjustments.models import Adjustments
from service.api.serialization.json import Reader

FILE = Path(__file__).parent / "adjustment.svg"
README = Path(__file__).parents[2] / "README.md"


def question() -> bytes:
    """The body of the README's first request. Raises ValueError where there is none."""
    body = re.search(r"-d '([^']+)'", README.read_text(encoding="utf-8"))
    if body is None:
        raise ValueError(f"{README} asks nothing")
    return body[1].encode()


def picture() -> str:
    """The first option of its answer, as SVG."""
    return adjustments_chart(Reader(Adjustments).read(question()))[0].svg()


if __name__ == "__main__":
    FILE.write_text(picture(), encoding="utf-8")
    sys.stdout.write(f"{FILE.name} written\n")
