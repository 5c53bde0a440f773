"""Values written as one text, for a query parameter or the cell of a table.

A quantity is `100kg`, a range `4-6`, a list of ids `a,b`, a list of a quantity with a count `25kgx4,20kgx2`; numbers,
true and false, ids and texts are written as they are. Text that is none of that is left as it is, so that the strict
decoder of the JSON form refuses it, with the same words.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any, Final

import msgspec
from msgspec import inspect

from service.api.serialization import typed
from service.api.serialization.schema import in_json_schema

UNSIGNED: Final = r"(?:0|[1-9][0-9]{0,14})(?:\.[0-9]{1,25})?(?:[eE][+-]?[0-9]{1,3})?"
NUMBER: Final = re.compile(f"-?{UNSIGNED}")
QUANTITY: Final = re.compile(f"(-?{UNSIGNED})([A-Za-z]{{1,8}})")
RANGE: Final = re.compile(f"({UNSIGNED})-({UNSIGNED})")
COUNTED: Final = re.compile(f"(-?{UNSIGNED}[A-Za-z]{{1,8}})(?:x({UNSIGNED}))?")


class TextForm(msgspec.Struct, frozen=True):
    """How values of one shape are written as text.

    Attributes:
        read: from text to the JSON value, or to the text itself where it does not fit
        write: from the JSON value to text
        schema: JSON Schema of the text
        pattern: of the text inside a list
        description: of the text, where it is not simply the JSON value
        typed: from what is typed into a cell to the text
        decimals: whether a comma in a cell may be a decimal comma: in numbers, and not in lists
    """

    read: Callable[[str], Any]
    write: Callable[[Any], str]
    schema: dict[str, Any]
    pattern: str
    description: str | None = None
    typed: Callable[[str], str] = typed.plain
    decimals: bool = False


def bare(shape: inspect.Type) -> inspect.Type:
    """The shape without what is said about it, and without the choice to leave it out."""
    while True:
        if isinstance(shape, inspect.Metadata):
            shape = shape.type
        elif isinstance(shape, inspect.UnionType):
            kinds = [kind for kind in shape.types if not isinstance(kind, inspect.NoneType)]
            if len(kinds) != 1:
                return shape
            (shape,) = kinds
        else:
            return shape


def number_text(value: float) -> str:
    """A number in its shortest exact form: 5 for 5.0."""
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(float(value))  # noqa: PLR2004 - all digits of a float


def text_form(shape: inspect.Type, separator: str = ",") -> TextForm | None:
    """How values of a shape are written; None for objects that are no single value, and lists of them.

    separator: between the items of a list; another one where the list itself stands in a list.
    """
    kind = bare(shape)
    if isinstance(kind, inspect.ListType):
        item = _counted(kind.item_type) or _scalar(kind.item_type)
        return item and _list(item, kind, separator)
    return _scalar(kind) or _quantity(kind) or _range(kind) or _number_or_range(kind)


def _scalar(shape: inspect.Type) -> TextForm | None:
    kind = bare(shape)
    if isinstance(kind, inspect.FloatType | inspect.IntType):
        name = "integer" if isinstance(kind, inspect.IntType) or kind.multiple_of == 1 else "number"
        bounds = {"minimum": kind.ge, "maximum": kind.le}
        return TextForm(
            _number,
            number_text,
            {"type": name} | {k: v for k, v in bounds.items() if v is not None},
            _sign(kind),
            decimals=True,
        )
    if isinstance(kind, inspect.BoolType):
        return TextForm(
            _truth,
            lambda value: "true" if value else "false",
            {"type": "boolean"},
            "true|false",
            typed=typed.truth,
        )
    if isinstance(kind, inspect.LiteralType):
        named = {str(value): value for value in kind.values}
        names = list(named)
        return TextForm(
            lambda text: named.get(text, text), str, {"type": "string", "enum": names}, "|".join(map(re.escape, names))
        )
    if isinstance(kind, inspect.StrType):
        pattern = kind.pattern and in_json_schema(kind.pattern)
        limits = {"minLength": kind.min_length, "maxLength": kind.max_length, "pattern": pattern}
        inner = pattern.strip("^$") if pattern else f"[^,;]{{{kind.min_length or 0},{kind.max_length or ''}}}"
        return TextForm(str, str, {"type": "string"} | {k: v for k, v in limits.items() if v is not None}, inner)
    return None


def _sign(kind: inspect.FloatType | inspect.IntType) -> str:
    return ("" if kind.ge is not None and kind.ge >= 0 else "-?") + UNSIGNED


def _number(text: str) -> Any:
    if not NUMBER.fullmatch(text):
        return text
    value = float(text)
    if not math.isfinite(value):
        return text
    return int(text) if text.lstrip("-").isdigit() else value


def _truth(text: str) -> Any:
    return {"true": True, "false": False}.get(text, text)


def _fields(shape: inspect.Type, *names: str) -> list[inspect.Type] | None:
    """The shapes of an object's fields, if it has as many; with names, if it has just these."""
    kind = bare(shape)
    if not isinstance(kind, inspect.StructType) or (names and names != tuple(field.name for field in kind.fields)):
        return None
    return [bare(field.type) for field in kind.fields]


