"""What it is for a changed week to reach its target, and for its relief to be sure."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from service.adjustment.week.changed import ChangedWeek
from service.adjustment.week.restoring import Restored
from service.adjustment.week.uncertain import Measure
from service.adjustment.week.worked import NewWeek, Relief
from service.intervals import Interval
from service.vocabulary import WEIGHTINGS, Weighting
from tests.unit.adjustment.week.test_restoring import HINGE, case_of


@pytest.mark.parametrize(
    ("linear", "squared", "tenth_power", "meets"),
    [(0.9, 0.9, 0.8, True), (1.0, 1.0, 0.8, True), (1.2, 0.95, 0.8, False), (0.8, 0.8, 0.85, False)],
)
def test_a_week_that_asks_for_more_under_any_weighting_does_not_reach_its_target(
    linear: float, squared: float, tenth_power: float, *, meets: bool
) -> None:
    case = replace(case_of(HINGE), target=0.8, weighting="tenth_power")
    week = ChangedWeek((), {"linear": linear, "squared": squared, "tenth_power": tenth_power})
    assert week.meets(case) is meets


def test_relief_is_sure_only_where_its_whole_interval_falls() -> None:
    assert relief_of(Interval(0.9, 0.8, 0.95)) == (list(WEIGHTINGS), "sure")
    assert relief_of(Interval(0.9, 0.8, 1.0)) == ([], "mixed")


def relief_of(ratio: Interval) -> tuple[list[Weighting], Relief]:
    sore: dict[Measure, Interval] = dict.fromkeys((*WEIGHTINGS, "peak"), ratio)
    new = NewWeek((), [], [], Restored([], {}, [], {}, [], []), {}, sore, ())
    return new.falls, new.relief
