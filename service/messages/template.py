"""A template with its places, read once and refused where it cannot be filled."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from string import Formatter
from typing import Any, Final, TypeAlias

import msgspec

from service.knowledge.loader import UnusableData
from service.knowledge.message_templates import MessageTemplate

Value: TypeAlias = Any
"""A value that JSON can show: a number, an id, a quantity, a prescription, or a list of these."""


class Kind(msgspec.Struct, frozen=True):
    """What a value is, and how it is written.

    Attributes:
        meaning: what the value is, for clients that write their own sentences
        shown: the value as answers show it, in JSON's own types
        words: a shown value in words, in one of the forms of the kind; an empty form is the usual one
        example: a shown value
    """

    meaning: str
    shown: Callable[[Any], Value]
    words: Callable[[Any, str], str]
    example: Value


class Template:
    """A sentence with places for values: how they are shown, and how the text is made of what is shown."""

    def __init__(self, code: str, template: MessageTemplate, kinds: Mapping[str, Kind]) -> None:
        """kinds: by their names. Raises UnusableData for what is not described: a place, a kind, a form of a kind."""
        self.code: Final = code
        self.kinds: Final = {name: _kind(code, kind, kinds) for name, kind in template.values.items()}
        self._parts: Final = list(_parts(code, template.text, self.kinds))
        self.example: Final = {name: kind.example for name, kind in self.kinds.items()}
        try:
            self.text(self.example)
        except (ValueError, TypeError, KeyError) as fault:
            raise UnusableData("messages", code, f"A place has a form that its kind has not: {fault}") from None

    def shown(self, values: Mapping[str, Any]) -> dict[str, Value]:
        """The values as answers show them. Raises TypeError for a value that is missing or unknown."""
        if values.keys() != self.kinds.keys():
            raise TypeError(f"{self.code} takes the values {', '.join(self.kinds) or 'none'}, not {', '.join(values)}")
        return {name: kind.shown(values[name]) for name, kind in self.kinds.items()}

    def text(self, shown: Mapping[str, Value]) -> str:
        """The sentence, made of what is shown alone."""
        return "".join(
            [literal if kind is None else kind.words(shown[literal], form) for literal, form, kind in self._parts]
        )


def _kind(code: str, name: str | tuple[str], kinds: Mapping[str, Kind]) -> Kind:
    single = name if isinstance(name, str) else name[0]
    if single not in kinds:
        raise UnusableData("messages", code, f"No kind of value is called `{single}`")
    return kinds[single] if isinstance(name, str) else _listed(kinds[single])


def _listed(kind: Kind) -> Kind:
    """A list of values of one kind, written as "a, b and c"."""

    def words(values: list[Value], form: str) -> str:
        *first, last = [kind.words(value, form) for value in values]
        return f"{', '.join(first)} and {last}" if first else last

    return Kind(f"list: {kind.meaning}", lambda values: [kind.shown(value) for value in values], words, [kind.example])


def _parts(code: str, text: str, kinds: Mapping[str, Kind]) -> list[tuple[str, str, Kind | None]]:
    """Literals, and the names of values with their forms and kinds, in order."""
    parts: list[tuple[str, str, Kind | None]] = []
    places = set()
    try:
        parsed = list(Formatter().parse(text))
    except ValueError as fault:
        raise UnusableData("messages", code, fault) from None
    for literal, name, form, _ in parsed:
        if literal:
            parts.append((literal, "", None))
        if name is not None:
            if name not in kinds:
                raise UnusableData("messages", code, f"The place `{name}` is not described")
            parts.append((name, form or "", kinds[name]))
            places.add(name)
    if unused := kinds.keys() - places:
        raise UnusableData("messages", code, f"No place for the value `{min(unused)}`")
    return parts
