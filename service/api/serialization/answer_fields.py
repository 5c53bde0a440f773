"""A part of an answer, chosen by the names of its fields: `decision,options.prescription`.

A name is that of a field of the answer, or of a field of the objects in it, with a dot between the two; what a list
holds is chosen in each of its items. What is chosen comes whole, in the order of the answer. Where an answer stops the
training, what says so comes unchosen too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import Annotated, Any, Final, Literal, TypeAlias

import msgspec
from msgspec import UNSET, Meta, inspect

from service.api.models.stop_line import stopping_fields
from service.api.serialization.field_faults import shortened
from service.api.serialization.scalars import bare
from service.api.serialization.suggestions import near, question
from service.http.problems import ProblemFault

TEXT: Final = "text"
FIELDS: Final = "fields"
_MOST_FAULTS: Final = 5  # since each of them lists all that is allowed
DESCRIPTION: Final = (
    "The fields of the answer that are wanted, by name; one of the objects in it by both names with a dot between. The "
    "others are left out, those too that an answer always has; only what stops the training comes always, with the "
    "decision. Left out: all of them."
)
Chosen: TypeAlias = Mapping[str, frozenset[str]]
"""The fields of an answer that are chosen, and which fields of the objects in each; none where it is chosen whole."""


class AnswerFields:
    """The fields of an answer's shape by which a part of it can be chosen."""

    def __init__(self, shape: type[Any]) -> None:
        self.names: Final = tuple(_names(shape))
        self._known: Final = frozenset(self.names)

    @property
    def list_type(self) -> Any:
        """The type of a list of these names, as a question in JSON states it."""
        listed: Any = list
        return Annotated[listed[Literal[self.names]], Meta(min_length=1, max_length=len(self.names))]

    def faults(self, names: Iterable[str]) -> list[ProblemFault]:
        """What is wrong with the first names that are wrong, and what is allowed; nothing where all can be chosen."""
        stated = list(names)
        unknown = islice((name for name in dict.fromkeys(stated) if name not in self._known), _MOST_FAULTS)
        faults = [
            ProblemFault(
                "",
                FIELDS,
                f'"{shortened(name)}" is no field of the answer. {question(meant)}'.rstrip(),
                "one of: " + ", ".join(self.names),
                (*meant, *self.names)[0],
                did_you_mean=meant or UNSET,
            )
            for name, meant in ((name, self._meant(name)) for name in unknown)
        ]
        if not faults and len(stated) > len(self.names):
            faults.append(ProblemFault("", FIELDS, "There are too many names.", f"up to {len(self.names)}"))
        return faults

    def _meant(self, name: str) -> tuple[str, ...]:
        """What a wrong name is probably meant for: of a field further inside than can be chosen, what it is in."""
        field, *inside = name.split(".", 2)
        around = ".".join((field, *inside[:1]))
        return (around,) if len(inside) > 1 and around in self._known else near(name, self.names)


def chosen(names: Iterable[str]) -> Chosen:
    """What some names choose; an object that is named beside a field of it is chosen whole."""
    parts: dict[str, set[str]] = {}
    whole = set()
    for name in names:
        field, dot, inner = name.partition(".")
        parts.setdefault(field, set()).add(inner)
        if not dot:
            whole.add(field)
    return {field: frozenset() if field in whole else frozenset(inner) for field, inner in parts.items()}


def cut(answer: msgspec.Struct, fields: Chosen) -> dict[str, Any]:
    """The chosen part of an answer, and what stops the training: whole, unless its sentences are chosen."""
    whole = (name for name in stopping_fields(answer) if TEXT not in fields.get(name, ()))
    parts = {**fields, **dict.fromkeys(whole, frozenset())}
    return {name: _inside(value, parts[name]) for name, value in _shown(answer) if name in parts}


def _inside(value: Any, names: frozenset[str]) -> Any:
    if isinstance(value, list):
        return [_inside(item, names) for item in value]
    if not names or not isinstance(value, msgspec.Struct):
        return value
    return {name: inner for name, inner in _shown(value) if name in names}


def _shown(value: msgspec.Struct) -> Iterator[tuple[str, Any]]:
    """The fields of an object that its JSON has, with their values."""
    leaves_out = value.__struct_config__.omit_defaults
    for field in msgspec.structs.fields(value):
        inner = getattr(value, field.name)
        default = field.default if field.default_factory is msgspec.NODEFAULT else field.default_factory()
        if inner is not UNSET and not (leaves_out and inner == default):
            yield field.encode_name, inner


def _names(shape: type[Any]) -> Iterator[str]:
    kind = inspect.type_info(shape)
    for field in kind.fields if isinstance(kind, inspect.StructType) else ():
        yield field.encode_name
        inner = bare(field.type)
        if isinstance(inner, inspect.ListType):
            inner = bare(inner.item_type)
        if isinstance(inner, inspect.StructType):
            yield from (f"{field.encode_name}.{one.encode_name}" for one in inner.fields)
