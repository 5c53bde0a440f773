"""What stands first in plausible consultations is what a coach would put first, but for stated exceptions."""

from __future__ import annotations

from typing import Final

import pytest

from tests.science.judgement import plausible, told
from tests.science.judgement.measure import AMBER_UP_TO, COUNT, DRAWS, FAULTS, First, firsts, seeds, sizes
from tests.support.asking import decoded

MOST: Final = 0.10
"""Share of first ranks that may have one of the faults, said to be an exception [1]."""

MOST_BYTES: Final = 10_000
"""Of an answer with five options, with the codes and values of its messages."""


@pytest.fixture(scope="module", params=DRAWS)
def found(request: pytest.FixtureRequest) -> list[First]:
    return firsts(request.param, seeds(request.param))[0]


def test_nearly_every_consultation_has_a_first_rank(found: list[First]) -> None:
    """Of what is told now some is paused, and above 5 of 10 little is sure."""
    assert len(found) > 0.92 * COUNT
    assert sum(one.pain <= AMBER_UP_TO for one in found) > 0.6 * COUNT


@pytest.mark.parametrize("fault", FAULTS)
def test_few_first_ranks_have_what_a_coach_would_not_put_first(found: list[First], fault: str) -> None:
    amber = [one for one in found if one.pain <= AMBER_UP_TO]
    assert sum(fault in one.faults for one in amber) < MOST * len(amber)


def test_what_a_coach_would_not_put_first_is_said_to_be_an_exception(found: list[First]) -> None:
    assert [one for one in found if one.unsaid] == []


@pytest.mark.parametrize(("draw", "share"), [("plausible", 0.98), ("told", 0.95)])
def test_five_options_are_little_to_read(draw: str, share: float) -> None:
    """Above 5 of 10, and of complaints that are told in full, there is more to say."""
    found = sizes(draw, seeds(draw))
    assert sum(size < MOST_BYTES for size in found) >= share * len(found)


@pytest.mark.parametrize(("draw", "lifts"), [("plausible", plausible.LIFTS), ("told", told.LIFTS)])
def test_the_same_seed_asks_the_same_and_every_lift_is_drawn(draw: str, lifts: tuple[plausible.Lift, ...]) -> None:
    asked = [DRAWS[draw][0](seed) for seed in seeds(draw)]
    assert asked == [DRAWS[draw][0](seed) for seed in seeds(draw)]
    assert {one["prescription"]["exercise"] for one in asked} == {lift.exercise for lift in lifts}
    for one in asked[:20]:
        decoded("adjustments", one)
