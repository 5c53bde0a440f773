"""The search for the shortest way back: as short as when everything is tried, and never more work than is allowed."""

from __future__ import annotations

from heapq import heappop, heappush
from itertools import count
from math import inf
from typing import Any, Final

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.adjustment.return_plan import budget as budgets
from service.adjustment.return_plan import plan as planning
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.lift import Lift
from service.adjustment.return_plan.moves import Moves
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.return_plan.search import Search
from service.adjustment.return_plan.states import State
from service.knowledge.design_choices import CHOICES
from tests.support.asking import ask, kg
from tests.support.returns import case_of, far_apart, returns
from tests.unit.adjustment.test_return_plan import SCENARIO, with_adjusted

MOST_LOOKED_AT: Final = 1500
FAR_APART: Final = {
    **with_adjusted(
        exercise="rear_foot_elevated_split_squat",
        sets=5,
        reps={"low": 5, "high": 5},
        load=kg(45),
        days_per_week=5,
        tempo="3-0-3-0",
        depth={"thigh_below_horizontal": {"value": -20, "unit": "deg"}},
    ),
    "original": {
        **SCENARIO["original"],
        "exercise": "lunge",
        "sets": 12,
        "reps": {"low": 7, "high": 7},
        "load": kg(60),
        "days_per_week": 1,
    },
    "region": "knee",
    "step": 0.05,
    "increment": kg(0.1),
}
TOO_LARGE_A_JUMP: Final = with_adjusted(exercise="split_squat", load=kg(25))


NARROW: Final = {
    "stance": "narrow",
    "heel_lift": {"value": 0.08, "unit": "m"},
    "shin_angle": {"value": 10, "unit": "deg"},
    "bar_forward_of_midfoot": {"value": 0.1, "unit": "m"},
}
HEAVIER_THAN_THE_ORIGINAL: Final = (
    {
        "original": {
            "exercise": "back_squat_low_bar", "sets": 2, "reps": {"low": 1, "high": 5}, "load": kg(100),
            "reps_in_reserve": 0, "days_per_week": 2, "tempo": "3-0-3-0", "hold": {"value": 45, "unit": "s"},
        },
        "adjusted": {
            "exercise": "back_squat_low_bar", "sets": 2, "reps": {"low": 1, "high": 5}, "load": kg(150),
            "days_per_week": 1, "depth": {"thigh_below_horizontal": {"value": -40, "unit": "deg"}},
        },
        "weeks_off": 3,
    },
    {
        "original": {
            "exercise": "deadlift_conventional", "sets": 1, "reps": {"low": 1, "high": 1}, "load": kg(40),
            "depth": {"box_height": {"value": 0.05, "unit": "m"}}, "technique": {"stance": "wide"},
        },
        "adjusted": {
            "exercise": "deadlift_conventional", "sets": 3, "reps": {"low": 1, "high": 5}, "load": kg(100),
            "days_per_week": 2, "technique": NARROW, "hold": {"value": 45, "unit": "s"},
        },
        "increment": kg(0.1),
    },
)  # fmt: skip


@pytest.fixture
def works(monkeypatch: pytest.MonkeyPatch) -> list[Budget]:
    """The work of each plan that is asked for."""
    kept: list[Budget] = []

    def new() -> Budget:
        kept.append(Budget())
        return kept[-1]

    monkeypatch.setattr(planning, "Budget", new)
    return kept


def calls_of(monkeypatch: pytest.MonkeyPatch, owner: type, name: str) -> list[str]:
    """One entry for each call of a method."""
    calls: list[str] = []
    method = getattr(owner, name)

    def counted(*args: object, **named: object) -> object:
        calls.append(name)
        return method(*args, **named)

    monkeypatch.setattr(owner, name, counted)
    return calls


def unlimited(case: ReturnCase) -> Search:
    """The search of a case, of which everything may be looked at."""
    budget = Budget()
    budget.lift_limits()
    return Search(case, budget)


