"""Answers that are problems, as OpenAPI has them."""

from __future__ import annotations

from typing import Any

import msgspec

from service.http.media_types import PROBLEM
from service.http.problems import KINDS, HttpProblem, ProblemFault, invalid


def problem_response(*kinds: str, line: str | None = None) -> dict[str, Any]:
    """An answer that is a problem of one of these kinds; `line`: an example of it as the text in which cells get it."""
    content: dict[str, Any] = {
        PROBLEM.decode(): {
            "schema": {"$ref": "#/components/schemas/Problem"},
            "examples": {kind: {"value": _example(kind)} for kind in kinds},
        }
    }
    if line is not None:
        content["text/plain"] = {"schema": {"type": "string"}, "examples": {kinds[0]: {"value": line}}}
    return {"description": " Or: ".join(KINDS[kind].meaning for kind in kinds), "content": content}


def problem_responses(kinds: dict[str, str]) -> dict[str, Any]:
    """An answer for each status, from the kind of problem that it has."""
    return {status: problem_response(kind) for status, kind in kinds.items()}


def _example(kind: str) -> dict[str, Any]:
    problem = HttpProblem(kind, KINDS[kind].meaning)
    if kind == "invalid":
        problem = invalid(
            [
                ProblemFault("/set/reps_in_reserve", detail="The value is too large.", allowed="0 to 4", example=2),
                ProblemFault(
                    "/set/load/unit",
                    detail="The value is not one of those known here. Did you mean kg?",
                    allowed="one of: kg, lb",
                    example="kg",
                    did_you_mean=("kg",),
                ),
            ]
        )
    value: dict[str, Any] = msgspec.json.decode(problem.body)
    return value
