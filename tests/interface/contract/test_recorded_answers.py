"""The same question gets the same numbers as long as the version does not say otherwise."""

from __future__ import annotations

from typing import Any

import pytest
from packaging.version import Version

from service import __version__
from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from tests.interface.contract.recording import RECORDED, changed, differences, file_of, is_announced, read, refusal

each_operation = pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
CHANGES = """# Changes
## 0.3.0
- Numbers of load-for-reps: 91.5 became 92 kg, a coefficient was misread (nuzzo_2024).
## 0.2.0
- Numbers of tempo: other.
"""
OLD: dict[str, Any] = {"load": {"value": 91.5, "unit": "kg"}, "why": ["Two more reps."], "id": "squat", "n": [1, 2]}


@each_operation
def test_the_answers_are_the_recorded_ones(operation: Operation) -> None:
    """Intended: a new version, its line in openapi/CHANGELOG.md, `python -m tests.interface.contract.recording`."""
    assert changed(operation) == []


@each_operation
def test_every_example_is_recorded(operation: Operation) -> None:
    """Not so: python -m tests.interface.contract.recording."""
    assert {example.name for example in operation.examples} <= set(read(operation).answers)


@each_operation
def test_it_was_recorded_under_a_version_that_there_was(operation: Operation) -> None:
    assert Version(read(operation).version) <= Version(__version__)


def test_nothing_else_is_recorded() -> None:
    """An operation that is gone is a breaking change; its record does not simply stay behind."""
    assert set(RECORDED.glob("*")) == {file_of(operation) for operation in OPERATIONS}


@pytest.mark.parametrize(
    ("new", "where"),
    [
        ({"load": {"value": 91.500001, "unit": "kg"}}, "/load/value"),
        ({"load": {"value": 91.5, "unit": "lb"}}, "/load/unit"),
        ({"load": None}, "/load"),
        ({"id": "deadlift"}, "/id"),
        ({"n": [1, 3]}, "/n/1"),
        ({"n": [1, 2, 3]}, "/n"),
    ],
)
def test_a_change_is_seen(new: dict[str, Any], where: str) -> None:
    assert [found.partition(":")[0] for found in differences(OLD, OLD | new)] == [where]


def test_a_field_that_is_gone_is_seen() -> None:
    assert list(differences(OLD, {key: value for key, value in OLD.items() if key != "id"})) == ["/id: is gone"]


@pytest.mark.parametrize(
    "new", [{"more": 1}, {"why": ["Two repetitions more."]}, {"load": {"value": 91.5 + 1e-9, "unit": "kg", "low": 1}}]
)
def test_other_words_new_fields_and_the_last_digit_are_no_change(new: dict[str, Any]) -> None:
    assert list(differences(OLD, OLD | new)) == []


def test_nothing_may_be_said_by_leaving_the_field_out() -> None:
    assert list(differences(OLD | {"tempo": None, "cues": []}, OLD)) == []
    assert list(differences(OLD | {"sets": 0}, OLD)) == ["/sets: is gone"]


SAID: dict[str, Any] = {"code": "more_reps", "values": {"reps": 2}, "text": "Two more reps."}


def test_a_message_in_the_place_of_its_words_is_no_change_and_another_code_or_value_is_one() -> None:
    assert list(differences(OLD, OLD | {"why": [SAID, SAID]})) == []
    assert list(differences({"rule": "Two more reps."}, {"rule": SAID})) == []
    assert list(differences({"rule": "two"}, {"rule": SAID})) != []
    told = {"why": [SAID]}
    assert list(differences(told, {"why": [SAID | {"text": "Two repetitions more."}]})) == []
    assert list(differences(told, {"why": [SAID | {"values": {"reps": 3}}]})) == ["/why/0/values/reps: 2 became 3"]
    assert len(list(differences(told, {"why": [SAID | {"code": "fewer_reps"}]}))) == 1


def test_changed_numbers_are_recorded_only_under_a_new_version_that_says_so() -> None:
    assert refusal("load-for-reps", "0.2.0", "0.3.0", CHANGES) is None
    assert "Raise the version" in str(refusal("load-for-reps", "0.3.0", "0.3.0", CHANGES))
    assert "no line" in str(refusal("tempo", "0.2.0", "0.3.0", CHANGES))


def test_a_line_of_another_version_or_operation_announces_nothing() -> None:
    assert is_announced("tempo", "0.2.0", CHANGES)
    assert not is_announced("tempo", "0.3.0", CHANGES)
    assert not is_announced("reps", "0.3.0", "## 0.3.0\n- Added reps.\n")
