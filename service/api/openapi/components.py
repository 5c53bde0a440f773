"""The last step of the description: what clients are generated from and linters ask for, and structs do not say.

Every list of values and every map gets a name of its own, so that generated clients have one type for one thing. What
only answers hold gets limits, so that a client knows how much to expect.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final, get_args

from service.api.openapi.constraints import INSIDE, LONGEST_ADDRESS, header, integers, limited, texts
from service.api.openapi.middleware_responses import HEADERS, SCHEMES, SECURITY, with_middleware_responses
from service.api.serialization.schema import REFERENCE
from service.http.problems import KINDS
from service.knowledge.catalogue import EXERCISES, REGIONS, SOURCES
from service.knowledge.records import Known
from service.knowledge.signs import SIGNS
from service.mechanics.seen import SeenBy
from service.mechanics.setups import StanceWidth
from service.training.load_repetition import RELATIONS
from service.units import AngleUnit, LengthUnit, MassUnit, TimeUnit
from service.vocabulary import LEVERS, Difference, Direction, Implement, Side

Schema = dict[str, Any]

# Lists of values that several shapes share, with their name and description.
SHARED: Final = {
    frozenset(EXERCISES): ("ExerciseId", "Id of an exercise, see GET /v1/exercises."),
    frozenset(RELATIONS): ("RelationId", "Id of a load–repetition relation, see GET /v1/relations."),
    frozenset(REGIONS): ("RegionId", "Id of a region of the body, see GET /v1/regions."),
    frozenset(SIGNS): ("SignId", "Id of a red flag, see GET /v1/signs."),
    frozenset(SOURCES): ("SourceId", "Id of a source, see GET /v1/sources."),
    frozenset(LEVERS): ("Lever", "What an adjustment changes in a prescription."),
    frozenset(get_args(Implement)): ("Implement", "What is lifted in an exercise."),
    frozenset(get_args(Side)): ("Side", "Side of the body: one of the two, or both."),
    frozenset(get_args(Known)): ("Known", "How far we know what stands behind a figure."),
    frozenset(get_args(MassUnit)): ("MassUnit", "Unit of a mass, kilograms or pounds."),
    frozenset(get_args(LengthUnit)): ("LengthUnit", "Unit of a length, metric or imperial."),
    frozenset(get_args(AngleUnit)): ("AngleUnit", "Unit of an angle, degrees or radians."),
    frozenset(get_args(TimeUnit)): ("TimeUnit", "Unit of a time, seconds or minutes."),
    frozenset(get_args(Difference)): ("Difference", "How a demand compares, where it is clear."),
    frozenset(get_args(Direction)): ("Direction", "How a demand compares, if known."),
    frozenset({"json", "svg", "png"}): ("JsonOrPicture", "Form of the answer, JSON or a picture (SVG or PNG)."),
    frozenset({"json", "csv", "text"}): ("JsonOrCells", "Form of the answer, JSON, CSV or one bare cell."),
    frozenset({"json", "csv", "text", "svg", "png"}): (
        "AnyForm",
        "Form of the answer, JSON, CSV, one bare cell or a picture.",
    ),
    frozenset(get_args(SeenBy)): ("SeenBy", "How an angle was seen."),
    frozenset(get_args(StanceWidth)): ("StanceWidth", "Width of the stance, by the feet."),
}
# The catalogue grows: a client must take an id in an answer that it does not know.
GROWING: Final = frozenset({"ExerciseId", "RelationId", "RegionId", "SignId", "SourceId"})
MAY_GROW: Final = "x-may-grow"


def finished(document: dict[str, Any]) -> dict[str, Any]:
    """The description with a name for every list of values and map, limits on answers, and nothing that is not used."""
    names: dict[str, Schema] = {}
    named = {name: _lifted(schema, name, names, top=True) for name, schema in _schemas(document).items()}
    paths = {
        path: {
            method: _operation(with_middleware_responses(path, operation), names)
            for method, operation in methods.items()
        }
        for path, methods in document["paths"].items()
    }
    named |= names
    shared: dict[str, dict[str, Any]] = {}
    asked = _reached(_operations(paths, "parameters", "requestBody"), named)
    answered = _reached(_operations(paths, "responses"), named)
    schemas = {
        name: limited(schema, name) if name not in asked else integers(schema)
        for name, schema in sorted(named.items())
        if name in asked or name in answered
    }
    headers = document["components"].get("headers", {}) | HEADERS
    paths = {
        path: {method: _with_shared_problems(operation, shared) for method, operation in methods.items()}
        for path, methods in paths.items()
    }
    components = {
        "schemas": schemas,
        "responses": shared,
        "headers": {name: header(described) for name, described in headers.items()},
        "securitySchemes": SCHEMES,
    }
    return document | {"security": SECURITY, "paths": paths, "components": document["components"] | components}


def _with_shared_problems(operation: dict[str, Any], shared: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """The operation with references to its problems, which it has in common with others; kept in `shared` by name."""
    answers = {}
    for status, answer in operation["responses"].items():
        kinds = [
            kind for form in answer.get("content", {}).values() for kind in form.get("examples", {}) if kind in KINDS
        ]
        if not kinds:
            answers[status] = answer
            continue
        name = _camel(kinds[0].replace("-", "_"))
        name += "OrLine" if "text/plain" in answer["content"] else ""
        name += "" if "RateLimit" in answer.get("headers", {}) else "OfHealth"
        if shared.setdefault(name, answer) != answer:
            raise ValueError(f"Two problems would be called {name} in the description")
        answers[status] = {"$ref": f"#/components/responses/{name}"}
    return operation | {"responses": answers}


def dereferenced(document: dict[str, Any]) -> dict[str, Any]:
    """The description with references replaced by what they lead to, for a reader that follows none."""
    paths = {
        path: {method: operation | _dereferenced(operation, document) for method, operation in methods.items()}
        for path, methods in document["paths"].items()
    }
    return document | {"paths": paths}


def _dereferenced(operation: dict[str, Any], document: dict[str, Any]) -> dict[str, Any]:
    parameters = []
    for parameter in operation.get("parameters", []):
        schema = parameter["schema"]
        if "$ref" in schema:
            schema = _schemas(document)[schema["$ref"].rpartition("/")[2]] | schema
        elif "const" in schema:
            schema = {"enum": [schema["const"]]} | schema
        parameters.append(parameter | {"schema": schema})
    shared = document["components"]["responses"]
    answers = {
        status: shared[answer["$ref"].rpartition("/")[2]] if "$ref" in answer else answer
        for status, answer in operation["responses"].items()
    }
    return {"parameters": parameters, "responses": answers} if parameters else {"responses": answers}


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
        return _values(schema, owner, names)
    lifted = dict(schema)
    if "properties" in schema:
        lifted["properties"] = {
            name: _lifted(field, owner + _camel(name), names) for name, field in schema["properties"].items()
        }
    for key in INSIDE:
        if key in schema:
            inner = f"{owner}Value" if key == "additionalProperties" else owner
            lifted[key] = _lifted(schema[key], inner, names)
    if "anyOf" in lifted and "discriminator" in lifted:
        lifted["oneOf"] = lifted.pop("anyOf")  # exactly one fits, and generators look for the word
    if schema.get("type") == "object" and not top:
        names[owner] = {"description": f"What {owner} holds, by name."} | lifted
        return {"$ref": REFERENCE.format(name=owner)}
    return lifted


def _values(schema: Schema, owner: str, names: dict[str, Schema]) -> Schema:
    values = schema["enum"]
    kind = "string" if all(isinstance(value, str) for value in values) else "integer"
    around = {key: value for key, value in schema.items() if key not in ("enum", "type")}
    if len(values) == 1:
        return {"type": kind, "const": values[0]} | around
    known = next((name for name, listed in names.items() if listed.get("enum") == sorted(values)), owner)
    name, words = SHARED.get(frozenset(values), (known, f"The values that {known} can have."))
    listed: Schema = {"title": name, "description": words, "type": kind, "enum": sorted(values)}
    if name in GROWING:
        listed[MAY_GROW] = True
    names[name] = listed
    return {"$ref": REFERENCE.format(name=name)} | around


def _camel(name: str) -> str:
    return "".join(part[:1].upper() + part[1:] for part in name.split("_"))


def _operation(operation: dict[str, Any], names: dict[str, Schema]) -> dict[str, Any]:
    finished = dict(operation)
    title = operation["operationId"][:1].upper() + operation["operationId"][1:]
    if "parameters" in operation:
        finished["parameters"] = [
            parameter | {"schema": _parameter(parameter["schema"], title + _camel(parameter["name"]), names)}
            for parameter in operation["parameters"]
        ]
    if "requestBody" in operation:
        finished["requestBody"] = texts(
            operation["requestBody"], {"format": "binary"}
        )  # sent as it is, also from a file
    responses = operation["responses"]
    if "default" in responses:
        responses = {"500": responses["default"]} | responses
    finished["responses"] = {status: texts(response) for status, response in sorted(responses.items())}
    return finished


def _parameter(schema: Schema, owner: str, names: dict[str, Schema]) -> Schema:
    lifted: Schema = integers(_lifted(schema, owner, names))
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
