"""The application as it is served, asked without a server in between."""

from __future__ import annotations

import math
from typing import Any, Final

from hypothesis import strategies as st
from litestar.testing import TestClient
from msgspec import inspect

from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.serialization.scalars import bare
from service.app import create_asgi
from service.settings import Settings

BY_NAME: Final = {operation.name: operation for operation in OPERATIONS}
EXAMPLES: Final = [(operation, example) for operation in OPERATIONS for example in operation.examples]


def client(**settings: Any) -> TestClient[Any]:  # noqa: ANN401 - values of any setting
    return TestClient(create_asgi(Settings(log_level="error", **settings)), raise_server_exceptions=False)


def name_of(value: object) -> str | None:
    """The id of a case."""
    return getattr(value, "name", None)


def questions(operation: Operation) -> st.SearchStrategy[Any]:
    """Any question of an operation as JSON values; texts hold no commas, and no object and no list is empty."""
    return _values(inspect.type_info(operation.request))


def _values(shape: inspect.Type) -> st.SearchStrategy[Any]:  # noqa: PLR0911 - one return for each kind of value
    kind = bare(shape)
    if isinstance(kind, inspect.StructType):
        fields = {field.encode_name: _values(field.type) for field in kind.fields}
        needed = {field.encode_name: fields[field.encode_name] for field in kind.fields if field.required}
        others = {name: values for name, values in fields.items() if name not in needed}
        return st.fixed_dictionaries(needed, optional=others).filter(bool)
    if isinstance(kind, inspect.ListType):
        least, most = max(kind.min_length or 1, 1), min(kind.max_length or 4, 4)
        return st.lists(_values(kind.item_type), min_size=least, max_size=most)
    if isinstance(kind, inspect.LiteralType):
        return st.sampled_from(kind.values)
    if isinstance(kind, inspect.BoolType):
        return st.booleans()
    if isinstance(kind, inspect.StrType):
        if kind.pattern:
            texts = st.from_regex(kind.pattern, fullmatch=True)
            longest = kind.max_length or math.inf
            return texts.filter(lambda text: not {",", ";"} & set(text) and len(text) <= longest)
        letters = st.characters(codec="utf-8", exclude_characters=",;")
        return st.text(letters, min_size=kind.min_length or 0, max_size=kind.max_length)
    if isinstance(kind, inspect.UnionType):
        return st.one_of([_values(one) for one in kind.types if not isinstance(one, inspect.NoneType)])
    assert isinstance(kind, inspect.FloatType | inspect.IntType)
    assert kind.ge is not None
    assert kind.le is not None
    if isinstance(kind, inspect.IntType) or kind.multiple_of == 1:
        return st.integers(int(kind.ge), int(kind.le))
    return st.floats(kind.ge, kind.le)
