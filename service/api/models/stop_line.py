"""What stops the training, which no choice of columns, fields or cells of an answer may hide."""

from __future__ import annotations

from typing import Any, Final

from service.adjustment.text.decision import STOPS_TODAY
from service.messages import Message

STOP: Final = "stop"
"""The column of tables that says it."""
_STOPPING: Final = ("referral", "confirmation", "pause")
"""Fields of an answer of which one is there where it stops the training."""


def can_stop(shape: type[Any]) -> bool:
    """Whether answers of a shape may stop the training."""
    return _STOPPING[0] in getattr(shape, "__struct_fields__", ())


def _today(answer: Any) -> list[Message]:
    """The sentences that stop a lift for today, pain being in the red tier."""
    return [one for one in getattr(answer, "why", ()) if one.code in STOPS_TODAY]


def stopping_fields(answer: Any) -> tuple[str, ...]:
    """The names of the fields that stop the training, with the decision; none where nothing does."""
    stopping = tuple(name for name in _STOPPING if getattr(answer, name, None) is not None)
    if not stopping and _today(answer):
        stopping = ("why",)
    return ("decision", *stopping) if stopping else ()


def stop_line(answer: Any) -> str:
    """The decision and what to do first, in one line; empty where nothing stops the training."""
    referral, confirmation, pause = (getattr(answer, name, None) for name in _STOPPING)
    first = _today(answer)
    if pause is not None:
        professional = pause.professional
        first = [pause.what_to_do, pause.look_again.message]
        first += [professional.what_to_do] if professional.required_first else []
    first += [*confirmation.what_to_do, confirmation.stop_rule] if confirmation is not None else []
    first += [referral.what_to_do, referral.stop_rule] if referral is not None else []
    return f"{answer.decision}: {' '.join(one.text for one in first)}" if first else ""
