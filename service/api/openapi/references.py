"""What stands once in the description, examples, problems and parameters, and the references that lead there."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any, Final

import msgspec

from service.http.problems import KINDS

FORMS: Final = {
    "application/json": "",
    "application/problem+json": "",
    "text/csv": "Table",
    "text/plain": "Cell",
}
"""What the name of an example says of its media type."""
Kept = dict[str, dict[str, Any]]


def camel(text: str) -> str:
    """Words between any signs as one name: /rep-targets is RepTargets."""
    return "".join(word[:1].upper() + word[1:] for word in re.split(r"[^A-Za-z0-9]+", text))


def with_references(document: dict[str, Any]) -> dict[str, Any]:
    """The description with what several operations show in its components once, and references to it."""
    problems: Kept = {}
    examples: Kept = {}
    parameters = _in_common(document)
    paths = {}
    for path, methods in document["paths"].items():
        owner = camel(path.removeprefix("/v1"))
        paths[path] = {
            method: _with_parameters(_with_examples(owner, _with_problems(operation, problems), examples), parameters)
            for method, operation in methods.items()
        }
    responses = {name: _with_example(problem, "", "Problem", examples) for name, problem in problems.items()}
    shared = {"examples": dict(sorted(examples.items())), "responses": responses, "parameters": parameters}
    return document | {"paths": paths, "components": document["components"] | shared}


def _in_common(document: dict[str, Any]) -> Kept:
    """The parameters that several operations have alike, by name; of those of one name what most of them have."""
    alike = Counter(
        msgspec.json.encode(parameter)
        for methods in document["paths"].values()
        for operation in methods.values()
        for parameter in operation.get("parameters", [])
    )
    kept: Kept = {}
    for encoded, count in alike.most_common():
        parameter = msgspec.json.decode(encoded)
        if count > 1:
            kept.setdefault(camel(parameter["name"]), parameter)
    return dict(sorted(kept.items()))


def _with_parameters(operation: dict[str, Any], kept: Kept) -> dict[str, Any]:
    """The operation with references to the parameters that are kept."""
    if "parameters" not in operation:
        return operation
    named = [(camel(parameter["name"]), parameter) for parameter in operation["parameters"]]
    parameters = [
        {"$ref": f"#/components/parameters/{name}"} if kept.get(name) == parameter else parameter
        for name, parameter in named
    ]
    return operation | {"parameters": parameters}


def _with_problems(operation: dict[str, Any], kept: Kept) -> dict[str, Any]:
    """The operation with references to its problems, which it has in common with others; kept by name."""
    answers = {}
    for status, answer in operation["responses"].items():
        kinds = [
            kind for form in answer.get("content", {}).values() for kind in form.get("examples", {}) if kind in KINDS
        ]
        if not kinds:
            answers[status] = answer
            continue
        name = camel(kinds[0])
        name += "OrLine" if "text/plain" in answer["content"] else ""
        name += "" if "RateLimit" in answer.get("headers", {}) else "OfHealth"
        answers[status] = _reference("responses", name, answer, kept)
    return operation | {"responses": answers}


def _with_examples(owner: str, operation: dict[str, Any], kept: Kept) -> dict[str, Any]:
    """The operation with references to its examples, whose names begin with `owner`; kept by name."""
    answers = operation["responses"].items()
    parts: dict[str, Any] = {
        "responses": {status: _with_example(answer, owner, "Answer", kept) for status, answer in answers}
    }
    if "requestBody" in operation:
        parts["requestBody"] = _with_example(operation["requestBody"], owner, "Question", kept)
    return operation | parts


def _with_example(part: dict[str, Any], owner: str, kind: str, kept: Kept) -> dict[str, Any]:
    content = {
        media_type: form
        | {
            "examples": {
                label: _reference("examples", f"{owner}{camel(label)}{kind}{FORMS[media_type]}", example, kept)
                for label, example in form["examples"].items()
            }
        }
        if "examples" in form
        else form
        for media_type, form in part.get("content", {}).items()
    }
    return part | ({"content": content} if content else {})


def _reference(place: str, name: str, what: dict[str, Any], kept: Kept) -> dict[str, str]:
    if kept.setdefault(name, what) != what:
        raise ValueError(f"Two {place} would be called {name} in the description")
    return {"$ref": f"#/components/{place}/{name}"}
