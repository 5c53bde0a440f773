"""What tests measure, kept where the service reads it: service/knowledge/data/evidence."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO
from typing import Final

import msgspec

from service.knowledge.records import Record
from tests.support.paths import KNOWLEDGE

FOLDER: Final = KNOWLEDGE / "evidence"


def table(rows: Sequence[Record]) -> str:
    """Rows of one kind, of which there is at least one, as the text of a file that the service reads them from."""
    text = StringIO()
    out = csv.writer(text, lineterminator="\n")
    names = [field.encode_name for field in msgspec.structs.fields(rows[0])]
    out.writerow(names)
    out.writerows([_cell(getattr(row, name)) for name in names] for row in rows)
    return text.getvalue()


def write(name: str, rows: Sequence[Record]) -> None:
    """Write a file of measured rows anew."""
    (FOLDER / name).write_text(table(rows), encoding="utf-8")


def kept(name: str) -> str:
    """The text of a file as it stands."""
    return (FOLDER / name).read_text(encoding="utf-8")


def _cell(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return str(value).lower()
        case float():
            return f"{value:g}"
        case tuple():
            return " ".join(map(str, value))
        case _:
            return str(value)
