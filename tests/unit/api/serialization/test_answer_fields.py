"""A part of an answer is what its names choose, as it stands in the whole answer."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest

from service.api.models.base import ResponseModel
from service.api.serialization.answer_fields import AnswerFields, chosen, cut


class Inner(ResponseModel, kw_only=True, frozen=True, omit_defaults=True):
    """An object in an answer."""

    one: int
    two: int | None = None
    by_name: dict[str, int] = msgspec.field(default_factory=dict)


class Answer(ResponseModel, kw_only=True, frozen=True):
    """An answer with everything that an answer can have."""

    number: float
    inner: Inner
    items: list[Inner]
    maybe: Inner | None
    left_out: Inner | msgspec.UnsetType = msgspec.UNSET


ANSWER: Final = Answer(number=1.5, inner=Inner(one=1), items=[Inner(one=2, two=3), Inner(one=4)], maybe=None)
FIELDS: Final = AnswerFields(Answer)


def test_names_are_fields_and_the_fields_of_the_objects_in_them() -> None:
    inside = ("one", "two", "by_name")
    objects = ("inner", "items", "maybe", "left_out")
    assert set(FIELDS.names) == {"number", *objects, *(f"{name}.{one}" for name in objects for one in inside)}


@pytest.mark.parametrize(
    ("names", "part"),
    [
        (["number"], {"number": 1.5}),
        (["inner.one"], {"inner": {"one": 1}}),
        (["inner.two"], {"inner": {}}),
        (["items.one"], {"items": [{"one": 2}, {"one": 4}]}),
        (["items.two", "items.one"], {"items": [{"one": 2, "two": 3}, {"one": 4}]}),
        (["maybe.one", "maybe.two"], {"maybe": None}),
        (["left_out", "left_out.one"], {}),
        (["inner", "inner.two"], {"inner": {"one": 1}}),
        (["items", "number"], {"number": 1.5, "items": [{"one": 2, "two": 3}, {"one": 4}]}),
    ],
)
def test_what_is_chosen_stands_as_in_the_whole_answer(names: list[str], part: dict[str, Any]) -> None:
    shown = msgspec.json.decode(msgspec.json.encode(cut(ANSWER, chosen(names))))
    assert shown == part
    assert list(shown) == [name for name in msgspec.to_builtins(ANSWER) if name in part]


def test_all_names_choose_the_whole_answer() -> None:
    assert msgspec.json.encode(cut(ANSWER, chosen(FIELDS.names))) == msgspec.json.encode(ANSWER)


def test_a_name_that_is_none_is_refused_with_what_it_was_meant_for() -> None:
    (fault,) = FIELDS.faults(["items.one", "item.one", "item.one"])
    assert fault.parameter == "fields"
    assert fault.detail == '"item.one" is no field of the answer. Did you mean items.one?'
    assert "items.one" in str(fault.allowed)
    assert FIELDS.faults(FIELDS.names) == []


def test_only_the_first_wrong_names_are_explained() -> None:
    assert len(FIELDS.faults(map(str, range(1000)))) == 5


def test_no_more_names_are_taken_than_there_are_though_one_be_repeated() -> None:
    assert FIELDS.faults(["number"] * len(FIELDS.names)) == []
    (fault,) = FIELDS.faults(["number"] * (len(FIELDS.names) + 1))
    assert fault.allowed == f"up to {len(FIELDS.names)}"


def test_a_question_in_json_lists_them() -> None:
    listed = FIELDS.list_type
    assert msgspec.convert(["items.one"], listed) == ["items.one"]
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert(["one"], listed)
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert([], listed)
