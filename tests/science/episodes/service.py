"""The operations as software uses them: bytes of JSON in, bytes of JSON out, without the HTTP between."""

from __future__ import annotations

import msgspec

from service.errors import Refusal
from tests.science.episodes.prescribed import Json
from tests.support.asking import ask


class Visit(msgspec.Struct, frozen=True):
    """One question with its answer.

    Attributes:
        day: since the start [days]
        operation: the one that was asked
        request: as it was sent
        answer: as it came back; None where the request was refused
        refusal: pointers and words of a refusal
    """

    day: int
    operation: str
    request: Json
    answer: Json | None
    refusal: tuple[str, ...] = ()


def visit(day: int, operation: str, request: Json) -> Visit:
    """Ask an operation: the request is decoded, handled and its answer encoded as the service does."""
    try:
        answer = msgspec.json.decode(msgspec.json.encode(ask(operation, request)), type=dict)
    except Refusal as refusal:
        faults = tuple(f"{operation} {fault.pointer}: {fault.detail}" for fault in refusal.faults)
        return Visit(day, operation, request, None, faults)
    return Visit(day, operation, request, answer)
