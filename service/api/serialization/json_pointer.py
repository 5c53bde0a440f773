"""JSON Pointers (RFC 6901): written for faults, and followed into an answer that a cell or a link selects a part of."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import msgspec
from msgspec import UNSET

from service.http.problems import HttpProblem, ProblemFault, invalid


def pointer(steps: Iterable[str | int]) -> str:
    """The pointer that takes these steps."""
    return "".join("/" + str(step).replace("~", "~0").replace("/", "~1") for step in steps)


def selected(answer: Any, select: str) -> Any:
    """The part of an answer at a pointer. Raises HttpProblem where it leads to nothing."""
    if select and not select.startswith("/"):
        raise unselectable("A JSON Pointer begins with a slash.")
    part = answer
    for step in select.split("/")[1:]:
        name = step.replace("~1", "/").replace("~0", "~")
        if isinstance(part, list) and name.isdecimal() and name == str(int(name)) and int(name) < len(part):
            part = part[int(name)]
        elif isinstance(part, dict) and name in part:
            part = part[name]
        elif isinstance(part, msgspec.Struct) and name in part.__struct_fields__ and getattr(part, name) is not UNSET:
            part = getattr(part, name)
        else:
            raise unselectable(f"{_missing(part, name)}{_decided(answer)}")
    return part


def _missing(part: Any, step: str) -> str:
    if isinstance(part, list) and step.isdecimal():
        return f"The list there has {len(part)} entries, counted from 0." if part else "The list there is empty."
    return "This pointer leads to nothing in the answer."


def _decided(answer: Any) -> str:
    """What a cell that asks for an option needs to say where there is none."""
    decision = getattr(answer, "decision", None)
    return f" Its decision is {decision}." if isinstance(decision, str) else ""


def unselectable(detail: str) -> HttpProblem:
    """The refusal of a part that cannot be selected."""
    return invalid(
        [ProblemFault("", "select", detail, "a JSON Pointer (RFC 6901) into the answer, such as /basis/method")]
    )
