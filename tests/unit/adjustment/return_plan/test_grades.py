"""Grades stand on fixed marks: who has come to one of them has the same way on as before. All choices of our own."""

from __future__ import annotations

from math import radians
from typing import Any, Final

import pytest
from msgspec.structs import replace

from service.adjustment.return_plan.grades import cue_grades, depth_grades, hold_grades, technique_grades
from service.adjustment.return_plan.problem import ReturnCase
from service.mechanics.setups import Depth, Technique
from tests.support.returns import case_of
from tests.unit.adjustment.test_return_plan import SCENARIO

HIPS: Final = {"body_mass": {"value": 50, "unit": "kg"}, "stature": {"value": 150, "unit": "cm"}}


def with_depth(depth: Depth | None, **change: Any) -> tuple[ReturnCase, list[Depth | None]]:  # noqa: ANN401 - of a prescription
    case = case_of(SCENARIO)
    case = replace(case, adjusted=replace(case.adjusted, depth=depth, **change))
    return case, list(depth_grades(case, case.adjusted, case.original)[0])


@pytest.mark.parametrize(
    ("depth", "grades"),
    [
        (Depth(thigh_below_horizontal=radians(-12)), [-12, -10, -5, None]),
        (Depth(thigh_below_horizontal=radians(-10)), [-10, -5, None]),
        (None, [None]),
    ],
)
def test_depth_grows_by_marks_of_five_degrees(depth: Depth | None, grades: list[int | None]) -> None:
    _, found = with_depth(depth)
    degrees = [None if one is None else one.thigh_below_horizontal for one in found]
    assert degrees == [None if one is None else pytest.approx(radians(one)) for one in grades]


def test_a_box_comes_down_by_marks_of_five_centimetres_and_goes_on_from_each() -> None:
    case, found = with_depth(Depth(box_height=0.52))
    heights = [one.box_height for one in found if one is not None]
    assert heights[:3] == pytest.approx([0.52, 0.5, 0.45])
    assert found[-1] is None
    onward = replace(case, adjusted=replace(case.adjusted, depth=found[1]))
    assert list(depth_grades(onward, onward.adjusted, onward.original)[0]) == pytest.approx(found[1:])


def test_the_same_depth_is_no_way_whatever_the_load_makes_of_it() -> None:
    # where the hips end the range, the thigh stands elsewhere with each load
    case = case_of({**SCENARIO, "lifter": {**HIPS, "hip_flexion": {"value": 100, "unit": "deg"}}})
    lighter = replace(case.adjusted, load=15.0)
    assert depth_grades(case, lighter, case.original)[0] == (None,)


def test_every_part_of_a_technique_comes_a_grade_nearer_each_time() -> None:
    case = case_of(SCENARIO)
    start = replace(case.adjusted, technique=Technique(heel_lift=0.025, stance="wide", bar_forward_of_midfoot=0.05))
    grades = [one or Technique() for one in technique_grades(case, start, case.original)]
    assert [one.heel_lift for one in grades] == pytest.approx([0.025, 0.015, 0.005, 0.0])
    assert [one.stance for one in grades] == ["wide", "shoulder", "shoulder", "shoulder"]
    assert [one.bar_forward_of_midfoot for one in grades] == pytest.approx([0.05, 0.03, 0.01, 0.0])


def test_cues_go_one_by_one_the_last_first_and_missing_ones_come_back_together() -> None:
    assert cue_grades(("a", "b", "c"), ("a",)) == (("a", "b", "c"), ("a", "b"), ("a",))
    assert cue_grades(("b",), ("c", "d")) == (("b",), (), ("c", "d"))
    assert cue_grades(("a",), ("a",)) == (("a",),)


@pytest.mark.parametrize(
    ("start", "end", "lengths"),
    [
        (30, 45, (30, 33, 37, 41, 45)),
        (37, 45, (37, 41, 45)),
        (45, 45, (45,)),
        (45, 30, (45, 30)),
        (45, None, (45, None)),
        (2, 5, (2, 3, 4, 5)),
    ],
)
def test_a_hold_gets_longer_by_marks_of_whole_seconds(
    start: float, end: float | None, lengths: tuple[float | None, ...]
) -> None:
    assert hold_grades(start, end) == lengths
