"""Which way demand moves between presses and pulls, held to the model of the arm.

A direction of demand_directions.csv between two lifts that the model covers is the model's, or carries the published
finding that says otherwise and what the model says of it. Practice alone says nothing against statics, and what changes
in posture is no moment. The model's direction is that of a man and a woman, each lift at its own load; where no ratio
of the two loads is published, over a range of them.
"""

from __future__ import annotations

import csv
from functools import cache
from typing import Final

import pytest

from service.knowledge.anthropometry import Sex
from service.knowledge.arm_lifts import ARM_LIFTS
from service.knowledge.substitutions import COMPARISONS, Comparison, directions, ratio_between
from service.mechanics.arm.directions import direction
from service.mechanics.arm.lifts import arm_setup
from service.mechanics.arm.uncertain import Quantity, UncertainArm, uncertain_arm
from service.mechanics.body import Body, build_body
from service.vocabulary import Difference
from tests.science.reference.answers import DATA

with (DATA / "arm_own_loads.csv").open(encoding="utf-8", newline="") as _lines:
    OVER_BODY_MASS: Final = {row["exercise"]: float(row["over_body_mass"]) for row in csv.DictReader(_lines)}

LIFTERS: Final[tuple[tuple[float, float, Sex, float], ...]] = ((80.0, 1.75, "male", 1.0), (62.0, 1.65, "female", 0.6))
"""Body mass [kg], stature [m], sex, and loads over those of a man for each kilogram of the body [1]."""

UNKNOWN_RATIO: Final = (0.8, 1.0, 1.25)
"""What the load of one lift may be over what it is taken for, where no ratio to the other lift is published [1]."""

REGIONS: Final[dict[str, tuple[Quantity, ...]]] = {
    "shoulder": ("shoulder_net", "shoulder"),
    "elbow": ("elbow",),
    "wrist": ("wrist",),
}
"""What has to agree for a direction: of the shoulder the net moment and the one weighed by relative strength."""
NOT_PUBLISHED: Final = {"practice", "derived", "design_choice"}
IN_WORDS: Final[dict[Difference, str]] = {
    "lower": "lower",
    "higher": "higher",
    "no_clear_difference": "no clear difference",
}
HELD: Final = [
    row for row in COMPARISONS if row.region in REGIONS and {row.from_exercise, row.to_exercise} <= ARM_LIFTS.keys()
]


def loads(body: Body, stronger: float, first: str, second: str) -> list[tuple[float, float]]:
    """Loads of two lifts that are compared [kg]."""
    before, after = (OVER_BODY_MASS[lift] * body.mass * stronger for lift in (first, second))
    published = ratio_between(first, second)
    if published and not ARM_LIFTS[second].body:
        whole = body.mass if ARM_LIFTS[first].body else before
        return [(before, whole * published.ratio)]
    return list({(before * factor if not after else before, after * factor) for factor in UNKNOWN_RATIO})


@cache
def asked(mass: float, stature: float, sex: Sex, exercise: str, load: float) -> UncertainArm:
    return uncertain_arm(build_body(mass, stature, sex), arm_setup(exercise, load))


@cache
def by_the_model(first: str, second: str, region: str) -> Difference:
    found = set()
    for mass, stature, sex, stronger in LIFTERS:
        for before, after in loads(build_body(mass, stature, sex), stronger, first, second):
            new, old = asked(mass, stature, sex, second, after), asked(mass, stature, sex, first, before)
            found |= {direction(new, old, quantity).difference for quantity in REGIONS[region]}
    return found.pop() if len(found) == 1 else "no_clear_difference"


def named(row: Comparison) -> str:
    return f"{row.from_exercise}-{row.to_exercise}-{row.region}-{row.source}"


def test_the_loads_are_those_of_the_lifts_that_are_compared() -> None:
    assert OVER_BODY_MASS.keys() >= {lift for row in HELD for lift in (row.from_exercise, row.to_exercise)}
    assert all((load == 0.0) == ARM_LIFTS[lift].body for lift, load in OVER_BODY_MASS.items())
    assert len(HELD) > 40


@pytest.mark.parametrize("row", HELD, ids=str)
def test_a_direction_is_the_models_or_that_of_a_finding_beside_which_the_model_stands(row: Comparison) -> None:
    model = by_the_model(row.from_exercise, row.to_exercise, row.region)
    if row.direction == model:
        assert "by the model of the arm" not in row.note
        return
    assert row.known not in NOT_PUBLISHED, f"{row.direction} by {row.source}, by the model {model}"
    assert row.direction == "no_clear_difference" or row.note.endswith(f"; by the model of the arm {IN_WORDS[model]}")


def test_practice_is_contradicted_by_statics_about_dumbbells() -> None:
    """Upright forearms take the sideways force away and put the elbow farther out."""
    assert by_the_model("bench_press", "bench_press_dumbbell", "elbow") == "lower"
    assert by_the_model("bench_press", "bench_press_dumbbell", "shoulder") != "lower"
    assert by_the_model("overhead_press", "overhead_press_dumbbell", "shoulder") == "higher"


@pytest.mark.parametrize("less", ["floor_press", "bench_press_partial"])
def test_less_range_is_less_behind_the_body_and_no_less_moment(less: str) -> None:
    assert "shoulder" not in directions("bench_press", less)
    assert by_the_model("bench_press", less, "shoulder") == "no_clear_difference"
    new, old = (asked(80.0, 1.75, "male", lift, 100.0) for lift in (less, "bench_press"))
    assert direction(new, old, "behind_the_body").difference == "lower"
