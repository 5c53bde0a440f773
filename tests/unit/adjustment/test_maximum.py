"""The maximum that a set tells of, where it states its effort."""

from __future__ import annotations

import pytest

from service.adjustment.maximum import maximum_told
from service.training.load_repetition import relation_for, share_of_max

SQUAT = "back_squat_high_bar"


def test_it_is_the_load_over_the_share_that_allows_so_many_repetitions() -> None:
    told = maximum_told(SQUAT, SQUAT, 90.0, 5, 2.0)
    assert told is not None
    assert told.load == pytest.approx(90.0 / share_of_max(relation_for(SQUAT), 7.0))
    assert told.exercise == SQUAT


@pytest.mark.parametrize(
    ("posture", "load", "reps", "reserve"),
    [
        (None, 90.0, 5, 2.0),
        (SQUAT, 90.0, None, 2.0),
        (SQUAT, 90.0, 5, None),
        (SQUAT, 0.0, 5, 2.0),
        (SQUAT, 9.0, 90, 9.0),
    ],
)
def test_nothing_is_told_without_load_and_effort_within_the_relation(
    posture: str | None, load: float, reps: float | None, reserve: float | None
) -> None:
    assert maximum_told(SQUAT, posture, load, reps, reserve) is None
