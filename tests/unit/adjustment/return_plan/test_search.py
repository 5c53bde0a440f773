"""The search for the shortest way back: as short as when everything is tried, and never more work than is allowed."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import Any, Final

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.adjustment.return_plan import budget as budgets
from service.adjustment.return_plan import plan as planning
from service.adjustment.return_plan.budget import Budget, BudgetExceeded
from service.adjustment.return_plan.lift import Lift
from service.adjustment.return_plan.problem import ReturnCase, weeks_at
from service.adjustment.return_plan.search import Search
from service.adjustment.return_plan.states import State
from service.adjustment.return_plan.transitions import StateSpace
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from tests.support.asking import ask, faults, kg
from tests.support.returns import case_of, returns, weeks_of
from tests.unit.adjustment.test_return_plan import SCENARIO, with_adjusted

NEAR: Final = 1e-9
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


def refusal_of(case: ReturnCase) -> Refusal:
    with pytest.raises(Refusal) as caught:
        planning.plan(case, CHOICES.return_plan.longest)
    return caught.value


def answer_or_refusal(request: dict[str, Any]) -> object:
    try:
        return ask("return-plan", request)
    except Refusal as refusal:
        return refusal


def everything_onward(search: Search, place: State, load: float) -> Iterator[tuple[State, float]]:
    """Every place and every load that one step allows, not only the heaviest."""
    before = search.demands(place, load)
    for new, ceiling, _ in search.moves(place, load):
        step = search.case.step if search.comparable(place, new) else 1.0
        for other in search.lifts[new.lift].loads:
            if other > min(ceiling, search.effort_ceiling(new)) + NEAR or (new, other) == (place, load):
                continue
            peak, session, week = search.demands(new, other)
            within = (
                peak <= min(before[0] + step, 1.0) + NEAR
                and session <= min(before[1] + step, max(1.0, before[1])) + NEAR
                and week <= max(1.0, before[2]) + NEAR
            )
            if within and (new != place or other > load):
                yield new, other


def weeks_by_trying_everything(case: ReturnCase) -> float:
    """Weeks of the shortest way, every state that a step may lead to looked at, week by week."""
    search = Search(case, Budget())
    if not search.transition and search.asks_no_less():
        return 1
    if search.begins_too_hard():
        return inf
    arriving = {search.first.week: {(search.first.state, search.first.load)}}
    seen: set[tuple[State, float]] = set()
    for week in range(search.first.week, CHOICES.return_plan.longest + 1):
        states = arriving.pop(week, set())
        if week > len(search.transition):  # before, a state may do more in a later week
            states -= seen
            seen |= states
        if week and (search.goal, case.original.load) in states:
            return week
        for place, load in states:
            later = week + (weeks_at(place.dose.days) if week else 1)
            onward = {new for new in everything_onward(search, place, load) if search.allowed(*new, later)}
            arriving.setdefault(later, set()).update(onward)
            if search.rule_of(later) is not None:
                arriving.setdefault(week + 1, set()).add((place, load))
    return inf


@settings(max_examples=40, deadline=None, derandomize=True)
@given(returns(coarse=True))
def test_no_way_is_shorter(request: dict[str, Any]) -> None:
    case = case_of(request)
    assert weeks_of(case) == weeks_by_trying_everything(case)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(returns(coarse=True), st.sampled_from([2, 12]))
def test_no_way_is_shorter_after_a_break(request: dict[str, Any], weeks_off: int) -> None:
    case = msgspec.structs.replace(case_of(request), weeks_off=weeks_off)
    assert weeks_of(case) == weeks_by_trying_everything(case)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(returns(coarse=True), st.sampled_from([0.02, 0.045, 0.08]))
def test_a_refusal_names_the_smallest_step_that_does(request: dict[str, Any], step: float) -> None:
    case = msgspec.structs.replace(case_of(request), step=step)

    def leads_back(other: float) -> bool:
        return weeks_of(msgspec.structs.replace(case, step=other)) <= CHOICES.return_plan.longest

    allowed = "" if leads_back(step) else refusal_of(case).faults[0].allowed or ""
    if allowed.startswith("a step of at least "):
        enough = float(allowed.removeprefix("a step of at least ").split(",")[0])
        assert leads_back(enough)
        assert enough - 0.01 <= step or not leads_back(enough - 0.01)
    elif allowed.startswith("no step up to"):
        assert not leads_back(0.5)


def test_prescriptions_far_apart_are_refused_with_what_makes_the_question_smaller(works: list[Budget]) -> None:
    (fault,) = faults("return-plan", FAR_APART)
    assert fault.pointer == "/adjusted"
    assert "nearer to the original" in str(fault.allowed)
    assert "larger step" in str(fault.allowed)
    assert works[0].moves == CHOICES.return_plan.most_moves + 1  # not one more was looked at


def test_every_posture_and_every_step_counts(works: list[Budget], monkeypatch: pytest.MonkeyPatch) -> None:
    postures = calls_of(monkeypatch, Lift, "_computed")
    moves = calls_of(monkeypatch, StateSpace, "heaviest")
    for request in (SCENARIO, TOO_LARGE_A_JUMP):
        works.clear()
        postures.clear()
        moves.clear()
        answer_or_refusal(request)
        (work,) = works  # what a refusal looks at counts with the rest
        assert work.postures == len(postures) > 0
        assert work.moves == len(moves) > 0


@pytest.mark.parametrize(("limit", "most"), [("most_postures", 5), ("most_moves", 2)])
def test_what_is_looked_at_ends_where_it_is_said_to(limit: str, most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    limited = msgspec.structs.replace(CHOICES.return_plan, **{limit: most})
    monkeypatch.setattr(budgets, "CHOICES", msgspec.structs.replace(CHOICES, return_plan=limited))
    (fault,) = faults("return-plan", SCENARIO)
    assert fault.pointer == "/adjusted"


@settings(max_examples=25, deadline=None, derandomize=True)
@given(returns(), st.sampled_from([0.02, 0.05, 0.1]), st.sampled_from([0, 2]), st.integers(8, 25))
def test_the_work_of_any_plan_is_bounded(request: dict[str, Any], step: float, weeks_off: int, sets: int) -> None:
    request["original"]["sets"] = sets
    request["original"]["reps"]["high"] += 6
    work = Budget()
    search = Search(msgspec.structs.replace(case_of(request), step=step, weeks_off=weeks_off), work)
    try:
        search.path()
    except BudgetExceeded:
        assert max(work.moves - CHOICES.return_plan.most_moves, work.postures - CHOICES.return_plan.most_postures) == 1
    assert len(search.waiting) <= CHOICES.return_plan.most_moves + 1  # what is kept grows with what is looked at
