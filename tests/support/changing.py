"""Questions changed at random by the shape of their operation, so that most of them still fit it."""

from __future__ import annotations

import re
from random import Random
from typing import Any, Final

from msgspec import inspect

from service.api.serialization.scalars import bare

# texts that a shape may ask for by a pattern: tempos, and labels as wide and as often broken as can be
TEXTS: Final = ("4-1-X-0", "9-9-9-9", "X-X-X-X", "60-60-60-60", "W" * 60, "W " * 30, "a-" * 30, "<&>'\"" * 12, "W")


class Changing:
    """Makes and changes questions of one shape, by a source of random numbers."""

    def __init__(self, random: Random, shape: type[Any]) -> None:
        self._random = random
        self._shape = inspect.type_info(shape)

    def changed(self, question: Any) -> Any:  # noqa: ANN401 - any JSON
        """A copy of a question with one to four changes."""
        for _ in range(self._random.choice((1, 1, 2, 4))):
            question = self._changed(self._shape, question)
        return question

    def _changed(self, shape: inspect.Type, value: Any) -> Any:  # noqa: ANN401 - any JSON
        kind = bare(shape)
        if isinstance(kind, inspect.StructType):
            return self._object(kind, value)
        if isinstance(kind, inspect.ListType):
            return self._list(kind, value)
        return self._varied(kind, value) if self._random.random() < 0.5 else self._made(kind)

    def _object(self, kind: inspect.StructType, value: dict[str, Any]) -> dict[str, Any]:
        """The object with one field changed, put in or taken out."""
        field = self._random.choice(kind.fields)
        name = field.encode_name
        rest = {key: inner for key, inner in value.items() if key != name}
        if name not in value:
            return rest | {name: self._made(field.type)}
        if not field.required and self._random.random() < 0.2:
            return rest
        return rest | {name: self._changed(field.type, value[name])}

    def _list(self, kind: inspect.ListType, value: list[Any]) -> list[Any]:
        """The list with an item changed, or with fewer or more items, up to as many as there may be."""
        most = kind.max_length or 4
        match self._random.randrange(4):
            case 0 if len(value) > (kind.min_length or 0):
                return value[:-1]
            case 1 if len(value) < most:
                return [*value, self._another(kind, value)]
            case 2 if value:
                return [*value, *(self._varied(kind.item_type, value[-1]) for _ in range(most - len(value)))]
            case _ if value:
                place = self._random.randrange(len(value))
                return [*value[:place], self._changed(kind.item_type, value[place]), *value[place + 1 :]]
        return [self._made(kind.item_type)]

    def _another(self, kind: inspect.ListType, value: list[Any]) -> Any:  # noqa: ANN401 - any JSON
        """One more item for a list: one of those in it with other numbers, or a new one."""
        if value and self._random.random() < 0.7:
            return self._varied(kind.item_type, self._random.choice(value))
        return self._made(kind.item_type)

    def _varied(self, shape: inspect.Type, value: Any) -> Any:  # noqa: ANN401 - any JSON
        """The same value with every number in it near what it was."""
        kind = bare(shape)
        match kind:
            case inspect.StructType():
                types = {field.encode_name: field.type for field in kind.fields}
                return {name: self._varied(types[name], inner) for name, inner in value.items()}
            case inspect.ListType():
                return [self._varied(kind.item_type, item) for item in value]
            case inspect.FloatType() | inspect.IntType():
                low, high, whole = _bounds(kind)
                near = min(high, max(low, value * self._random.uniform(0.5, 1.5)))
                return round(near) if whole else near
        return value

    def _made(self, shape: inspect.Type) -> Any:  # noqa: ANN401 - any JSON
        """A value of a shape, its numbers often at their bounds."""
        random, kind = self._random, bare(shape)
        if isinstance(kind, inspect.UnionType):
            kind = bare(random.choice([one for one in kind.types if not isinstance(one, inspect.NoneType)]))
        match kind:
            case inspect.StructType():
                return {
                    field.encode_name: self._made(field.type)
                    for field in kind.fields
                    if field.required or random.random() < 0.3
                }
            case inspect.ListType():
                least, most = kind.min_length or 0, kind.max_length or 4
                return [
                    self._made(kind.item_type) for _ in range(random.choice((least, most, random.randint(least, most))))
                ]
            case inspect.LiteralType():
                return random.choice(kind.values)
            case inspect.BoolType():
                return random.random() < 0.5
            case inspect.StrType():
                fitting = [text for text in TEXTS if not kind.pattern or re.fullmatch(kind.pattern, text)]
                return random.choice(fitting)[: kind.max_length]
            case inspect.FloatType() | inspect.IntType():
                low, high, whole = _bounds(kind)
                found = random.choice((low, high, random.uniform(low, high), low + (high - low) * random.random() ** 4))
                return round(found) if whole else found
        raise TypeError(f"no value of {kind} is known")


def _bounds(kind: inspect.FloatType | inspect.IntType) -> tuple[float, float, bool]:
    """The least and the greatest value of a number, and whether it is whole."""
    low, high = kind.ge if kind.ge is not None else kind.gt, kind.le if kind.le is not None else kind.lt
    if low is None or high is None:
        raise TypeError("a number of a question has no bounds")
    return low, high, isinstance(kind, inspect.IntType) or kind.multiple_of == 1