def _units(shape: inspect.Type) -> tuple[str, inspect.FloatType] | None:
    """The units of a quantity as a pattern, and its number."""
    fields = _fields(shape, "value", "unit")
    if fields is None or not isinstance(fields[0], inspect.FloatType) or not isinstance(fields[1], inspect.LiteralType):
        return None
    return "|".join(map(str, fields[1].values)), fields[0]


def _text(pattern: str, example: str) -> dict[str, Any]:
    return {"type": "string", "pattern": f"^(?:{pattern})$", "examples": [example]}


def _quantity(shape: inspect.Type) -> TextForm | None:
    quantity = _units(shape)
    if quantity is None:
        return None
    units, number = quantity
    pattern, first = f"{_sign(number)}(?:{units})", units.split("|")[0]
    return TextForm(
        _read_quantity,
        _write_quantity,
        _text(pattern, f"20{first}"),
        pattern,
        f"a number and its unit, such as 20{first}; units: {units.replace('|', ', ')}",
        typed=typed.quantity,
        decimals=True,
    )


def _read_quantity(text: str) -> Any:
    match = QUANTITY.fullmatch(text)
    return {"value": _number(match[1]), "unit": match[2]} if match else text


def _write_quantity(value: dict[str, Any]) -> str:
    return f"{number_text(value['value'])}{value['unit']}"


def _range(shape: inspect.Type) -> TextForm | None:
    fields = _fields(shape, "low", "high")
    if not fields or not all(
        isinstance(end, inspect.FloatType) and end.ge is not None and end.ge >= 0 for end in fields
    ):
        return None
    return TextForm(
        _read_range,
        lambda value: f"{number_text(value['low'])}-{number_text(value['high'])}",
        _text(f"{UNSIGNED}-{UNSIGNED}", "4-6"),
        f"{UNSIGNED}-{UNSIGNED}",
        "the low end, a hyphen and the high end, such as 4-6, or 5-5 for one number",
        typed=typed.both_ends,
        decimals=True,
    )


def _number_or_range(shape: inspect.Type) -> TextForm | None:
    """A number where a range may stand as well: 6 or 4-6."""
    if not isinstance(shape, inspect.UnionType):
        return None
    forms = [form for kind in shape.types if (form := _scalar(kind) or _range(kind))]
    if len(forms) != 2 or not any(_range(kind) for kind in shape.types):  # noqa: PLR2004 - a number and a range
        return None
    number, span = sorted(forms, key=lambda form: "pattern" in form.schema)
    pattern = f"{number.pattern}|{span.pattern}"
    return TextForm(
        lambda text: span.read(text) if RANGE.fullmatch(text) else number.read(text),
        lambda value: span.write(value) if isinstance(value, dict) else number.write(value),
        _text(pattern, "4-6"),
        pattern,
        "a number, or the low end, a hyphen and the high end, such as 4-6",
        typed=typed.span,
        decimals=True,
    )


def _read_range(text: str) -> Any:
    match = RANGE.fullmatch(text)
    return {"low": _number(match[1]), "high": _number(match[2])} if match else text


def _counted(shape: inspect.Type) -> TextForm | None:
    """A quantity and how many there are of it: 25kgx4."""
    kind = bare(shape)
    fields = _fields(kind)
    if not isinstance(kind, inspect.StructType) or not fields or len(fields) != 2:  # noqa: PLR2004 - a quantity and a count
        return None
    units = _units(fields[0])
    if units is None or not isinstance(fields[1], inspect.FloatType):
        return None
    what, count = (field.encode_name for field in kind.fields)
    optional = "" if kind.fields[1].required else "?"

    def read(text: str) -> Any:
        match = COUNTED.fullmatch(text)
        if not match:
            return text
        return {what: _read_quantity(match[1])} | ({count: _number(match[2])} if match[2] else {})

    def write(value: dict[str, Any]) -> str:
        return _write_quantity(value[what]) + (f"x{number_text(value[count])}" if count in value else "")

    example = f"25{units[0].split('|')[0]}x4"
    pattern = f"{_sign(units[1])}(?:{units[0]})(?:x{UNSIGNED}){optional}"
    return TextForm(read, write, _text(pattern, example), pattern, f"such as {example}", typed.counted)


def _list(item: TextForm, kind: inspect.ListType, separator: str) -> TextForm:
    # words times words times entries make an expression that many validators refuse for its size: the JSON form counts them
    uncounted = separator == ";" and "enum" in item.schema
    most = "" if kind.max_length is None or uncounted else kind.max_length - 1
    pattern = f"(?:{item.pattern})(?:{separator}(?:{item.pattern})){{0,{most}}}"
    named = {",": "commas", ";": "semicolons"}[separator]
    example = item.schema.get("enum") or item.schema.get("examples") or ["5"]
    return TextForm(
        lambda text: [item.read(part) for part in text.split(separator)],
        lambda value: separator.join(item.write(part) for part in value),
        _text(pattern, example[0]),
        pattern,
        f"one or more, separated by {named}" + (f", each {item.description}" if item.description else ""),
        typed=lambda text: separator.join(item.typed(part) for part in text.split(separator)),
    )
