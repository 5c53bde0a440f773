"""Refusals: the one exception by which pure functions reject their arguments.

A refusal carries facts (which argument, what is wrong with it, what would be allowed) and nothing of HTTP. Functions
name their own argument; each caller prefixes the path by which it got the value, so that in the end the pointer leads
into the request that the client sent.
"""

from __future__ import annotations

from typing import Self

import msgspec

from service.messages import Message


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
    def one(cls, parameter: str, detail: str | Message, allowed: str | None = None) -> Self:
        """A refusal of a single argument, by its name."""
        reason = detail if isinstance(detail, Message) else None
        text = detail if isinstance(detail, str) else detail.text
        return cls((Fault(f"/{parameter}" if parameter else "", text, allowed),), reason)

    def under(self, prefix: str) -> Refusal:
        """The same refusal seen from one level further out: `prefix` is the pointer that leads to the argument."""
        faults = tuple(Fault(prefix + fault.pointer, fault.detail, fault.allowed) for fault in self.faults)
        return Refusal(faults, self._reason)

    def at(self, pointers: dict[str, str]) -> Refusal:
        """The same refusal with argument names replaced by the pointers under which the request carried them."""
        faults = tuple(
            Fault(pointers.get(fault.pointer, fault.pointer), fault.detail, fault.allowed) for fault in self.faults
        )
        return Refusal(faults, self._reason)
