"""Why bytes are not JSON, in a sentence that their sender can act on."""

from __future__ import annotations

from typing import Final

NOT_READABLE: Final = (
    "The body is not readable JSON: nested too deeply, not UTF-8, or with a number of too many digits."
)
BYTE_ORDER_MARKS: Final = (b"\xff\xfe", b"\xfe\xff")
LOOKED_AT: Final = 200  # bytes, from the first on


class Unreadable(Exception):
    """The body is not JSON that can be read: not text in UTF-8, malformed, too deep, or with a name repeated."""


def unreadable(body: bytes, reason: str) -> Unreadable:
    """What is wrong with a body that is not JSON; reason: where its reader stopped and why."""
    start = body[:LOOKED_AT].lstrip()
    if not start and not body.strip():
        return Unreadable("The body is empty; the question goes into it, as a JSON object.")
    if start.startswith(b"\xef\xbb\xbf"):
        return Unreadable("The body begins with a byte order mark, which JSON does not have: send it without.")
    if start.startswith(BYTE_ORDER_MARKS) or b"\0" in start[:4]:
        return Unreadable("The body is not in UTF-8, the one encoding of JSON.")
    hint = ""
    if start[:1] not in b'{["' and b"=" in start:
        hint = " It looks like the fields of a form; send a JSON object, or the same as the query of a GET."
    elif b"'" in start and b'"' not in start:
        hint = " Names and texts stand in double quotation marks."
    return Unreadable(f"The body is not readable JSON: {reason}.{hint}")
