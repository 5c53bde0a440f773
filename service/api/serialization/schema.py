"""JSON Schemas of the request and answer shapes, as published in the OpenAPI description and used to explain faults.

msgspec derives them from the structs; here they only get the words of each field, what JSON tells apart and a float bound does not (a number that
must be a multiple of one is an integer), the end of a text as ECMA-262 writes it, and a form that every generator of clients reads (a pair is an array of two).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import msgspec
from msgspec import inspect

from service.api.serialization.words import words_of

REFERENCE = "#/components/schemas/{name}"
REQUEST_ONLY = ("minimum", "maximum", "minLength", "maxLength", "pattern", "additionalProperties")


def components(types: Iterable[Any]) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The schema of each type (a reference) and all named schemas behind them."""
    listed = list(types)
    references, named = msgspec.json.schema_components(listed, ref_template=REFERENCE)
    shapes: dict[str, type[Any]] = {}
    for info in inspect.multi_type_info(listed):
        _collect(info, shapes)
    return list(references), {name: _worded(_tidy(schema), shapes) for name, schema in sorted(named.items())}


def _collect(part: Any, shapes: dict[str, type[Any]]) -> None:
    """Add every struct that a type is made of, by its name."""
    if isinstance(part, tuple):
        for item in part:
            _collect(item, shapes)
    elif isinstance(part, inspect.Type | inspect.Field):
        if isinstance(part, inspect.StructType):
            if part.cls.__name__ in shapes:
                return
            shapes[part.cls.__name__] = part.cls
        for name in part.__struct_fields__:
            _collect(getattr(part, name), shapes)


def _worded(schema: dict[str, Any], shapes: dict[str, type[Any]]) -> dict[str, Any]:
    """The schema of a struct with the words of its docstring, each field's with the field."""
    words = words_of(shapes[schema["title"].partition("[")[0]])
    properties = {
        name: field | ({"description": words.fields[name]} if name in words.fields else {})
        for name, field in schema["properties"].items()
    }
    return schema | {"description": words.summary, "properties": properties}


def described(requests: Iterable[Any], answers: Iterable[Any]) -> tuple[dict[Any, dict[str, Any]], dict[str, Any]]:
    """The schema of each shape (a reference), by shape, and all named schemas behind them.

    A shape that both requests and answers use is described twice: what an answer sums up may lie outside the bounds of
    what can be asked, and answers may grow fields. The answer's description is called so: MassAnswer beside Mass.
    """
    requested, answered = list(requests), list(answers)
    references, named = components(requested)
    answer_references, answer_named = components(answered)
    new_names = {
        REFERENCE.format(name=name): REFERENCE.format(name=f"{name}Answer")
        for name in named.keys() & answer_named.keys()
    }
    for name, schema in answer_named.items():
        if name in named:
            words = {"title": f"{name}Answer", "description": f"{name} in an answer, without the bounds of a request."}
            named[f"{name}Answer"] = _opened(schema, new_names) | words
        else:
            named[name] = _renamed(schema, new_names)
    by_shape = dict(zip(requested, references, strict=True))
    by_shape |= dict(zip(answered, _renamed(answer_references, new_names), strict=True))
    return by_shape, dict(sorted(named.items()))


def _renamed(schema: Any, new_names: dict[str, str]) -> Any:
    if isinstance(schema, list):
        return [_renamed(item, new_names) for item in schema]
    if not isinstance(schema, dict):
        return new_names.get(schema, schema) if isinstance(schema, str) else schema
    return {key: _renamed(value, new_names) for key, value in schema.items()}


def _opened(schema: Any, new_names: dict[str, str]) -> Any:
    """A schema without what holds for requests alone."""
    if isinstance(schema, list):
        return [_opened(item, new_names) for item in schema]
    if not isinstance(schema, dict):
        return _renamed(schema, new_names)
    return {key: _opened(value, new_names) for key, value in schema.items() if key not in REQUEST_ONLY}


def in_json_schema(pattern: str) -> str:
    r"""A pattern of a struct as JSON Schema writes it: in ECMA-262 `$` is the end of the text, which Python calls `\Z`.

    Python's own `$` also matches before a last newline, so no struct may use it.
    """
    return pattern.replace(r"\Z", "$")


def _tidy(schema: Any) -> Any:
    if isinstance(schema, list):
        return [_tidy(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    tidy = {key: _tidy(value) for key, value in schema.items()}
    if "pattern" in tidy:
        tidy["pattern"] = in_json_schema(tidy["pattern"])
    if tidy.get("multipleOf") == 1:
        del tidy["multipleOf"]
        tidy["type"] = "integer"
    if "prefixItems" in tidy and all(item == tidy["prefixItems"][0] for item in tidy["prefixItems"]):
        tidy["items"] = tidy.pop("prefixItems")[0]
    return tidy
