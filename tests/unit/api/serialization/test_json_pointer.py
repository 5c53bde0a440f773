"""JSON Pointers: escaped as RFC 6901 says, and followed into structs, lists and maps."""

from __future__ import annotations

import msgspec
import pytest
from msgspec import UNSET, UnsetType

from service.api.serialization.json_pointer import pointer, selected
from service.http.problems import HttpProblem


class Inner(msgspec.Struct):
    values: list[float]
    missing: float | UnsetType = UNSET


class Outer(msgspec.Struct):
    inner: Inner
    by_name: dict[str, int]


ANSWER = Outer(Inner([3.0, 4.0]), {"a/b": 1, "m~n": 2})


def test_steps_are_escaped() -> None:
    assert pointer(["a/b", 0, "m~n", "~1"]) == "/a~1b/0/m~0n/~01"
    assert pointer([]) == ""


@pytest.mark.parametrize(
    ("select", "part"),
    [
        ("", ANSWER),
        ("/inner/values/1", 4.0),
        ("/inner", ANSWER.inner),
        ("/by_name/a~1b", 1),
        ("/by_name/m~0n", 2),
    ],
)
def test_a_pointer_leads_to_its_part(select: str, part: object) -> None:
    assert selected(ANSWER, select) == part


@pytest.mark.parametrize(
    "select",
    ["inner", "/", "/other", "/inner/values/2", "/inner/values/01", "/inner/values/-1", "/inner/missing", "/by_name/a"],
)
def test_a_pointer_to_nothing_is_refused_by_name(select: str) -> None:
    with pytest.raises(HttpProblem) as refused:
        selected(ANSWER, select)
    assert refused.value.problem.errors[0].parameter == "select"  # type: ignore[index]


class Decided(msgspec.Struct):
    decision: str
    options: list[int]


@pytest.mark.parametrize(
    ("answer", "select", "said"),
    [
        (Decided("refer", []), "/options/0", "The list there is empty. Its decision is refer."),
        (Decided("adjust", [1]), "/options/1", "The list there has 1 entries, counted from 0. Its decision is adjust."),
        (ANSWER, "/other", "This pointer leads to nothing in the answer."),
    ],
)
def test_a_cell_without_an_option_says_what_was_decided(answer: object, select: str, said: str) -> None:
    with pytest.raises(HttpProblem) as refused:
        selected(answer, select)
    assert refused.value.problem.errors[0].detail == said  # type: ignore[index]
