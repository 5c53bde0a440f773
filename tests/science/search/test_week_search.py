"""The search of a week against all there is in small weeks, which its beam holds whole up to two changes."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest
from msgspec.structs import replace

from service.adjustment.week.search import search
from service.knowledge.design_choices import CHOICES
from tests.science.search.weeks import BEAMS, both, drawn, gap
from tests.science.search.write import SEEDS, measured, rendered

RESULTS: Final = Path(__file__).with_name("RESULTS.md")
LEAST_WHOLE: Final = 0.6  # of the drawn weeks, so that the equality says something
_CLOSE: Final = 1e-9


def test_the_last_beam_compared_is_the_one_of_the_service() -> None:
    assert BEAMS[-1] == CHOICES.week.beam


@pytest.mark.parametrize("seed", SEEDS)
def test_a_week_that_the_beam_holds_whole_is_searched_exactly(seed: int) -> None:
    found, exact = both(drawn(seed), CHOICES.week.beam)
    missed = gap(found, exact)
    if missed.whole:
        assert missed.changes == 0
        assert missed.lost == pytest.approx(0.0, abs=_CLOSE)
        assert [one.sizes for one in found.weeks] == [one.sizes for one in exact.weeks]
    if exact.weeks and len(exact.weeks[0].changes) <= 2:
        assert missed.whole, "the first level of partial weeks is never larger than the beam"


def test_most_drawn_weeks_are_held_whole_and_some_take_several_changes() -> None:
    found = [both(drawn(seed), CHOICES.week.beam) for seed in SEEDS]
    assert sum(gap(*one).whole for one in found) >= LEAST_WHOLE * len(found)
    assert {len(exact.weeks[0].changes) for _, exact in found if exact.weeks} >= {1, 2, 3}


def test_the_beam_holds_every_single_change_so_that_two_are_searched_exactly() -> None:
    week = CHOICES.week
    assert week.beam >= week.most_lifts_searched * week.alternatives


@pytest.mark.parametrize("seed", SEEDS[:6])
def test_what_is_put_together_is_bounded_where_nothing_reaches_the_target(seed: int) -> None:
    week = CHOICES.week
    single = week.most_lifts_searched * week.alternatives
    together = single + (week.most_changes - 1) * week.beam * single
    found = search(replace(drawn(seed), target=0.05), week.beam)
    assert found.weeks == []
    assert found.considered <= single + 2 * together


def test_what_is_written_is_what_is_measured() -> None:
    assert RESULTS.read_text(encoding="utf-8") == rendered(measured())
