"""Reads the data files once, at start, into frozen structs: the only place that touches the disk.

A malformed data file stops the service at start, as does one that cites a source which does not exist
(service.knowledge.citations); nothing is checked again while requests are answered.
"""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path
from typing import Any, Final, Literal, TypeVar

import msgspec

HERE: Final = Path(__file__).parent / "data"

Record = TypeVar("Record")

Known = Literal["paper", "abstract", "secondary", "memory", "practice", "derived", "design_choice"]
"""How far a figure is known to us, from the paper itself down to our own choice."""


def read_toml(name: str) -> dict[str, Any]:
    """The tables of one data file of this folder."""
    return tomllib.loads((HERE / name).read_text(encoding="utf-8"))


def read_csv(name: str) -> list[dict[str, str]]:
    """The rows of one data file of this folder, by column name."""
    with (HERE / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def table(kind: type[Record], rows: dict[str, Any]) -> dict[str, Record]:
    """Rows of a TOML file as frozen structs, by their id."""
    return {key: msgspec.convert({"id": key, **row}, kind, strict=False) for key, row in rows.items()}
