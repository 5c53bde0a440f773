"""The words of a shape: what its docstring says of it, and under `Attributes:` of each of its fields, as they are published."""

from __future__ import annotations

import inspect
import re
from collections.abc import Mapping
from typing import Any, Final, NamedTuple, get_origin

_SECTION: Final = re.compile(r"^Attributes:\n", re.MULTILINE)
_ENTRY: Final = re.compile(r"^ {4}(\w+): ", re.MULTILINE)
_SPACE: Final = re.compile(r"\s+")


class Words(NamedTuple):
    """What is said of a shape, and of each of its fields by name, those that it has from another shape included."""

    summary: str
    fields: Mapping[str, str]


def words_of(shape: type[Any]) -> Words:
    """The words of a struct."""
    plain = get_origin(shape) or shape
    summary, _ = _parsed(plain)
    fields = [_parsed(each)[1] for each in reversed(plain.__mro__)]
    return Words(summary, {name: text for one in fields for name, text in one.items()})


def _parsed(shape: type[Any]) -> tuple[str, dict[str, str]]:
    summary, *attributes = _SECTION.split(inspect.cleandoc(shape.__dict__.get("__doc__") or ""), maxsplit=1)
    _, *entries = _ENTRY.split("".join(attributes))
    names, texts = entries[::2], entries[1::2]
    return _line(summary), {name: _line(text) for name, text in zip(names, texts, strict=True)}


def _line(text: str) -> str:
    return _SPACE.sub(" ", text).strip()
