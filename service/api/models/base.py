"""The two kinds of structs of the interface, and how the optional fields of a request are read."""

from __future__ import annotations

from typing import Any, TypeVar

import msgspec
from msgspec import UNSET, UnsetType

from service.units import Angle, Duration, Length, Mass, si

T = TypeVar("T")
Default = TypeVar("Default")


class RequestModel(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, gc=False):
    """A request shape: immutable, and closed to fields that it does not know."""


class ResponseModel(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """An answer shape. Answers may grow new fields; clients ignore those they do not know."""


def omitted(value: Any) -> bool:
    """Whether a request leaves a field out."""
    return value is UNSET


def or_default(value: T | UnsetType, default: Default) -> T | Default:
    """The value of a field, or a default where the request leaves it out."""
    return default if isinstance(value, UnsetType) else value


def stated(value: T | UnsetType) -> T | None:
    """The value of a field, None where the request leaves it out."""
    return or_default(value, None)


def stated_si(quantity: Mass | Length | Angle | Duration | UnsetType | None) -> float | None:
    """A quantity in SI units, None where the request leaves it out or says null."""
    return None if quantity is None or isinstance(quantity, UnsetType) else si(quantity)


def stated_count(value: float | UnsetType | None) -> int | None:
    """A whole number as an integer, None where the request leaves it out or says null."""
    return None if value is None or isinstance(value, UnsetType) else int(value)


def states(part: object, pointer: str) -> bool:
    """Whether a part of a request states the field at a pointer into it."""
    for step in pointer.split("/")[1:]:
        part = getattr(part, step, None)
    return not (part is None or isinstance(part, UnsetType))
