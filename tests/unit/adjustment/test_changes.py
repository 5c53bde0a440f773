"""The names of what one prescription changes against another."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from service.adjustment.changes import changes_between
from service.adjustment.prescription import Prescription
from service.mechanics.setups import Depth, Technique
from service.training.volume import Reps
from service.vocabulary import Change

SQUAT = Prescription("front_squat", 4, Reps(5, 6), 60.0, 2.0, days=2)
PULL_UP = Prescription("pull_up", 3, Reps(6, 6), -20.0, 2.0)


@pytest.mark.parametrize(
    ("after", "named"),
    [
        (SQUAT, ()),
        (replace(SQUAT, reserve=5.0), ()),
        (replace(SQUAT, technique=Technique()), ()),
        (replace(SQUAT, load=60.0005), ()),  # plates marked in pounds, rounded to a thousandth
        (replace(SQUAT, load=62.5), ("load",)),
        (replace(SQUAT, cues=("knees_over_feet",)), ("cues",)),
        (replace(SQUAT, hold=45.0, rest=120.0), ("hold", "rest")),
        (replace(SQUAT, technique=Technique(heel_lift=0.02)), ("technique",)),
        (replace(SQUAT, depth=Depth(thigh_below_horizontal=0.1)), ("range_of_motion",)),
        (replace(SQUAT, sets=3, reps=Reps(4, 6), days=3, tempo="3-0-3-0"), ("sets", "reps", "tempo", "days")),
        (replace(SQUAT, exercise="safety_bar_squat", load=50.0), ("equipment", "load")),
        (replace(SQUAT, exercise="goblet_squat", technique=Technique()), ("equipment",)),
    ],
)
def test_every_difference_is_named(after: Prescription, named: tuple[Change, ...]) -> None:
    assert changes_between(SQUAT, after) == named


@pytest.mark.parametrize(
    ("load", "named"), [(-10.0, ("assistance",)), (0.0, ("assistance",)), (5.0, ("load", "assistance"))]
)
def test_assistance_is_not_load(load: float, named: tuple[Change, ...]) -> None:
    assert changes_between(PULL_UP, replace(PULL_UP, load=load)) == named


def test_a_range_of_motion_that_changes_with_the_exercise_is_named_once() -> None:
    deadlift = replace(SQUAT, exercise="deadlift_conventional")
    assert changes_between(replace(SQUAT, exercise="block_pull", depth=Depth(box_height=0.1)), deadlift) == (
        "range_of_motion",
    )


def test_what_went_through_the_units_of_an_answer_is_no_change() -> None:
    deep = replace(SQUAT, depth=Depth(thigh_below_horizontal=-0.61), technique=Technique(heel_lift=0.02), hold=30.0)
    back = replace(
        SQUAT, depth=Depth(thigh_below_horizontal=-0.6100004), technique=Technique(heel_lift=0.0200004), hold=30.0000001
    )
    assert changes_between(deep, back) == ()
