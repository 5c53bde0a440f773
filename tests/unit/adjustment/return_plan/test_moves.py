"""What a step may be: none of those that the search chooses from asks for more than it may, taken or not."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.search import Search
from service.adjustment.return_plan.states import Move, State
from service.units import SI
from tests.support.asking import ask, ask_drawn, kg
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


UPWARD: Final = ("load", "sets", "reps", "days_per_week")


@settings(max_examples=60, deadline=None, derandomize=True)
@given(returns())
def test_one_thing_is_raised_at_a_time(request: dict[str, Any]) -> None:
    """Load joins a change of the form only as far as a repetition asks no more than before; an exercise has its own."""
    answer = ask_drawn("return-plan", request)
    before, peak = request["adjusted"], None
    for one in answer.steps:
        new = msgspec.to_builtins(one.prescription)
        raised = [name for name in UPWARD if name in one_of(before) and one_of(new)[name] > one_of(before)[name] + 1e-6]
        formed = {"range_of_motion", "technique", "cues", "tempo", "hold", "implement", "side"} & set(one.changed)
        if before["exercise"] == new["exercise"]:
            assert len(raised) + bool(formed) <= 1 or (
                raised == ["load"] and peak is not None and one.sore_region.repetition <= peak + 1e-3
            ), (raised, one.changed)
        before, peak = new, one.sore_region.repetition


def one_of(prescription: dict[str, Any]) -> dict[str, float]:
    """What a step may raise, as numbers."""
    load, held = prescription["load"], prescription.get("assistance") or {"value": 0, "unit": "kg"}
    numbers = {
        "load": load["value"] * SI[load["unit"]] - held["value"] * SI[held["unit"]],
        "sets": prescription["sets"],
        "reps": prescription["reps"]["low"] + prescription["reps"]["high"],
        "days_per_week": prescription.get("days_per_week"),
    }
    return {name: number for name, number in numbers.items() if number is not None}
