"""Consultations of our own, each with what an expert would want first and would never want, read from their files."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, Final, Literal

import msgspec

FOLDER: Final = Path(__file__).parent / "consultations"
EVERYWHERE: Final = FOLDER / "everywhere.toml"
_QUANTITY: Final = re.compile(r"(-?\d+(?:\.\d+)?) (kg|lb|cm|m|s|deg)")

Request = dict[str, Any]
Known = Literal["paper", "abstract", "secondary", "memory", "practice", "design_choice"]


class Line(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing that an expert would want, or never want.

    Attributes:
        it: the sentence, in the words of vocabulary.py, of a week in those of week_vocabulary.py
        why: for whoever reads the page
        sources: ids of sources; common_practice where there is none but the trade
        known: how far those are known for this
    """

    it: str
    why: str
    sources: tuple[str, ...]
    known: Known


class Lines(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What has to hold, and what must not.

    Attributes:
        must: sentences that have to be true
        must_not: sentences that have to be false
    """

    must: tuple[Line, ...]
    must_not: tuple[Line, ...]


class Consultation(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A consultation that nobody has held, and what an expert would say to it.

    Attributes:
        name: of it, in words joined by underscores
        who: asks, and what hurts
        request: as a client sends it, but for quantities written in one piece
        must: sentences that have to be true of the answer
        must_not: sentences that have to be false
    """

    name: str
    who: str
    request: Request
    must: tuple[Line, ...] = ()
    must_not: tuple[Line, ...] = ()

    @property
    def asked(self) -> Request:
        """The request as the service takes it."""
        return dict(_with_quantities(self.request))


class _File(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    consultation: tuple[Consultation, ...]


def _with_quantities(part: Any) -> Any:  # noqa: ANN401 (any JSON)
    if isinstance(part, dict):
        return {name: _with_quantities(inner) for name, inner in part.items()}
    if isinstance(part, list):
        return [_with_quantities(inner) for inner in part]
    written = _QUANTITY.fullmatch(part) if isinstance(part, str) else None
    return part if written is None else {"value": float(written[1]), "unit": written[2]}


def files() -> list[Path]:
    """The files with consultations, in their order."""
    return [path for path in sorted(FOLDER.glob("*.toml")) if path != EVERYWHERE]


def consultations(path: Path) -> tuple[Consultation, ...]:
    """The consultations of a file."""
    return msgspec.toml.decode(path.read_bytes(), type=_File).consultation


def everywhere(path: Path = EVERYWHERE) -> Lines:
    """What holds of every consultation that ends in options."""
    return msgspec.toml.decode(path.read_bytes(), type=Lines)
