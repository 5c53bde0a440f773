"""A request's JSON as flat names with one text each, the same for query parameters and the columns of a table.

The rule, which follows from the shapes alone:

1. The name of a value is the path to it, joined by underscores: /target/reps is target_reps. The fields of the object
   that an operation names as its leading one go without its name (/set/reps is reps), and a field that is called as its
   object is not said twice (/bar/bar is bar).
2. Values are written as in service.api.serialization.scalars: 100kg, 4-6, a,b, 25kgx4.
3. A list of objects takes one parameter for each field, which lists that field's value of every object, separated by
   commas: /setups/0/load and /setups/1/load are setups_load=60kg,40kg. An entry left empty is a field left out. A list
   inside such an entry is separated by semicolons.
4. What is taken for the sake of a whole prescription alone has no flat name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

import msgspec
from msgspec import inspect

from service.api.serialization.scalars import TextForm, bare, text_form
from service.api.serialization.words import words_of

SEPARATOR: Final = ","
INNER_SEPARATOR: Final = ";"


class Leaf(msgspec.Struct, frozen=True):
    """One flat name: how its text is written and where its value is in the JSON.

    Attributes:
        name: the flat name
        text_form: how the value is written
        path: steps from the request; for a list of objects to the list
        item: steps inside each object of that list, None for a single value
        required: whether every question has it
        description: of the value
        filled: whether no entry of a list may be empty
        most: entries of a list [count]
    """

    name: str
    text_form: TextForm
    path: tuple[str, ...]
    item: tuple[str, ...] | None
    required: bool
    description: str
    filled: bool = True
    most: int | None = None

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the text."""
        if self.item is None:
            return self.text_form.schema
        entry = f"(?:{self.text_form.pattern}){'' if self.filled else '?'}"
        more = "" if self.most is None else self.most - 1
        pattern = f"^{entry}(?:{SEPARATOR}{entry}){{0,{more}}}$"
        return {"type": "string", "pattern": pattern}

    @property
    def pointer(self) -> str:
        """JSON Pointer to the value, with * for every object of a list."""
        return "/" + "/".join(self.path if self.item is None else (*self.path, "*", *self.item))

    def typed(self, text: str) -> str:
        """The text that a cell stands for in which it may be typed otherwise, as service.api.serialization.typed lists."""
        if self.item is None:
            return self.text_form.typed(text)
        return SEPARATOR.join(map(self.text_form.typed, text.split(SEPARATOR)))

    @property
    def decimals(self) -> bool:
        """Whether a comma in a cell may be a decimal comma."""
        return self.item is None and self.text_form.decimals


class Mismatch(msgspec.Struct, frozen=True):
    """A parameter whose list has another length than the first one of the same list of objects."""

    leaf: Leaf
    count: int
    first: str
    expected: int


class FlatForm:
    """The flat names of one request shape, to its JSON and back."""

    def __init__(self, shape: type[Any], leading: str | None = None) -> None:
        """shape: the request; leading: the object whose fields go without its name."""
        top = inspect.type_info(shape)
        leaves = list(_leaves(top, (), leading))
        self.leaves: Final = {leaf.name: leaf for leaf in leaves}
        if len(self.leaves) != len(leaves):
            raise TypeError(f"two values of {shape.__name__} have the same flat name")
        self._objects = list(_required_objects(top, ()))
        self._by_steps = {leaf.path + (leaf.item or ()): leaf for leaf in leaves}
        self._inner = {path: list(_required_objects(item, ())) for path, item in _object_lists(top, ())}

    def from_texts(self, texts: Mapping[str, str]) -> tuple[dict[str, Any], list[Mismatch]]:
        """The request as JSON values, from texts by known names; and the lists that do not go together."""
        request: dict[str, Any] = {}
        for path in self._objects:
            _put(request, path, {})
        lists: dict[tuple[str, ...], tuple[str, list[dict[str, Any]]]] = {}
        mismatches = []
        for name, text in texts.items():
            leaf = self.leaves[name]
            if leaf.item is None:
                _put(request, leaf.path, leaf.text_form.read(text))
                continue
            entries = text.split(SEPARATOR)
            if leaf.path not in lists:
                objects: list[dict[str, Any]] = [{} for _ in entries]
                for one in objects:
                    for path in self._inner[leaf.path]:
                        _put(one, path, {})
                lists[leaf.path] = (name, objects)
                _put(request, leaf.path, objects)
            first, objects = lists[leaf.path]
            if len(entries) != len(objects):
                mismatches.append(Mismatch(leaf, len(entries), first, len(objects)))
            for one, entry in zip(objects, entries, strict=False):
                if entry:
                    _put(one, leaf.item, leaf.text_form.read(entry))
        return request, mismatches

    def to_texts(self, request: Any) -> dict[str, str]:
        """The texts that say a request (its struct), by their names: the inverse of `from_texts`."""
        values = msgspec.to_builtins(request)
        texts = {}
        for leaf in self.leaves.values():
            value = _get(values, leaf.path)
            if value in (None, []):
                continue
            if leaf.item is None:
                texts[leaf.name] = leaf.text_form.write(value)
                continue
            entries = [_get(one, leaf.item) for one in value]
            if any(entry not in (None, []) for entry in entries):
                texts[leaf.name] = SEPARATOR.join(
                    "" if entry in (None, []) else leaf.text_form.write(entry) for entry in entries
                )
        return texts

    def leaf_at(self, pointer: str) -> Leaf | None:
        """The name under which the value at a JSON Pointer of the request was given, or the first of those below it."""
        steps = tuple(step for step in pointer.split("/")[1:] if not step.isdecimal())
        for length in range(len(steps), 0, -1):
            if steps[:length] in self._by_steps:
                return self._by_steps[steps[:length]]
        below = (leaf for path, leaf in self._by_steps.items() if path[: len(steps)] == steps)
        return next(below, None) if steps else None


