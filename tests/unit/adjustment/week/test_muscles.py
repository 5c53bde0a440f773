"""What a week gives each muscle, and the floors."""

from __future__ import annotations

import pytest

from service.adjustment.prescription import Prescription
from service.adjustment.week.muscles import (
    floor_of,
    hard_sets,
    sets_of_muscles,
    steadied_sets,
    trained_sets,
    under_floor,
)
from service.training.volume import Reps
from service.vocabulary import Aim, Training


def prescription(
    exercise: str, sets: int, *, reps: int = 8, reserve: float | None = 2, hold: float | None = None
) -> Prescription:
    return Prescription(exercise, sets, Reps(reps, reps), 60.0, reserve, hold=hold)


def test_a_direct_set_counts_whole_and_an_indirect_one_by_half() -> None:
    sets = sets_of_muscles([prescription("bench_press", 4), prescription("overhead_press", 3)])
    assert (sets["chest"].value, sets["chest"].low, sets["chest"].high) == (4.0, 4.0, 4.0), "none that only steadies"
    assert sets["triceps"].value == pytest.approx(3.5)
    assert (sets["triceps"].low, sets["triceps"].high) == (0.0, 7.0), "direct sets alone, all sets that train it"


def test_sets_far_from_failure_count_for_no_muscle_and_few_repetitions_in_part() -> None:
    assert hard_sets(prescription("bench_press", 4, reserve=6)) == 0.0
    assert hard_sets(prescription("bench_press", 4, reps=3)) == pytest.approx(2.0)
    assert hard_sets(prescription("leg_extension", 4, reps=1, hold=45.0)) == 4.0
    assert sets_of_muscles([prescription("bench_press", 4, reserve=6)]) == {}


@pytest.mark.parametrize(
    ("aim", "training", "usual", "floor"),
    [
        ("muscle_size", "trained", 12.0, 6.0),
        ("muscle_size", "novice", 12.0, 4.08),
        ("muscle_size", "trained", 3.0, 4.0),
        ("strength", "trained", 0.5, 1.0),
        ("strength", "trained", 10.0, 5.0),
        ("maintain", "trained", 10.0, 5.0),
        ("maintain", "novice", 10.0, 3.4),
        ("tendon", "trained", 0.0, 0.0),
    ],
)
def test_the_floor_is_the_least_that_is_known_to_do_something_and_a_part_of_what_is_usual(
    aim: Aim, training: Training, usual: float, floor: float
) -> None:
    assert floor_of(aim, training, usual) == pytest.approx(floor)


def test_a_muscle_without_any_set_is_under_its_floor() -> None:
    assert under_floor({"chest": 5.0, "lats": 2.0}, {"chest": 4.0, "lats": 3.0, "biceps": 1.0}) == ["lats", "biceps"]


def test_sets_are_below_a_floor_where_they_are_so_as_they_are_said() -> None:
    assert under_floor({"chest": 6.96, "lats": 6.94}, {"chest": 7.04, "lats": 7.0}) == ["lats"]


def test_what_only_steadies_counts_towards_no_floor() -> None:
    squats = [prescription("goblet_squat", 6)]
    assert sets_of_muscles(squats)["biceps"].value == 0.0
    assert steadied_sets(squats)["biceps"] == pytest.approx(1.5), "holds the dumbbell"
    trained = trained_sets(squats)
    assert trained["quads"] == 6.0
    assert not {"biceps", "calves"} & trained.keys()
