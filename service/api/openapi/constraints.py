"""Limits in the description: of what only answers hold, and of bodies and headers, so that clients know what to expect."""

from __future__ import annotations

from typing import Any, Final

Schema = dict[str, Any]

PRINTABLE: Final = r"^[^\x00-\x09\x0b-\x1f]*$"  # lines of text
NOT_BLANK: Final = r"\S"
MOST_CHARACTERS: Final = 10_000  # of one text in an answer
MOST_BYTES: Final = 2**31 - 1  # of an answer that is a text as a whole
LONGEST_ADDRESS: Final = 2048  # so no parameter is longer
MOST_ITEMS: Final = 10_000  # of a list in an answer: more than a batch takes
EXACT: Final = 2**53 - 1  # whole numbers that every reader of JSON keeps
SHORT: Final = 2**31 - 1
FORMATS: Final = {
    ("ProblemFault", "pointer"): "json-pointer",
    ("Problem", "type"): "uri-reference",
}
PROBLEMS: Final = frozenset({"Problem", "ProblemFault"})  # they repeat names from the request, of any length
ANYTHING: Final = frozenset({("ProblemFault", "parameter")})  # and this one as it came
INSIDE: Final = ("items", "anyOf", "oneOf", "allOf", "prefixItems", "additionalProperties")


def header(described: dict[str, Any]) -> dict[str, Any]:
    """A header whose text is not blank."""
    schema = described["schema"]
    return described | {"schema": integers(schema) if schema["type"] == "integer" else {"pattern": NOT_BLANK} | schema}


def texts(part: dict[str, Any], more: Schema | None = None) -> dict[str, Any]:
    """A body whose forms that are a text as a whole are limited; others are references, or bytes, and stay."""
    limits: Schema = {"maxLength": MOST_BYTES, "pattern": NOT_BLANK} | (more or {})
    forms = {
        media_type: content | {"schema": limits | content["schema"]}
        if content["schema"].get("type") == "string" and content["schema"].get("format") != "binary"
        else content
        for media_type, content in part.get("content", {}).items()
    }
    return part | {"content": forms} if forms else dict(part)


def limited(schema: Any, owner: str, field: str = "") -> Any:
    """A schema of answers with the limits that hold for all of them."""
    if isinstance(schema, list):
        return [limited(item, owner, field) for item in schema]
    if not isinstance(schema, dict):
        return schema
    limits = {key: limited(value, owner, field) if key in INSIDE else value for key, value in schema.items()}
    if "properties" in schema:
        limits["properties"] = {name: limited(value, owner, name) for name, value in schema["properties"].items()}
    if limits.get("type") == "array":
        limits.setdefault("maxItems", MOST_ITEMS)
    if limits.get("type") == "string" and not limits.keys() & {"enum", "const"}:
        limits.setdefault("maxLength", MOST_BYTES if owner in PROBLEMS else MOST_CHARACTERS)
        if (owner, field) in FORMATS:
            limits.setdefault("format", FORMATS[owner, field])
        elif "format" not in limits and (owner, field) not in ANYTHING:
            limits.setdefault("pattern", PRINTABLE)
    if limits.get("type") == "integer":
        limits = {"minimum": -EXACT, "maximum": EXACT} | limits
    return integers(limits)


def integers(schema: Any) -> Any:
    """A schema whose whole numbers say how many bits they take."""
    if isinstance(schema, list):
        return [integers(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    sized = {key: integers(value) if key in INSIDE else value for key, value in schema.items()}
    if "properties" in schema:
        sized["properties"] = {name: integers(value) for name, value in schema["properties"].items()}
    if sized.get("type") == "integer":
        small = sized.get("minimum", -EXACT) >= -SHORT and sized.get("maximum", EXACT) <= SHORT
        sized.setdefault("format", "int32" if small else "int64")
    return sized