def nameless(shape: inspect.Type) -> bool:
    """Whether a value is taken in JSON alone, for the sake of what it is a part of: it has no flat name."""
    return isinstance(shape, inspect.Metadata) and (shape.extra or {}).get("flat_name") is False


def _put(tree: dict[str, Any], path: tuple[str, ...], value: Any) -> None:
    for step in path[:-1]:
        tree = tree.setdefault(step, {})
    tree[path[-1]] = value


def _get(tree: Any, path: tuple[str, ...]) -> Any:
    for step in path:
        if not isinstance(tree, dict) or step not in tree:
            return None
        tree = tree[step]
    return tree


def _name(path: tuple[str, ...], leading: str | None) -> str:
    steps = [step for index, step in enumerate(path) if index == 0 or step != path[index - 1]]
    return "_".join(steps[1:] if leading is not None and steps[0] == leading and len(steps) > 1 else steps)


def _leaves(
    shape: inspect.Type, path: tuple[str, ...], leading: str | None, *, required: bool = True
) -> Iterator[Leaf]:
    kind = bare(shape)
    if not isinstance(kind, inspect.StructType):
        raise TypeError(f"{'/'.join(path)} has no flat form")
    words = words_of(kind.cls).fields
    for field in kind.fields:
        if nameless(field.type):
            continue
        steps = (*path, field.encode_name)
        needed = required and field.required
        form = text_form(field.type)
        inner = bare(field.type)
        if form is not None:
            yield Leaf(_name(steps, leading), form, steps, None, needed, words.get(field.name, ""))
        elif isinstance(inner, inspect.ListType):
            yield from _list_leaves(inner, steps, leading, required=needed)
        else:
            yield from _leaves(inner, steps, leading, required=needed)


def _list_leaves(
    shape: inspect.ListType, path: tuple[str, ...], leading: str | None, *, required: bool
) -> Iterator[Leaf]:
    for leaf in _item_leaves(shape.item_type, (), required=True):
        yield msgspec.structs.replace(
            leaf,
            name=_name((*path, *leaf.path), leading),
            path=path,
            item=leaf.path,
            required=required and leaf.required,
            filled=leaf.required,
            most=shape.max_length,
        )


def _item_leaves(shape: inspect.Type, path: tuple[str, ...], *, required: bool) -> Iterator[Leaf]:
    kind = bare(shape)
    if not isinstance(kind, inspect.StructType):
        raise TypeError(f"{'/'.join(path)} in a list of objects has no flat form")
    words = words_of(kind.cls).fields
    for field in kind.fields:
        if nameless(field.type):
            continue
        steps = (*path, field.encode_name)
        form = text_form(field.type, INNER_SEPARATOR)
        if form is not None:
            yield Leaf("", form, steps, None, required and field.required, words.get(field.name, ""))
        else:
            yield from _item_leaves(field.type, steps, required=required and field.required)


def _required_objects(shape: inspect.Type, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The paths to objects that are always there, so that what is missing is said of the values in them."""
    kind = bare(shape)
    if isinstance(kind, inspect.StructType):
        for field in kind.fields:
            if field.required and text_form(field.type) is None and isinstance(bare(field.type), inspect.StructType):
                yield (*path, field.encode_name)
                yield from _required_objects(field.type, (*path, field.encode_name))


def _object_lists(shape: inspect.Type, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], inspect.Type]]:
    kind = bare(shape)
    if isinstance(kind, inspect.StructType):
        for field in kind.fields:
            steps, inner = (*path, field.encode_name), bare(field.type)
            if isinstance(inner, inspect.ListType) and text_form(field.type) is None:
                yield steps, inner.item_type
            else:
                yield from _object_lists(inner, steps)
