"""The maximum that a set tells of, where it states its effort."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from service.adjustment.maximum import maximum_of, maximum_told
from service.adjustment.prescription import Prescription
from service.training.load_repetition import relation_for, share_of_max
from service.training.volume import Reps

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


def test_a_hold_tells_of_no_maximum_however_many_are_held() -> None:
    held = Prescription(SQUAT, 4, Reps(1, 1), 150.0, reserve=1.0, hold=10.0)
    assert maximum_of(held) is None
    assert maximum_of(replace(held, hold=None)) is not None
