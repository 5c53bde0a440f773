"""What of a new description breaks clients of an old one.

A question that the old description allows must stay allowed with the same meaning, and an answer must stay within what
the old one promised. So the same change can break in one direction alone: a value added to a list of values is
harmless in a question and a surprise in an answer, and a value taken away the other way round.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final, Literal

import msgspec

Schema = dict[str, Any]
Direction = Literal["asked", "answered"]
MAY_GROW: Final = "x-may-grow"
LOWER: Final = ("minimum", "exclusiveMinimum", "minLength", "minItems", "minProperties")
UPPER: Final = ("maximum", "exclusiveMaximum", "maxLength", "maxItems", "maxProperties")
FORMS: Final = ("pattern", "format", "multipleOf", "uniqueItems", "contentMediaType")
ABSENT: Final = object()


class Break(msgspec.Struct, frozen=True):
    """What breaks, and where in the description."""

    place: str
    what: str

    @property
    def subject(self) -> str:
        """The shape, or the method and path of the operation, that the place is in."""
        words = self.place.split()
        return " ".join(words[:2]) if len(words) > 1 and words[1].startswith("/") else self.place.split("/")[0]


def breaks(old: dict[str, Any], new: dict[str, Any]) -> list[Break]:
    """Everything in the new description that breaks clients of the old one, without repeats."""
    return list(dict.fromkeys(_Comparison(old, new).run()))


class _Comparison:
    def __init__(self, old: dict[str, Any], new: dict[str, Any]) -> None:
        self._old = old
        self._new = new
        self._seen: set[tuple[str, str, Direction]] = set()

    def run(self) -> Iterator[Break]:
        for name in _missing(_schemas(self._old), _schemas(self._new)):
            yield Break(name, "the shape's name is gone, and generated clients call a type so")
        for path, methods in self._old["paths"].items():
            for method, operation in methods.items():
                found = self._new["paths"].get(path, {}).get(method)
                where = f"{method.upper()} {path}"
                if found is None:
                    yield Break(where, "the operation is gone")
                else:
                    yield from self._operation(where, operation, found)

    # --- operations --------------------------------------------------------------------------------------------------
    def _operation(self, where: str, old: dict[str, Any], new: dict[str, Any]) -> Iterator[Break]:
        if old["operationId"] != new["operationId"]:
            yield Break(where, f"its id was {old['operationId']}, and generated clients call it so")
        if _open(old, self._old) and not _open(new, self._new):
            yield Break(where, "it asks for a key now")
        yield from self._parameters(where, old, new)
        yield from self._body(f"{where} body", old.get("requestBody", {}), new.get("requestBody", {}))
        yield from self._responses(where, old["responses"], new["responses"])

    def _parameters(self, where: str, old: dict[str, Any], new: dict[str, Any]) -> Iterator[Break]:
        before, after = (
            {(p["in"], p["name"]): p for p in (_resolved(one, whole) for one in found.get("parameters", []))}
            for found, whole in ((old, self._old), (new, self._new))
        )
        for key, parameter in after.items():
            if parameter.get("required") and not before.get(key, {}).get("required"):
                yield Break(f"{where} {key[1]}", "the parameter is required now")
        for key, parameter in before.items():
            place = f"{where} {key[1]}"
            if key not in after:
                yield Break(place, "the parameter is gone")
            else:
                yield from self._field(place, parameter, after[key], optional=not parameter.get("required"))

    def _field(self, place: str, old: dict[str, Any], new: dict[str, Any], *, optional: bool) -> Iterator[Break]:
        yield from self._default(place, old["schema"], new["schema"], optional=optional)
        yield from self._schema(place, old["schema"], new["schema"], "asked")

    def _body(self, where: str, old: dict[str, Any], new: dict[str, Any]) -> Iterator[Break]:
        if new.get("required") and not old.get("required"):
            yield Break(where, "the body is required now")
        yield from self._content(where, old.get("content", {}), new.get("content", {}), "asked")

    def _responses(self, where: str, old: dict[str, Any], new: dict[str, Any]) -> Iterator[Break]:
        for status in _missing(new, old):
            if status.startswith("2"):
                yield Break(f"{where} {status}", "a success of another kind")
        for status, told in old.items():
            place = f"{where} {status}"
            if status not in new:
                yield Break(place, "the response is gone")
                continue
            before, after = _resolved(told, self._old), _resolved(new[status], self._new)
            yield from self._content(place, before.get("content", {}), after.get("content", {}), "answered")
            for name, header in before.get("headers", {}).items():
                yield from self._header(f"{place} {name}", header, after.get("headers", {}).get(name))

    def _header(self, place: str, old: dict[str, Any], new: dict[str, Any] | None) -> Iterator[Break]:
        before = _resolved(old, self._old)
        if new is None:
            yield Break(place, "the header is gone")
            return
        after = _resolved(new, self._new)
        if before.get("required") and not after.get("required"):
            yield Break(place, "the header may be left out now")
        yield from self._schema(place, before["schema"], after["schema"], "answered")

    def _content(self, where: str, old: dict[str, Any], new: dict[str, Any], way: Direction) -> Iterator[Break]:
        for media_type, content in old.items():
            if media_type not in new:
                yield Break(f"{where} {media_type}", "the media type is gone")
            else:
                yield from self._schema(f"{where} {media_type}", content["schema"], new[media_type]["schema"], way)

    # --- schemas -----------------------------------------------------------------------------------------------------
    def _schema(self, place: str, old: Schema, new: Schema, way: Direction) -> Iterator[Break]:
        key = (msgspec.json.encode(_bare(old)).decode(), msgspec.json.encode(_bare(new)).decode(), way)
        if key in self._seen:
            return
        self._seen.add(key)
        before, after = _alternatives(old, self._old), _alternatives(new, self._new)
        grows = any(found.get(MAY_GROW) for found in (old, _resolved(old, self._old)))
        if way == "asked":
            for kind in _missing(before, after):
                yield Break(place, f"{kind} is not taken any more")
        elif not grows:
            for kind in _missing(after, before):
                yield Break(place, f"{kind} can come now")
        if way == "answered" and not before.keys() & after.keys():
            yield Break(place, f"{', '.join(before)} does not come any more")
        for kind, (name, shape) in before.items():
            if kind in after:
                yield from self._same_kind(name or place, shape, after[kind][1], way)

    def _same_kind(self, place: str, old: Schema, new: Schema, way: Direction) -> Iterator[Break]:
        yield from _values(place, old, new, way)
        yield from _bounds(place, old, new, way)
        yield from self._object(place, old, new, way)
        for inner in ("items", "additionalProperties"):
            if isinstance(old.get(inner), dict) and isinstance(new.get(inner), dict):
                yield from self._schema(f"{place}/{inner}", old[inner], new[inner], way)
        if "items" in old and "items" not in new and way == "answered":
            yield Break(place, "its items can be anything now")

    def _object(self, place: str, old: Schema, new: Schema, way: Direction) -> Iterator[Break]:
        before, after = old.get("properties", {}), new.get("properties", {})
        required, required_now = set(old.get("required", [])), set(new.get("required", []))
        if way == "asked":
            for name in sorted(required_now - required):
                yield Break(f"{place}/{name}", "the field is required now")
            if old.get("additionalProperties") is not False and new.get("additionalProperties") is False:
                yield Break(place, "unknown fields are refused now")
        else:
            for name in sorted((required - required_now) & after.keys()):
                yield Break(f"{place}/{name}", "the field may be left out now")
        for name, field in before.items():
            where = f"{place}/{name}"
            if name not in after:
                yield Break(where, "the field is gone")
                continue
            if way == "asked":
                yield from self._default(where, field, after[name], optional=name not in required)
            yield from self._schema(where, field, after[name], way)

    def _default(self, place: str, old: Schema, new: Schema, *, optional: bool) -> Iterator[Break]:
        """Leaving a field out must go on meaning the same; one that had to be given had no meaning to keep."""
        before, after = (found.get("default", ABSENT) for found in (old, new))
        if optional and before != after:
            yield Break(place, "leaving it out means something else now")


def _values(place: str, old: Schema, new: Schema, way: Direction) -> Iterator[Break]:
    before, after = _listed(old), _listed(new)
    if way == "asked" and after is not None:
        if before is None:
            yield Break(place, "only listed values are taken now")
        for value in _missing(before or [], after):
            yield Break(place, f"the value {value} is not taken any more")
    if way == "answered" and before is not None and not old.get(MAY_GROW):
        if after is None:
            yield Break(place, "values that are not listed can come now")
        for value in _missing(after or [], before):
            yield Break(place, f"the value {value} can come now")


def _bounds(place: str, old: Schema, new: Schema, way: Direction) -> Iterator[Break]:
    """A question's bounds may only widen, an answer's only narrow."""
    tight, loose = (new, old) if way == "asked" else (old, new)
    words = "is narrower now" if way == "asked" else "is wider now"
    for keywords, sign in ((LOWER, 1), (UPPER, -1)):
        for keyword in keywords:
            if keyword in tight and (keyword not in loose or sign * tight[keyword] > sign * loose[keyword]):
                yield Break(place, f"{keyword} {words}: {old.get(keyword)} became {new.get(keyword)}")
    for keyword in FORMS:
        if keyword in tight and tight[keyword] != loose.get(keyword) and not _only_size(keyword, tight, loose):
            yield Break(place, f"{keyword} is not what it was: {old.get(keyword)} became {new.get(keyword)}")


def _only_size(keyword: str, tight: Schema, loose: Schema) -> bool:
    """int32 and int64 only say what the bounds say, and those are compared; double is what numbers are anyway."""
    return keyword == "format" and {tight[keyword], loose.get(keyword)} <= {None, "int32", "int64", "double"}


def _listed(schema: Schema) -> list[Any] | None:
    if "const" in schema:
        return [schema["const"]]
    values: list[Any] | None = schema.get("enum")
    return values


def _alternatives(schema: Schema, document: dict[str, Any]) -> dict[str, tuple[str, Schema]]:
    """What a value may be, by kind (a JSON type, or what tells shapes apart), each with its name if it has one."""
    name = schema["$ref"].rpartition("/")[2] if "$ref" in schema else ""
    found = _resolved(schema, document)
    if "discriminator" in found:
        mapping = found["discriminator"]["mapping"]
        return {
            f"the shape {value}": (target.rpartition("/")[2], _resolved({"$ref": target}, document))
            for value, target in mapping.items()
        }
    branches = found.get("anyOf") or found.get("oneOf")
    if branches:
        return {kind: shape for branch in branches for kind, shape in _alternatives(branch, document).items()}
    kinds = found.get("type", "anything")
    return {
        "number" if kind == "integer" else kind: (name, _whole(found) if kind == "integer" else found)
        for kind in (kinds if isinstance(kinds, list) else [kinds])
    }


def _whole(schema: Schema) -> Schema:
    """An integer as a number, so that a number that becomes an integer is seen as narrower."""
    return {"multipleOf": 1} | schema


def _resolved(part: dict[str, Any], document: dict[str, Any]) -> dict[str, Any]:
    """A part with its reference followed; words beside the reference count for more."""
    while "$ref" in part:
        target: Any = document
        for step in part["$ref"].removeprefix("#/").split("/"):
            target = target[step.replace("~1", "/").replace("~0", "~")]
        part = target | {key: value for key, value in part.items() if key != "$ref"}
    return part


def _bare(schema: Schema) -> Schema:
    return {key: value for key, value in schema.items() if key not in ("description", "title", "examples")}


def _schemas(document: dict[str, Any]) -> dict[str, Schema]:
    found: dict[str, Schema] = document.get("components", {}).get("schemas", {})
    return found


def _open(operation: dict[str, Any], document: dict[str, Any]) -> bool:
    wanted = operation.get("security", document.get("security", []))
    return not wanted or {} in wanted


def _missing(old: Any, new: Any) -> list[Any]:  # noqa: ANN401 - keys or values of any kind
    return [item for item in old if item not in new]
