"""The demo scenario in readable text: an invented lifter whose front squats hurt the low back, in kilograms."""

from __future__ import annotations

import textwrap
from typing import Any

import msgspec

from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader

WIDTH = 100


def report() -> str:
    """Every example of every operation with its whole answer, the main job first."""
    parts = []
    for operation in OPERATIONS:
        reader: Reader[Any] = Reader(operation.request)
        for example in operation.examples:
            answer = operation.compute(reader.read(msgspec.json.encode(example.request)))
            parts.append(f"== {operation.summary}: {example.summary} (POST {operation.path})\n")
            parts.append(_lines(msgspec.to_builtins(answer)))
    return "\n".join(parts)


def _lines(value: Any, depth: int = 0) -> str:
    """A value as indented text: quantities and estimates on one line, text wrapped."""
    indent = "  " * depth
    if isinstance(value, dict):
        return "".join(
            f"{indent}{key}: {short}\n"
            if (short := _short(item)) is not None
            else f"{indent}{key}:\n{_lines(item, depth + 1)}"
            for key, item in value.items()
        )
    return "".join(
        textwrap.fill(f"- {short}", WIDTH, initial_indent=indent, subsequent_indent=indent + "  ") + "\n"
        if (short := _short(item)) is not None
        else f"{indent}-\n{_lines(item, depth + 1)}"
        for item in value
    )


def _short(value: Any) -> str | None:
    """A value that fits on a line; None for one that needs its own."""
    if value in ([], {}):
        return "none"
    if isinstance(value, dict):
        if value.keys() == {"value", "unit"}:
            return f"{value['value']:g} {value['unit']}"
        if value.keys() == {"code", "values", "text"}:
            return f"{value['text']} [{value['code']}]"
        if "interval" in value:
            if "value" not in value:
                return f"{value['low']:g} to {value['high']:g}"
            unit = f" {value['unit']}" if "unit" in value else ""
            return f"{value['value']:.4g} ({value['low']:.4g} to {value['high']:.4g}){unit}"
        if value.keys() == {"low", "high"}:
            ends = [_short(value["low"]), _short(value["high"])]
            return f"{ends[0]} to {ends[1]}" if None not in ends else None
        return None
    if isinstance(value, list):
        return (
            None
            if any(isinstance(item, dict | list) or len(str(item)) > WIDTH / 2 for item in value)
            else ", ".join(map(str, value))
        )
    return f"{value:g}" if isinstance(value, float) else "not stated" if value is None else str(value)
