"""Single faults of the service kept as data, and the tests that have to see each of them."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Final

import msgspec

from tests.support.paths import ROOT

FILE: Final = ROOT / "tests" / "mutation" / "faults.toml"
SNAPSHOTS: Final = ("tests/science/golden", "tests/interface/contract/test_recorded_answers.py")
"""Tests that compare with what the service answered before: they see any change, and so prove nothing here."""


class Fault(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One change that makes the service wrong.

    Attributes:
        file: that is changed, from the root of the repository
        old: text that stands exactly once in it
        new: text that takes its place
        tests: files, or single tests as pytest names them, of which one has to fail
    """

    file: str
    old: str
    new: str
    tests: list[str]

    def line(self, root: Path = ROOT) -> int:
        """The line at which the fault begins. Raises ValueError unless the old text stands exactly once in the file."""
        text = (root / self.file).read_text(encoding="utf-8")
        if (count := text.count(self.old)) != 1:
            raise ValueError(f"{self.file}: stands {count} times instead of once: {self.old!r}")
        return text[: text.index(self.old)].count("\n") + 1


def read_faults() -> list[Fault]:
    """All faults. Raises what msgspec raises where the file does not fit."""
    return msgspec.convert(tomllib.loads(FILE.read_text(encoding="utf-8"))["fault"], list[Fault])
