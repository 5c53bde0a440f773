"""Media types as they stand in Accept and Content-Type, and in full where a parameter goes with an answer's."""

from __future__ import annotations

from typing import Final

JSON: Final = b"application/json"
PROBLEM: Final = b"application/problem+json"
SVG: Final = b"image/svg+xml"
PNG: Final = b"image/png"
CSV: Final = b"text/csv"
HTML: Final = b"text/html"
TEXT: Final = b"text/plain"
MARKDOWN: Final = b"text/markdown"
FULL_TYPES: Final = {
    CSV: b"text/csv; charset=utf-8; header=present",
    TEXT: b"text/plain; charset=utf-8",
    HTML: b"text/html; charset=utf-8",
    MARKDOWN: b"text/markdown; charset=utf-8",
}
