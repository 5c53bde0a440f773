"""What the muscle is asked to do against the present prescription."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from service.adjustment.kept import Kept
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.stimulus import Stimulus, rest_factor, set_seconds, stimulus
from service.intervals import exactly
from service.training.volume import Reps

PRESENT = Prescription("front_squat", 4, Reps(5, 6), 60.0, 2.0, 2)


def asked(new: Prescription, present: Prescription = PRESENT, moved: float | None = None) -> Stimulus:
    moved = new.load / present.load if moved is None else moved
    return stimulus(new, present, moved, 0.8, rest_factor(new, present), 1.0, Kept(exactly(1.0)))


def test_unchanged_prescription_asks_the_same() -> None:
    found = asked(PRESENT)
    assert (found.hard_sets, found.volume_load) == (1, 1)


def test_volume_is_that_of_the_week() -> None:
    found = asked(replace(PRESENT, sets=2, days=4, load=30.0))
    assert (found.hard_sets, found.volume_load) == (1, 0.5)


def test_body_mass_counts_as_volume_where_it_is_lifted() -> None:
    pull_up = replace(PRESENT, exercise="pull_up", load=0.0)
    half = replace(pull_up, load=-35.0)
    moved = relative_load(half, pull_up, 70.0)
    assert moved == 0.5
    assert asked(half, pull_up, moved).volume_load == 0.5


def test_longer_rest_makes_up_for_a_part_of_fewer_sets() -> None:
    # rbme_2007, motriz_2013: more repetitions are kept over the sets
    short = replace(PRESENT, rest=60.0)
    fewer, rested = replace(short, sets=3), replace(short, sets=3, rest=180.0)
    assert rest_factor(rested, short) > rest_factor(fewer, short) > 0
    assert asked(fewer, short).volume_load < asked(rested, short).volume_load
    assert rest_factor(short, short) == 1


def test_time_under_tension_is_that_of_the_tempo_or_the_hold() -> None:
    # definition: 6 s a repetition, five and a half of them in the middle of the range
    slow = set_seconds(replace(PRESENT, tempo="3-0-3-0"))
    assert slow is not None
    assert slow.value == pytest.approx(33)
    held = set_seconds(replace(PRESENT, hold=45.0))
    assert held is not None
    assert held.value == 45
    assert set_seconds(PRESENT) is None
