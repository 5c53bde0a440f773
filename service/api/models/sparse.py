"""Objects with a field for each of a closed list, most of them left out, which are read as a mapping of what they state."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Generic, TypeVar

from msgspec import UNSET, UnsetType

from service.api.models.base import ResponseModel

T = TypeVar("T")


class Sparse(ResponseModel, Generic[T], kw_only=True, frozen=True):
    """A mapping of the fields that are stated, in their order. As an answer's part it has no columns in a table."""

    def __iter__(self) -> Iterator[str]:
        """The names of what is stated."""
        return (name for name in self.__struct_fields__ if getattr(self, name) is not UNSET)

    def __len__(self) -> int:
        """How many are stated."""
        return sum(1 for _ in self)

    def __getitem__(self, name: str) -> T:
        """What is stated under a name. Raises KeyError where nothing is."""
        value: T | UnsetType = getattr(self, name, UNSET)
        if isinstance(value, UnsetType):
            raise KeyError(name)
        return value

    def __contains__(self, name: object) -> bool:
        """Whether something is stated under a name."""
        return name in tuple(self)

    def get(self, name: str, default: T | None = None) -> T | None:
        """What is stated under a name, else the default."""
        return dict(self.items()).get(name, default)

    def items(self) -> list[tuple[str, T]]:
        """Each name with what is stated under it."""
        return [(name, self[name]) for name in self]

    def keys(self) -> list[str]:
        """The names of what is stated."""
        return list(self)

    def values(self) -> list[T]:
        """All that is stated."""
        return [self[name] for name in self]
