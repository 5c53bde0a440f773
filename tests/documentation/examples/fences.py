"""What stands on a page to be copied: its fenced blocks, as its reader copies them."""

from __future__ import annotations

import re
from textwrap import dedent


def fences(page: str, language: str) -> list[str]:
    """The blocks of a language, in their order; "" are those that name none."""
    found = re.finditer(r"^( *)```(\w*)\n(.*?)^\1```$", page, re.MULTILINE | re.DOTALL)
    return [dedent(one[3]) for one in found if one[2] == language]
