"""The last step of the description: what clients are generated from and linters ask for, and structs do not say.

Every list of values, every map and every union gets a name of its own, so that generated clients have one type for one
thing. Lists that only answers hold get limits, so that a client knows how much to expect.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from service.api.openapi.closed_lists import CLOSED_LISTS
from service.api.openapi.constraints import INSIDE, LONGEST_ADDRESS, header, limited, sized
from service.api.openapi.languages import HEADERS as LANGUAGE_HEADERS
from service.api.openapi.languages import with_languages
from service.api.openapi.middleware_responses import HEADERS, SCHEMES, SECURITY, with_middleware_responses
from service.api.openapi.references import camel, with_references
from service.api.serialization.schema import REFERENCE

Schema = dict[str, Any]


def finished(document: dict[str, Any]) -> dict[str, Any]:
    """The description with a name for every list of values, map and union, limits on answers, and nothing that is not used."""
    names: dict[str, Schema] = {}
    named = {name: _lifted(schema, name, names, top=True) for name, schema in _schemas(document).items()}
    paths = {
        path: {
            method: _operation(with_middleware_responses(path, with_languages(path, operation)), names)
            for method, operation in methods.items()
        }
        for path, methods in document["paths"].items()
    }
    named |= names
    asked = _reached(_operations(paths, "parameters", "requestBody"), named)
    answered = _reached(_operations(paths, "responses"), named)
    schemas = {
        name: sized(schema if name in asked else limited(schema))
        for name, schema in sorted(named.items())
        if name in asked or name in answered
    }
    headers = document["components"].get("headers", {}) | HEADERS | LANGUAGE_HEADERS
    components = {
        "schemas": schemas,
        "headers": {name: header(described) for name, described in headers.items()},
        "securitySchemes": SCHEMES,
    }
    return with_references(document | {"security": SECURITY, "paths": paths, "components": components})


def _schemas(document: dict[str, Any]) -> dict[str, Schema]:
    schemas: dict[str, Schema] = document["components"]["schemas"]
    return schemas


def _operations(paths: dict[str, Any], *keys: str) -> Iterator[Any]:
    for methods in paths.values():
        for operation in methods.values():
            for key in keys:
                yield operation.get(key)


# --- names -----------------------------------------------------------------------------------------------------------
def _lifted(schema: Any, owner: str, names: dict[str, Schema], *, top: bool = False) -> Any:
    """A schema whose lists of values and maps are references to named ones; `owner` names what has no shared name."""
    if isinstance(schema, list):
        return [_lifted(item, owner, names) for item in schema]
    if not isinstance(schema, dict):
        return schema
    if "enum" in schema:
        return _values(schema, names)
    lifted = dict(schema)
    if "properties" in schema:
        lifted["properties"] = {
            name: _lifted(field, owner + camel(name), names) for name, field in schema["properties"].items()
        }
    for key in INSIDE:
        if key in schema:
            inner = f"{owner}Value" if key == "additionalProperties" else owner
            lifted[key] = _lifted(schema[key], inner, names)
    if "anyOf" in lifted and "discriminator" in lifted:
        lifted["oneOf"] = lifted.pop("anyOf")  # exactly one fits, and generators look for the word
    if top or not (schema.get("type") == "object" or "title" in schema):
        return lifted
    name = schema.get("title", owner)
    names[name] = lifted
    return {"$ref": REFERENCE.format(name=name), "description": lifted["description"]}


def _values(schema: Schema, names: dict[str, Schema]) -> Schema:
    values = schema["enum"]
    around = {key: value for key, value in schema.items() if key not in ("enum", "type")}
    if len(values) == 1:
        return {"type": "string" if isinstance(values[0], str) else "integer", "const": values[0]} | around
    listed = CLOSED_LISTS[frozenset(values)]
    names[listed.name] = listed.schema(values)
    return {"$ref": REFERENCE.format(name=listed.name)} | around


def _operation(operation: dict[str, Any], names: dict[str, Schema]) -> dict[str, Any]:
    finished = dict(operation)
    title = operation["operationId"][:1].upper() + operation["operationId"][1:]
    if "parameters" in operation:
        finished["parameters"] = [
            parameter | {"schema": _parameter(parameter, title + camel(parameter["name"]), names)}
            for parameter in operation["parameters"]
        ]
    responses = operation["responses"]
    if "default" in responses:
        responses = {"500": responses["default"]} | responses
    finished["responses"] = dict(sorted(responses.items()))
    return finished


def _parameter(parameter: dict[str, Any], owner: str, names: dict[str, Schema]) -> Schema:
    """The schema of a parameter; every text in a query has a longest length."""
    lifted: Schema = sized(_lifted(parameter["schema"], owner, names))
    if parameter["in"] == "header":
        return lifted
    return (
        {"maxLength": LONGEST_ADDRESS} | lifted if lifted.get("type") == "string" and "const" not in lifted else lifted
    )


# --- what is used ----------------------------------------------------------------------------------------------------
def _reached(parts: Iterable[Any], named: dict[str, Schema]) -> set[str]:
    """The names of all schemas that these parts of the description lead to."""
    reached: set[str] = set()
    waiting = [name for part in parts for name in _referred(part)]
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting += _referred(named[name])
    return reached


def _referred(part: Any) -> Iterator[str]:
    if isinstance(part, list):
        for item in part:
            yield from _referred(item)
    elif isinstance(part, dict):
        reference = part.get("$ref")
        prefix = REFERENCE.format(name="")
        if isinstance(reference, str) and reference.startswith(prefix):
            yield reference.removeprefix(prefix)
        for key, value in part.items():
            if key not in ("examples", "example"):
                yield from _referred(value)
