"""What a step may be: none of those that the search chooses from asks for more than it may, taken or not."""

from __future__ import annotations

from typing import Any, Final

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.search import Search
from service.adjustment.return_plan.states import Move, State
from tests.support.asking import ask, kg
from tests.support.returns import case_of, returns
from tests.unit.adjustment.test_return_plan import SCENARIO

NEAR: Final = 1e-6
Looked = tuple[Search, State, float, list[Move]]


def looked_at(request: dict[str, Any], **change: float) -> list[Looked]:
    """The states of the way back, each with every step that might have followed."""
    search = Search(replace(case_of(request), **change), Budget())
    before, looked = search.first, []
    for node in search.path():
        looked.append((search, before.state, before.load, search.onward(before.state, before.load, node.week)))
        before = node
    return looked


@settings(max_examples=30, deadline=None, derandomize=True)
@given(returns(), st.sampled_from([0.05, 0.1, 0.3]))
def test_no_step_that_is_looked_at_asks_for_more_than_it_may(request: dict[str, Any], step: float) -> None:
    for search, state, load, moves in looked_at(request, step=step):
        before = search.demands(state, load)
        for move in moves:
            after = search.demands(move.state, move.load)
            assert after.peak <= 1 + NEAR
            entered = move.state.form.original != state.form.original
            assert after.session <= (1.0 if entered else max(1.0, before.session)) + NEAR
            assert after.week <= max(1.0, before.week) + NEAR
            if not move.over_step and search.comparable(state.form, move.state.form):
                assert after.peak <= before.peak + step + NEAR
                assert after.session <= before.session + step + NEAR
                if move.state.dose.days == state.dose.days:
                    assert after.week <= before.week + step + NEAR


@settings(max_examples=25, deadline=None, derandomize=True)
@given(returns())
def test_no_step_that_is_looked_at_goes_nearer_to_failure(request: dict[str, Any]) -> None:
    for search, state, load, moves in looked_at(request):
        if len(moves) == 1:
            continue  # the smallest change there is
        for move in moves:
            eased = move.state.form == state.form and move.load <= load + NEAR
            entered = move.state.form.original != state.form.original
            if not eased and not entered:
                assert move.load <= search.effort_ceiling(move.state) + NEAR


@settings(max_examples=20, deadline=None, derandomize=True)
@given(returns())
def test_every_state_but_the_original_has_a_step_that_follows(request: dict[str, Any]) -> None:
    for _, state, load, moves in looked_at(request):
        assert moves
        assert all(move.state != state or abs(move.load - load) > NEAR for move in moves)


def test_the_loads_of_another_implement_are_its_own() -> None:
    lift = {"exercise": "romanian_deadlift", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(17.5)}
    adjusted = lift | {"load": kg(10), "implement": "dumbbells"}
    asked = {"lifter": SCENARIO["lifter"], "original": lift, "adjusted": adjusted, "region": "low_back"}
    bar = {"bar": kg(15), "plates": [{"plate": kg(1.25)}]}
    steps = ask("return-plan", asked | {"bar": bar}).steps
    assert all(step.prescription.load.value >= 15 for step in steps if step.prescription.implement is None)
