"""What is made wrong, one thing at a time, as data/perturbations.toml has it."""

from __future__ import annotations

import tomllib
from typing import Final

import msgspec

from tests.science.reference.answers import DATA


class Figures(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Figures that are made wrong together.

    Attributes:
        name: in words
        file: of service/knowledge/data
        keys: in the file
        changes: what becomes of them, one at a time
        by_lift: whether each lift is asked by itself, the others as they are
    """

    name: str
    file: str
    keys: tuple[str, ...]
    changes: tuple[str, ...]
    by_lift: bool = False


class Asked(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a question has wrong: factors of load or body mass [1], sideways force [1] or place [m] of the hand."""

    name: str
    load: tuple[float, ...] = ()
    body_mass: tuple[float, ...] = ()
    outward: tuple[float, ...] = ()
    touch: tuple[float, ...] = ()


class Answered(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What an answer has wrong: quantities times a factor [1], or squared."""

    name: str
    quantities: tuple[str, ...]
    by: tuple[float, ...]
    squared: bool = False


class Perturbations(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole of data/perturbations.toml."""

    figures: tuple[Figures, ...]
    asked: tuple[Asked, ...]
    answered: tuple[Answered, ...]


PERTURBATIONS: Final = msgspec.convert(
    tomllib.loads((DATA / "perturbations.toml").read_text(encoding="utf-8")), Perturbations
)
