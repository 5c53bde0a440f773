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
Writer: TypeAlias = Callable[[Any], str]
"""A shown value in words."""


class Kind(msgspec.Struct, frozen=True):
    """What a value is, and how it is written.

    Attributes:
        meaning: what the value is, for clients that write their own sentences
        shown: the value as answers show it, in JSON's own types
        writer: how it is written in one of the forms of the kind, of which the empty one is the usual; raises KeyError
            or ValueError for a form that the kind has not
        example: a shown value
        joined: several of them, each in words, as the language lists them
    """

    meaning: str
    shown: Callable[[Any], Value]
    writer: Callable[[str], Writer]
    example: Value
    joined: Callable[[list[str]], str]


class Template:
    """A sentence with places for values: how they are shown, and how the text is made of what is shown."""

    def __init__(self, code: str, template: MessageTemplate, kinds: Mapping[str, Kind]) -> None:
        """kinds: by their names. Raises UnusableData for what is not described: a place, a kind, a form of a kind."""
        self.code: Final = code
        self.written: Final = template.text
        self.kinds: Final = {name: _kind(code, kind, kinds) for name, kind in template.values.items()}
        self.example: Final = {name: kind.example for name, kind in self.kinds.items()}
        self._shown: Final = [(name, kind.shown) for name, kind in self.kinds.items()]
        self._parts: Final = list(_parts(code, template.text, self.kinds))

    def shown(self, values: Mapping[str, Any]) -> dict[str, Value]:
        """The values as answers show them. Raises TypeError for a value that is missing or unknown."""
        if values.keys() != self.kinds.keys():
            raise TypeError(f"{self.code} takes the values {', '.join(self.kinds) or 'none'}, not {', '.join(values)}")
        return {name: show(values[name]) for name, show in self._shown}

    def text(self, shown: Mapping[str, Value]) -> str:
        """The sentence, made of what is shown alone."""
        return "".join([text if write is None else write(shown[text]) for text, write in self._parts])


def _kind(code: str, name: str | tuple[str], kinds: Mapping[str, Kind]) -> Kind:
    single = name if isinstance(name, str) else name[0]
    if single not in kinds:
        raise UnusableData("messages", code, f"No kind of value is called `{single}`")
    return kinds[single] if isinstance(name, str) else _listed(kinds[single])


_WITHIN: Final = {"start": "", "The": "the", "Your": "your"}
"""Forms with a capital letter, by what they are within a sentence."""


def _listed(kind: Kind) -> Kind:
    """A list of values of one kind, written as "a, b and c", or the word that goes with one or several of them.

    With the forms "start", "The" and "Your" only the first of them begins with a capital letter.
    """

    def writer(form: str) -> Writer:
        if "|" in form:
            one, several = form.split("|")
            return lambda values: one if len(values) == 1 else several
        write = kind.writer(form)
        write_further = kind.writer(_WITHIN[form]) if form in _WITHIN else write

        def words(values: list[Value]) -> str:
            return kind.joined([write(value) if not at else write_further(value) for at, value in enumerate(values)])

        return words

    return Kind(
        f"list: {kind.meaning}", lambda values: list(map(kind.shown, values)), writer, [kind.example], kind.joined
    )


def _parts(code: str, text: str, kinds: Mapping[str, Kind]) -> list[tuple[str, Writer | None]]:
    """Literals, and the names of values with how they are written, in order."""
    parts: list[tuple[str, Writer | None]] = []
    places = set()
    try:
        parsed = list(Formatter().parse(text))
    except ValueError as fault:
        raise UnusableData("messages", code, fault) from None
    for literal, name, form, _ in parsed:
        if literal:
            parts.append((literal, None))
        if name is not None:
            if name not in kinds:
                raise UnusableData("messages", code, f"The place `{name}` is not described")
            parts.append((name, _writer(code, kinds[name], form or "")))
            places.add(name)
    if unused := kinds.keys() - places:
        raise UnusableData("messages", code, f"No place for the value `{min(unused)}`")
    return parts


def _writer(code: str, kind: Kind, form: str) -> Writer:
    """How a value is written, tried on the example of its kind."""
    try:
        write = kind.writer(form)
        write(kind.example)
    except (ValueError, TypeError, KeyError) as fault:
        raise UnusableData("messages", code, f"A place has a form that its kind has not: {fault}") from None
    return write
