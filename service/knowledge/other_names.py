"""What units, fields and values are called elsewhere: suggested in place of an unknown name, and never taken."""

from __future__ import annotations

from typing import Final

from service.knowledge.loader import read_whole
from service.knowledge.records import Record


class _OtherNames(Record, frozen=True):
    """The file other_names.toml.

    Attributes:
        units: other names of each unit
        fields: other names of each field
        values: other names of values of closed lists: regions, aims, sexes
    """

    units: dict[str, tuple[str, ...]]
    fields: dict[str, tuple[str, ...]]
    values: dict[str, tuple[str, ...]]


_READ: Final = read_whole("other_names.toml", _OtherNames)
VALUES: Final = _READ.values
OTHER_NAMES: Final = _READ.units | _READ.fields | VALUES
