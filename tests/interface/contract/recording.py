"""Recorded answers: what each operation answered to its examples, and under which version.

    python -m tests.interface.contract.recording      records what is not recorded yet, and what has changed

One file an operation in recorded/. A number may change only with a new version of the service and a line in
openapi/CHANGELOG.md, under that version, that names the operation after "Numbers": the recording is refused otherwise.
Changes of words are no changes: a text with a space in it is for people, and so is a message that takes its place; the
code and the values of a message that was recorded as one are held like any others.
"""

from __future__ import annotations

import json
import math
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import msgspec

from service import __version__
from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from tests.support.paths import OPENAPI

RECORDED: Final = Path(__file__).parent / "recorded"
CHANGES: Final = OPENAPI / "CHANGELOG.md"
NOTHING: Final[tuple[Any, ...]] = (None, [], {})
"""What an answer may say by leaving a field out."""
NEXT_DIGIT: Final = 1e-9  # relative: mathematical libraries differ in the last digits


class Recorded(msgspec.Struct):
    """An operation's questions and answers, and the version that gave these answers first."""

    version: str
    answers: dict[str, dict[str, Any]]


def file_of(operation: Operation) -> Path:
    """Where an operation's answers are recorded."""
    return RECORDED / f"{operation.name}.json"


def read(operation: Operation) -> Recorded:
    """What is recorded of an operation."""
    return msgspec.json.decode(file_of(operation).read_bytes(), type=Recorded)


def answer(operation: Operation, request: Any) -> Any:  # noqa: ANN401 - any JSON
    """What an operation answers now."""
    reader: Reader[Any] = Reader(operation.request)
    return msgspec.json.decode(msgspec.json.encode(operation.compute(reader.read(msgspec.json.encode(request)))))


def differences(old: Any, new: Any, place: str = "") -> Iterator[str]:  # noqa: ANN401 - any JSON
    """Where a new answer is another than the old one. New fields and other words are not."""
    if isinstance(old, dict) and isinstance(new, dict):
        for name, value in old.items():
            if name in new:
                yield from differences(value, new[name], f"{place}/{name}")
            elif value not in NOTHING:
                yield f"{place}/{name}: is gone"
    elif isinstance(old, list) and isinstance(new, list) and all(map(_is_prose, old)) and all(map(_is_said, new)):
        return
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for index, (before, after) in enumerate(zip(old, new, strict=True)):
            yield from differences(before, after, f"{place}/{index}")
    elif not _same(old, new):
        yield f"{place}: {_shown(old)} became {_shown(new)}"


def _same(old: Any, new: Any) -> bool:  # noqa: ANN401
    if _is_number(old) and _is_number(new):
        return math.isclose(old, new, rel_tol=NEXT_DIGIT, abs_tol=0.0)
    return bool(type(old) is type(new) and old == new) or (_is_prose(old) and _is_said(new))


def _is_number(value: Any) -> bool:  # noqa: ANN401
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_prose(value: Any) -> bool:  # noqa: ANN401
    return isinstance(value, str) and " " in value


def _is_said(value: Any) -> bool:  # noqa: ANN401
    return _is_prose(value) or (isinstance(value, dict) and value.keys() == {"code", "values", "text"})


def _shown(value: Any) -> str:  # noqa: ANN401
    return json.dumps(value)[:80]


def changed(operation: Operation) -> list[str]:
    """Where the operation's answers are not the recorded ones any more."""
    return [
        f"{name}{where}"
        for name, found in read(operation).answers.items()
        for where in differences(found["answer"], answer(operation, found["request"]))
    ]


def is_announced(operation: str, version: str, changes: str) -> bool:
    """Whether the changes of a version have a line that says that this operation's numbers are others."""
    section = re.search(rf"^## {re.escape(version)}\b.*?\n(.*?)(?=^## |\Z)", changes, re.MULTILINE | re.DOTALL)
    lines = section.group(1).splitlines() if section else []
    return any(re.match(rf"- Numbers\b.*\b{re.escape(operation)}\b", line) for line in lines)


def refusal(operation: str, recorded_under: str, version: str, changes: str) -> str | None:
    """Why an operation's changed answers may not be recorded; nothing if they may."""
    if recorded_under == version:
        return f"{operation}: its numbers were recorded under {version}. Raise the version in service/__init__.py."
    if not is_announced(operation, version, changes):
        return f'{operation}: openapi/CHANGELOG.md has no line "- Numbers … {operation} …" under {version}.'
    return None


def record() -> int:
    """Record what is new, and what has changed and was announced. The number of refusals."""
    refused = 0
    RECORDED.mkdir(exist_ok=True)
    for operation in OPERATIONS:
        file = file_of(operation)
        if file.exists() and changed(operation):
            why = refusal(operation.name, read(operation).version, __version__, CHANGES.read_text(encoding="utf-8"))
            if why is not None:
                sys.stderr.write(why + "\n")
                refused += 1
                continue
            file.unlink()
        _write(operation)
    return refused


def _write(operation: Operation) -> None:
    """What was recorded stays as it was; questions that are new are added."""
    file = file_of(operation)
    found = read(operation) if file.exists() else Recorded(__version__, {})
    for example in operation.examples:
        if example.name not in found.answers:
            found.answers[example.name] = {"request": example.request, "answer": answer(operation, example.request)}
    file.write_bytes(msgspec.json.format(msgspec.json.encode(found), indent=1) + b"\n")


if __name__ == "__main__":
    sys.exit(record())
