"""Reads the data files once, at start, into frozen structs: the only place that touches the disk.

A malformed data file stops the service at start, as does one that cites a source which does not exist
(service.knowledge.checks); nothing is checked again while requests are answered.
"""

from __future__ import annotations

import csv
import os
import tomllib
from pathlib import Path
from typing import Any, Final, Literal, TypeVar

import msgspec

HERE: Final = Path(__file__).parent

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


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """`base` with the values of `changes` in their place, table by table."""
    return {
        key: merged(value, changes[key])
        if isinstance(value, dict) and isinstance(changes.get(key), dict)
        else changes.get(key, value)
        for key, value in base.items()
    }


def design_choices(override: str | None) -> dict[str, Any]:
    """Our own choices (design_choices.toml), changed by the file named in `override` if there is one."""
    choices = read_toml("design_choices.toml")
    if override:
        choices = merged(choices, tomllib.loads(Path(override).read_text(encoding="utf-8")))
    return choices


def table(kind: type[Record], rows: dict[str, Any]) -> dict[str, Record]:
    """Rows of a TOML file as frozen structs, by their id."""
    return {key: msgspec.convert({"id": key, **row}, kind, strict=False) for key, row in rows.items()}


CHOICES: Final = design_choices(os.environ.get("DESIGN_CHOICES"))