def cost_by_trying_everything(case: ReturnCase) -> float:
    """Cost of the cheapest way, everything that a step may be looked at in the order of its cost alone."""
    search = unlimited(case)
    order = count()
    heap = [(search.first.cost, next(order), search.first)]
    seen: set[tuple[State, float, int]] = set()
    while heap:
        cost, _, node = heappop(heap)
        if node.week and (node.state, node.load) == (search.goal, case.original.load):
            return cost
        assume(len(seen) < MOST_LOOKED_AT)
        if (node.state, node.load, node.week) in seen:
            continue
        seen.add((node.state, node.load, node.week))
        for new in search.after(node):
            heappush(heap, (new.cost, next(order), new))
    return inf


@settings(max_examples=20, deadline=None, derandomize=True)
@given(returns(coarse=True))
def test_no_way_is_cheaper(request: dict[str, Any]) -> None:
    case = case_of(request)
    search = unlimited(case)
    assume(not search.asks_no_less())
    assert search.shortest().cost == cost_by_trying_everything(case)


@settings(max_examples=8, deadline=None, derandomize=True)
@given(returns(coarse=True), st.sampled_from([2, 12]))
def test_no_way_is_cheaper_after_a_break(request: dict[str, Any], weeks_off: int) -> None:
    case = msgspec.structs.replace(case_of(request), weeks_off=weeks_off)
    assert unlimited(case).shortest().cost == cost_by_trying_everything(case)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(returns())
def test_a_rise_above_the_step_is_taken_where_no_change_stays_within_it(request: dict[str, Any]) -> None:
    case = case_of(request)
    search = Search(case, Budget())
    assume(not search.asks_no_less())
    before = search.first
    for node in search.path():
        move = node.move
        assert move is not None
        if move.over_step and move.state.form.original == before.state.form.original:
            others = search.onward(before.state, before.load, node.week)
            assert all(other.over_step for other in others)
        before = node


def test_every_posture_and_every_step_counts(works: list[Budget], monkeypatch: pytest.MonkeyPatch) -> None:
    postures = calls_of(monkeypatch, Lift, "_computed")
    moves = calls_of(monkeypatch, Moves, "_heaviest")
    smallest = calls_of(monkeypatch, Moves, "_move_by_force")
    for request in (SCENARIO, TOO_LARGE_A_JUMP):
        for calls in (works, postures, moves, smallest):
            calls.clear()
        ask("return-plan", request)
        (work,) = works
        assert work.postures == len(postures) > 0
        assert work.moves == len(moves) + len(smallest) > 0


@pytest.mark.parametrize(("limit", "most"), [("most_postures", 5), ("most_moves", 2)])
def test_where_not_all_ways_can_be_looked_at_a_direct_one_is_taken_and_said_to_be(
    limit: str, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    limited = msgspec.structs.replace(CHOICES.return_plan, **{limit: most})
    monkeypatch.setattr(budgets, "CHOICES", msgspec.structs.replace(CHOICES, return_plan=limited))
    answer = ask("return-plan", FAR_APART)
    assert answer.steps[-1].prescription.exercise == "lunge"
    assert "direct_way" in {caution.code for caution in answer.cautions}


@settings(max_examples=150, deadline=None, derandomize=True)
@given(far_apart())
def test_any_way_leads_to_the_original_with_bounded_work(request: dict[str, Any]) -> None:
    """However far apart the prescriptions are: the direct way takes no more work than was spent before it is taken."""
    work = Budget()
    search = Search(case_of(request), work)
    steps = search.path()
    assert steps[-1].state == search.goal
    assert work.moves <= 2 * CHOICES.return_plan.most_moves
    assert work.postures <= 2 * CHOICES.return_plan.most_postures


@pytest.mark.parametrize("request_", HEAVIER_THAN_THE_ORIGINAL)
def test_no_load_above_the_originals_is_gone_up_to_and_down_from_for_ever(request_: dict[str, Any]) -> None:
    lifter = {"body_mass": kg(80), "stature": {"value": 178, "unit": "cm"}}
    case = case_of({"lifter": lifter, "region": "knee", "step": 0.1, **request_})
    search = Search(case, Budget())
    assert search.path()[-1].state == search.goal
