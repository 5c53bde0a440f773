"""What stands first in plausible consultations is what a coach would put first, but for stated exceptions."""

from __future__ import annotations

from typing import Final

import pytest

from tests.science.judgement.measure import AMBER_UP_TO, COUNT, FAULTS, First, firsts, sizes
from tests.science.judgement.plausible import FIRST_SEED, LIFTS, consultation
from tests.support.asking import decoded

MOST: Final = 0.10
"""Share of first ranks that may have one of the faults, said to be an exception [1]."""

MOST_BYTES: Final = 10_000
"""Of an answer with five options, with the codes and values of its messages."""


@pytest.fixture(scope="module")
def found() -> list[First]:
    return firsts(range(FIRST_SEED, FIRST_SEED + COUNT))[0]


def test_nearly_every_consultation_has_a_first_rank(found: list[First]) -> None:
    assert len(found) > 0.95 * COUNT
    assert sum(one.pain <= AMBER_UP_TO for one in found) > 0.6 * COUNT


@pytest.mark.parametrize("fault", FAULTS)
def test_few_first_ranks_have_what_a_coach_would_not_put_first(found: list[First], fault: str) -> None:
    amber = [one for one in found if one.pain <= AMBER_UP_TO]
    assert sum(fault in one.faults for one in amber) < MOST * len(amber)


def test_what_a_coach_would_not_put_first_is_said_to_be_an_exception(found: list[First]) -> None:
    assert [one for one in found if one.unsaid] == []


def test_five_options_are_little_to_read() -> None:
    assert sizes(range(FIRST_SEED, FIRST_SEED + COUNT))[-1] < MOST_BYTES


def test_the_same_seed_asks_the_same_and_every_lift_is_drawn() -> None:
    assert consultation(FIRST_SEED) == consultation(FIRST_SEED)
    asked = [consultation(seed) for seed in range(FIRST_SEED, FIRST_SEED + COUNT)]
    assert {one["prescription"]["exercise"] for one in asked} == {lift.exercise for lift in LIFTS}
    for one in asked[:20]:
        decoded("adjustments", one)
