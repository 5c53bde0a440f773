"""Refusals: the one exception by which pure functions reject their arguments.

A refusal carries facts (which argument, what is wrong with it, what would be allowed) and nothing of HTTP. Functions
name their own argument; each caller prefixes the path by which it got the value, so that in the end the pointer leads
into the request that the client sent.
"""

from __future__ import annotations

from typing import Self

import msgspec


class Fault(msgspec.Struct, frozen=True, omit_defaults=True):
    """One fault of a request.

    Attributes:
        pointer: JSON Pointer (RFC 6901) to the value
        detail: what is wrong, and why
        allowed: what would be accepted
    """

    pointer: str
    detail: str
    allowed: str | None = None


class Refusal(Exception):
    """A request outside the range that a method supports; never a failure of the service."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{fault.pointer}: {fault.detail}" for fault in faults))
        self.faults = faults

    @classmethod
    def one(cls, parameter: str, detail: str, allowed: str | None = None) -> Self:
        """A refusal of a single argument, by its name."""
        return cls((Fault(f"/{parameter}" if parameter else "", detail, allowed),))

    def under(self, prefix: str) -> Refusal:
        """The same refusal seen from one level further out: `prefix` is the pointer that leads to the argument."""
        return Refusal(tuple(Fault(prefix + fault.pointer, fault.detail, fault.allowed) for fault in self.faults))

    def at(self, pointers: dict[str, str]) -> Refusal:
        """The same refusal with argument names replaced by the pointers under which the request carried them."""
        return Refusal(
            tuple(
                Fault(pointers.get(fault.pointer, fault.pointer), fault.detail, fault.allowed) for fault in self.faults
            ),
        )
