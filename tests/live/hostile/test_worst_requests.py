"""The most expensive request for each operation, found by search, stays within the budget of its counted work."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec
import pytest

from service.charts.elements.layout import LARGEST
from service.errors import Refusal
from tests.support.worst import TARGETS, examples, found_before, worst


class Budget(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Calls that one answer may take, and the most that a long search found when the budget was set."""

    calls: int
    measured: int


BUDGETS: Final = msgspec.convert(
    tomllib.loads(Path(__file__).with_name("budgets.toml").read_text(encoding="utf-8")), dict[str, Budget]
)
FOUND_AT_LEAST: Final = 0.25  # of what was measured: else the search has become weak, or the budget is out of date
NEAR: Final = 2.0  # times what was measured that a budget may be, at most


def test_every_operation_and_picture_has_a_budget_near_what_was_measured() -> None:
    assert set(BUDGETS) == set(TARGETS)
    assert [
        name for name, budget in BUDGETS.items() if not budget.measured < budget.calls <= NEAR * budget.measured
    ] == []


@pytest.mark.parametrize("name", [name for name, target in TARGETS.items() if target.form == "svg"])
def test_the_pages_of_the_most_expensive_pictures_have_a_bounded_number_of_pixels(name: str) -> None:
    """What a picture costs as PNG, besides being drawn, is decided by its pixels."""
    target = TARGETS[name]
    for one in (*examples(target), *found_before(target)):
        with suppress(Refusal):
            for page in target.pages(target.read(one.body)):
                assert max(page.width, page.height) <= LARGEST


@pytest.mark.parametrize("name", TARGETS)
def test_most_expensive_request(name: str) -> None:
    target, budget = TARGETS[name], BUDGETS[name]
    found = worst(target)
    assert found.calls <= budget.calls, found.body.decode()
    assert found.calls >= FOUND_AT_LEAST * budget.measured, found.body.decode()


def test_search_finds_what_the_examples_do_not_show() -> None:
    target = TARGETS["spinal-load"]
    assert worst(target).calls > 2 * max(example.calls for example in examples(target))


def test_search_finds_the_same_again_whatever_was_asked_before() -> None:
    target = TARGETS["joint-demand"]
    assert worst(target, 0.1) == worst(target, 0.1)


@pytest.mark.nightly
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", TARGETS)
def test_most_expensive_request_of_a_longer_search(name: str, seed: int) -> None:
    """From other seeds and twenty times as long, against the same budgets."""
    found = worst(TARGETS[name], 5.0, seed)
    assert found.calls <= BUDGETS[name].calls, found.body.decode()
