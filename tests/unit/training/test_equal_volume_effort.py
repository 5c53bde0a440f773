"""Effort at equal volume: in the published range, below it, and above the maximum."""

from __future__ import annotations

import pytest

from service.errors import Refusal
from service.training.equal_volume_effort import HARD_SET_RESERVE, Effort, effort_at_equal_volume
from service.training.load_repetition import relation_for
from service.training.volume import Reps

REPS = Reps(5, 7)


def test_nothing_changes_where_nothing_is_changed() -> None:
    effort = effort_at_equal_volume(None, REPS, 2, 60.0, REPS, 60.0)
    assert effort.left is not None
    assert effort.left.value == pytest.approx(2)
    assert effort.equal_effort == REPS
    assert (effort.achievable, effort.hard) == (True, True)


def test_a_lighter_load_at_equal_volume_leaves_more_and_equal_effort_takes_more_repetitions() -> None:
    lighter = effort_at_equal_volume(None, REPS, 2, 60.0, REPS, 54.0)
    assert lighter.left is not None
    assert lighter.left.value > 2
    assert lighter.equal_effort is not None
    assert lighter.equal_effort.low > REPS.low


def test_a_load_above_the_maximum_cannot_be_done_and_has_no_number() -> None:
    assert effort_at_equal_volume(None, REPS, 2, 60.0, Reps(3, 3), 90.0) == Effort()
    assert (Effort().achievable, Effort().hard) == (False, None)


def test_below_the_published_loads_there_is_a_least_number_left() -> None:
    most = relation_for(None).reps[1]
    effort = effort_at_equal_volume(None, REPS, 2, 60.0, Reps(10, 14), 25.0)
    assert effort == Effort(least_left=most - 14)
    assert effort.achievable
    assert effort.hard is (most - 14 <= HARD_SET_RESERVE)


def test_repetitions_outside_the_published_range_are_refused() -> None:
    with pytest.raises(Refusal) as refused:
        effort_at_equal_volume(None, Reps(18, 19), 2, 60.0, REPS, 60.0)
    assert refused.value.faults[0].pointer == "/reps/high"
