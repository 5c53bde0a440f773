"""Refusals: the one exception by which pure functions reject their arguments.

A refusal carries facts (which argument, what is wrong with it, what would be allowed) and nothing of HTTP. Functions
name their own argument; each caller prefixes the path by which it got the value, so that in the end the pointer leads
into the request that the client sent.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from typing import Any, Literal, Self

import msgspec
from msgspec.structs import replace

from service.messages import Message


class Fault(msgspec.Struct, frozen=True, omit_defaults=True):
    """One fault of a request.

    Attributes:
        pointer: JSON Pointer (RFC 6901) to the value
        detail: what is wrong, and why
        allowed: what would be accepted
        example: JSON of a value that would be accepted
        did_you_mean: values, names or pointers that may be meant
        change: what has to be added to the stated value to make it one that is accepted [SI of a quantity, else plain]
        of_json: which of the words hold for the JSON form alone: none, what is allowed, or the detail too
        or_else: pointers to others that take part, the first of which that is stated is named where `pointer` is not
    """

    pointer: str
    detail: str
    allowed: str | None = None
    example: bytes | None = None
    did_you_mean: tuple[str, ...] = ()
    change: float | None = None
    of_json: Literal["none", "allowed", "all"] = "none"
    or_else: tuple[str, ...] = ()


def into(value: float, low: float = -inf, high: float = inf) -> float:
    """What has to be added to a value to bring it into a range."""
    return min(max(value, low), high) - value


class Refusal(Exception):
    """A request outside the range that a method supports; never a failure of the service."""

    def __init__(self, faults: tuple[Fault, ...], reason: Message | None = None) -> None:
        """reason: what is wrong as a message, where an answer may have to say it of something that was tried."""
        super().__init__("; ".join(f"{fault.pointer}: {fault.detail}" for fault in faults))
        self.faults = faults
        self._reason = reason

    @property
    def reason(self) -> Message:
        """What is wrong, for an answer. Raises LookupError where it is not a message."""
        if self._reason is None:
            raise LookupError(f"not a message: {self}")
        return self._reason

    @classmethod
    def one(
        cls,
        parameter: str,
        detail: str | Message,
        allowed: str | None = None,
        *,
        change: float | None = None,
        one_of: Sequence[Any] = (),
        or_else: tuple[str, ...] = (),
    ) -> Self:
        """A refusal of a single argument.

        Args:
            parameter: its name
            detail: what is wrong
            allowed: what would be accepted
            change: what has to be added to its value [SI of a quantity, else plain]
            one_of: values that would be accepted, as a request states them
            or_else: names of others that take part
        """
        reason = detail if isinstance(detail, Message) else None
        text = detail if isinstance(detail, str) else detail.text
        others = tuple(f"/{other}" for other in or_else)
        example = msgspec.json.encode(one_of[0]) if one_of else None
        where = f"/{parameter}" if parameter else ""
        return cls((Fault(where, text, allowed, example, change=change, or_else=others),), reason)

    def under(self, prefix: str) -> Refusal:
        """The same refusal seen from one level further out: `prefix` is the pointer that leads to the argument."""
        return self._with(lambda pointer: prefix + pointer)

    def at(self, pointers: dict[str, str]) -> Refusal:
        """The same refusal with argument names replaced by the pointers under which the request carried them."""
        return self._with(lambda pointer: pointers.get(pointer, pointer))

    def where_stated(self, is_stated: Callable[[str], bool], otherwise: str) -> Refusal:
        """The same refusal at what the caller stated of what takes part in a fault; `otherwise` where that is none."""

        def located(fault: Fault) -> Fault:
            if is_stated(fault.pointer):
                return replace(fault, or_else=())
            pointer = next(filter(is_stated, fault.or_else), otherwise)
            return replace(fault, pointer=pointer, or_else=(), change=None, example=None)  # those were of its value

        return self.with_faults(located)

    def with_faults(self, changed: Callable[[Fault], Fault]) -> Refusal:
        """The same refusal with each fault as `changed` makes it."""
        return Refusal(tuple(map(changed, self.faults)), self._reason)

    def _with(self, renamed: Callable[[str], str]) -> Refusal:
        return self.with_faults(
            lambda fault: replace(fault, pointer=renamed(fault.pointer), or_else=tuple(map(renamed, fault.or_else)))
        )
