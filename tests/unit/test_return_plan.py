"""What must hold for every way back, whoever the lifter and whatever the two prescriptions."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise
from time import process_time
from typing import Any, Final

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription
from service.adjustment.return_case import ReturnCase, weeks_at
from service.adjustment.return_moves import Place
from service.adjustment.return_path import Search
from service.adjustment.return_plan import Plan, plan
from service.adjustment.return_work import Work
from service.api.decoding import Reader
from service.api.return_plan import ReturnPlan, return_case
from service.knowledge.catalogue import EXERCISES, SIGNS, SOURCES
from service.knowledge.design_choices import CHOICES
from service.quantities import SI
from service.refusals import Refusal
from tests.reference.asking import Answered, ask, faults, kg
from tests.unit.consultations import lifters
from tests.unit.test_unit_invariance import answer_or_pointers, compare, in_pounds

EXAMPLES: Final = settings(max_examples=60, deadline=None, derandomize=True)
FEWER: Final = settings(max_examples=25, deadline=None, derandomize=True)
READER: Final = Reader(ReturnPlan)
BAR: Final = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (1.25, 2.5, 5, 10, 20)]}
DUST: Final = 1e-6
NEAR: Final = 1e-9
NO_WAY: Final = ("/step", "/adjusted")  # a jump larger than the step, or too many ways to look at them all
SQUATS: Final = ("front_squat", "back_squat_high_bar", "back_squat_low_bar", "safety_bar_squat")
WAY: Final[dict[str, tuple[str, ...]]] = {
    **dict.fromkeys(SQUATS, (*SQUATS, "belt_squat", "split_squat", "leg_press")),
    "deadlift_conventional": ("deadlift_conventional", "deadlift_trap_bar", "romanian_deadlift"),
    "bench_press": ("bench_press", "bench_press_dumbbell", "floor_press"),
    "barbell_row": ("barbell_row", "chest_supported_row"),
}
REGIONS: Final = {
    "bench_press": ("shoulder", "elbow"),
    "barbell_row": ("low_back", "elbow"),
    "deadlift_conventional": ("low_back", "hip"),
}
WITH_DEPTH: Final = frozenset(SQUATS)


@st.composite
def returns(draw: st.DrawFn, *, coarse: bool = False) -> dict[str, Any]:
    """A return as a request; coarse: with few plates and little dose, so that every way can be tried."""
    exercise = draw(st.sampled_from(list(WAY)))
    sets, low, more = draw(st.integers(1, 3 if coarse else 6)), draw(st.integers(1, 8)), draw(st.integers(0, 2))
    load = draw(st.integers(12, 56)) * 2.5
    days = draw(st.sampled_from([None, 1, 2, 3]))
    original: dict[str, Any] = {
        "exercise": exercise, "sets": sets, "reps": {"low": low, "high": low + more}, "load": kg(load),
        "reps_in_reserve": draw(st.sampled_from([0, 1, 2.5])),
    }  # fmt: skip
    substitute = draw(st.sampled_from(WAY[exercise]))
    fewer = draw(st.integers(0, 2))
    adjusted: dict[str, Any] = {
        **original,
        "exercise": substitute,
        "sets": max(1, sets - draw(st.integers(0, 2))),
        "reps": {"low": max(1, low - fewer), "high": max(1, low + more - fewer)},
        "load": kg(max(15.0, round(load * draw(st.sampled_from([0.5, 0.7, 0.8, 0.9, 1.0])) / 2.5) * 2.5)),
        "reps_in_reserve": draw(st.sampled_from([1, 2.5, 4])),
    }
    if days is not None:
        original["days_per_week"] = days
        adjusted["days_per_week"] = draw(st.integers(1, 4))
    if substitute in WITH_DEPTH and draw(st.booleans()):
        adjusted["depth"] = {"thigh_below_horizontal": {"value": draw(st.sampled_from([-30, -17, -10])), "unit": "deg"}}
    if draw(st.booleans()):
        adjusted["tempo"] = "3-0-3-0"
    bar = {"bar": kg(20), "plates": [{"plate": kg(5)}, {"plate": kg(10)}, {"plate": kg(20)}]} if coarse else BAR
    return {
        "lifter": draw(lifters),
        "original": original,
        "adjusted": adjusted,
        "region": draw(st.sampled_from(REGIONS.get(exercise, ("low_back", "knee", "hip")))),
        "step": draw(st.sampled_from([0.05, 0.1, 0.17, 0.3])),
        "bar": bar,
        "increment": kg(10 if coarse else 2),
    }


def case_of(request: dict[str, Any]) -> ReturnCase:
    """The case of a request; another example where the model does not cover the lifter or the prescriptions."""
    try:
        return return_case(READER.read(json.dumps(request).encode()))
    except Refusal:
        assume(False)  # noqa: FBT003 - how hypothesis is told
        raise


def planned(case: ReturnCase) -> Plan:
    """The plan; another example where a jump that cannot be avoided is larger than the step."""
    try:
        return plan(case, 52)
    except Refusal as refusal:
        assume(refusal.faults[0].pointer not in NO_WAY)
        raise


def answered(request: dict[str, Any]) -> Answered:
    case_of(request)
    try:
        return ask("return-plan", request)
    except Refusal as refusal:
        assume(refusal.faults[0].pointer not in NO_WAY)
        raise


def weeks_of(case: ReturnCase) -> float:
    """Weeks of the plan, infinite where there is none; another example where not every way was looked at."""
    try:
        return plan(case, 52).fewest_weeks
    except Refusal as refusal:
        assume(refusal.faults[0].pointer != "/adjusted")
        return float("inf")


def told_demands(case: ReturnCase, done: Prescription) -> tuple[float, float] | None:
    """Peak of a repetition and sum of a session against the original's, worked out anew, where a number is known."""
    peak = region_ratio(case.present, done, case.region)
    return None if peak is None else (peak, peak * done.reps_a_session / case.original.reps_a_session)


@EXAMPLES
@given(returns())
def test_demand_never_rises_by_more_than_the_step(request: dict[str, Any]) -> None:
    case = case_of(request)
    found = planned(case)
    if found.asks_no_less:
        assert told_demands(case, case.adjusted) is None or min(told_demands(case, case.adjusted) or ()) >= 1 - DUST
        return
    done = [case.adjusted, *(step.prescription for step in found.steps)]
    for before, after in pairwise(done):
        first, then = told_demands(case, before), told_demands(case, after)
        if first is None or then is None:
            continue
        for was, becomes in zip(first, then, strict=True):
            assert becomes <= was + case.step + DUST
            assert becomes <= max(1.0, was) + DUST


@EXAMPLES
@given(returns())
def test_plan_ends_at_the_original_exactly(request: dict[str, Any]) -> None:
    case = case_of(request)
    found = planned(case)
    assert found.steps[-1].prescription == case.original
    assert all(step.prescription != case.original for step in found.steps[:-1])
    shown = answered(request).steps[-1].prescription
    given_ = request["original"]
    assert msgspec.to_builtins(shown.load) == given_["load"]
    assert (shown.exercise, shown.sets, shown.days_per_week, shown.depth, shown.tempo) == (
        given_["exercise"], given_["sets"], given_.get("days_per_week"), None, None,
    )  # fmt: skip


@EXAMPLES
@given(returns())
def test_every_load_can_be_put_on(request: dict[str, Any]) -> None:
    case = case_of(request)
    own = {(one.exercise, one.load) for one in (case.original, case.adjusted)}
    for step in planned(case).steps:
        done = step.prescription
        assert (done.exercise, done.load) in own or done.load == pytest.approx(
            case.round_down(done.exercise, done.load + DUST), abs=DUST
        )


@EXAMPLES
@given(returns())
def test_one_thing_is_raised_at_a_time(request: dict[str, Any]) -> None:
    case = case_of(request)
    found = planned(case)
    assume(not found.asks_no_less)
    done = [case.adjusted, *(step.prescription for step in found.steps)]
    for before, after in pairwise(done):
        same_lift = before.exercise == after.exercise
        raised = [
            not same_lift or before.depth != after.depth or before.technique != after.technique,
            same_lift and after.load > before.load + DUST,
            after.sets > before.sets,
            after.reps_a_session / after.sets > before.reps_a_session / before.sets,
            (after.days or 0) > (before.days or 0),
            before.tempo != after.tempo,
        ]
        assert sum(raised) <= 1
        assert before != after


@EXAMPLES
@given(returns())
def test_days_stay_between_the_two_prescriptions(request: dict[str, Any]) -> None:
    case = case_of(request)
    ends = [one.days for one in (case.adjusted, case.original) if one.days is not None]
    for step in planned(case).steps:
        days = step.prescription.days
        assert (days is None) == (len(ends) == 0)
        if days is not None:
            assert min(ends) <= days <= max(ends)


@EXAMPLES
@given(returns())
def test_weeks_leave_time_for_each_gate_and_fall_back_to_the_step_before(request: dict[str, Any]) -> None:
    found = planned(case_of(request))
    weeks = [0, *(step.week for step in found.steps)]
    assert [step.fallback for step in found.steps] == weeks[:-1]
    assert weeks[1] == 1
    for before, after in pairwise(found.steps):
        assert after.week - before.week >= weeks_at(before.prescription.days)
    assert found.fewest_weeks == weeks[-1] <= found.most_weeks


@FEWER
@given(returns(), st.sampled_from([1.1, 1.5, 3.0]))
def test_a_larger_step_never_needs_more_weeks(request: dict[str, Any], factor: float) -> None:
    case = case_of(request)
    larger = msgspec.structs.replace(case, step=case.step * factor)
    assert weeks_of(larger) <= weeks_of(case)


def everything_onward(search: Search, place: Place, load: float) -> Iterator[tuple[Place, float]]:
    """Every place and every load that one step allows, not only the heaviest."""
    before = search.demands(place, load)
    for new, ceiling, _ in search.moves(place, load):
        step = search.case.step if search.comparable(place, new) else 1.0
        for other in search.lifts[new.lift].loads:
            if other > min(ceiling, search.effort_ceiling(new)) + DUST or (new, other) == (place, load):
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
    search = Search(case, Work())
    if search.asks_no_less():
        return 1
    arriving = {0: {(search.start, case.adjusted.load)}}
    seen: set[tuple[Place, float]] = set()
    week = 0
    while arriving:
        states = arriving.pop(week, set()) - seen
        if week and (search.goal, case.original.load) in states:
            return week
        seen |= states
        for place, load in states:
            later = week + (weeks_at(place.dose.days) if week else 1)
            arriving.setdefault(later, set()).update(everything_onward(search, place, load))
        week += 1
        if week > 52:
            break
    return float("inf")


@settings(max_examples=40, deadline=None, derandomize=True)
@given(returns(coarse=True))
def test_no_way_is_shorter(request: dict[str, Any]) -> None:
    case = case_of(request)
    assert weeks_of(case) == weeks_by_trying_everything(case)


def without_words(answer: Any) -> Any:  # noqa: ANN401 - any JSON
    """An answer without its reasons, which name loads in words."""
    if isinstance(answer, list):
        return answer
    steps = [{key: value for key, value in step.items() if key != "why"} for step in answer["steps"]]
    return {**answer, "steps": steps}


@FEWER
@given(returns())
def test_pounds_and_kilograms(request: dict[str, Any]) -> None:
    without = {key: value for key, value in request.items() if key != "increment"}
    barred = EXERCISES[request["original"]["exercise"]].bar and EXERCISES[request["adjusted"]["exercise"]].bar
    assume(barred)
    both = (without, in_pounds(without))
    metric, pounds = (without_words(answer_or_pointers("return-plan", asked)) for asked in both)
    assert compare(metric, pounds) > 0 or isinstance(metric, list)


@FEWER
@given(returns(), st.sampled_from(sorted(SIGNS)))
def test_a_sign_yields_no_plan(request: dict[str, Any], sign: str) -> None:
    answer = ask("return-plan", {**request, "signs": [sign]})
    assert (answer.decision, answer.steps, answer.weeks) == ("refer", [], None)
    assert answer.referral.signs[0].id == sign


@FEWER
@given(returns(), st.sampled_from([2, 4, 30]))
def test_a_break_is_paid_for_and_the_plan_still_ends_at_the_original(request: dict[str, Any], off: int) -> None:
    case = case_of(request)
    found = planned(msgspec.structs.replace(case, weeks_off=off))
    assert found.steps[-1].prescription == case.original
    assert found.fewest_weeks >= 5 or case.original.reps_a_session <= 2
    for before, after in pairwise(found.steps):
        first, then = told_demands(case, before.prescription), told_demands(case, after.prescription)
        if first is not None and then is not None:
            assert all(becomes <= was + case.step + DUST for was, becomes in zip(first, then, strict=True))


SCENARIO: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(64), "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
    "original": {
        "exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(62.5),
        "reps_in_reserve": 2, "days_per_week": 2,
    },
    "adjusted": {
        "exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(50),
        "reps_in_reserve": 4, "days_per_week": 2,
    },
    "region": "low_back",
    "bar": {"bar": kg(15)},
}  # fmt: skip


def with_adjusted(**change: object) -> dict[str, Any]:
    return {**SCENARIO, "adjusted": {**SCENARIO["adjusted"], **change}}


def test_a_lighter_front_squat_goes_back_by_load_alone() -> None:
    answer = ask("return-plan", SCENARIO)
    assert [step.prescription.load.value for step in answer.steps] == [55, 60, 62.5]
    assert {lever for step in answer.steps for lever in step.changed} == {"load"}
    assert (answer.weeks.low, answer.weeks.high) == (3, 5)


def test_missing_sets_come_back_with_fewer_repetitions_first_and_the_load_kept() -> None:
    answer = ask("return-plan", with_adjusted(sets=3, load=kg(62.5), reps_in_reserve=2))
    assert [step.prescription.load.value for step in answer.steps] == [62.5] * 3
    assert answer.steps[0].prescription.sets == 4
    assert answer.steps[0].prescription.reps.high < 6


def test_the_ladder_takes_load_before_depth_before_the_original_lift() -> None:
    depth = {"thigh_below_horizontal": {"value": -10, "unit": "deg"}}
    answer = ask("return-plan", with_adjusted(exercise="safety_bar_squat", load=kg(45), depth=depth))
    order = [step.changed[0] for step in answer.steps]
    assert order.index("range_of_motion") < order.index("equipment")
    assert order[-1] == "load"


def test_an_adjusted_prescription_that_asks_no_less_goes_straight_back() -> None:
    answer = ask("return-plan", with_adjusted(load=kg(70), reps_in_reserve=0))
    assert [step.week for step in answer.steps] == [1]
    assert "adjusted_asks_no_less" in {caution.code for caution in answer.cautions}


def test_too_large_a_jump_is_refused_with_the_step_that_would_do() -> None:
    request = with_adjusted(exercise="split_squat", load=kg(25))
    (fault,) = faults("return-plan", request)
    assert fault.pointer == "/step"
    assert "one change raises" in fault.detail
    enough = float(str(fault.allowed).removeprefix("a step of at least ").split(",")[0])
    assert ask("return-plan", {**request, "step": enough}).decision == "plan"
    faults("return-plan", {**request, "step": enough - 0.01})


def test_finer_plates_are_named_where_they_would_do() -> None:
    heavy_plates = {"bar": kg(15), "plates": [{"plate": kg(20)}]}
    request = {**with_adjusted(load=kg(15)), "original": {**SCENARIO["original"], "load": kg(55)}, "bar": heavy_plates}
    (fault,) = faults("return-plan", request)
    assert "finer plates" in str(fault.allowed)
    fine = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (0.25, 1.25, 5, 10)]}
    assert ask("return-plan", {**request, "bar": fine}).decision == "plan"


def test_a_plan_longer_than_asked_for_is_refused_with_its_weeks() -> None:
    (fault,) = faults("return-plan", {**SCENARIO, "longest": 2})
    assert (fault.pointer, fault.allowed) == ("/longest", "at least 3 weeks, or a larger step")


def test_prescriptions_far_apart_are_refused_in_good_time() -> None:
    much = {"sets": 25, "reps": {"low": 14, "high": 17}, "load": kg(150), "days_per_week": 7}
    little = {"sets": 1, "reps": {"low": 1, "high": 1}, "load": kg(20), "days_per_week": 1, "tempo": "3-0-3-0"}
    request = {**with_adjusted(**little), "original": {**SCENARIO["original"], **much}, "step": 0.02}
    start = process_time()
    (fault,) = faults("return-plan", request)
    assert fault.pointer in ("/step", "/adjusted")
    assert "nearer to the original" in str(fault.allowed)
    assert process_time() - start < 5


def test_one_day_a_week_takes_two_weeks_a_step() -> None:
    once = {"days_per_week": 1}
    request = {**with_adjusted(**once), "original": {**SCENARIO["original"], **once}}
    assert [step.week for step in ask("return-plan", request).steps] == [1, 3, 5]


def test_more_days_than_allowed_are_refused() -> None:
    (fault,) = faults("return-plan", {**SCENARIO, "days_per_week_max": 1})
    assert fault.pointer == "/days_per_week_max"


def test_between_presses_only_a_direction_is_known() -> None:
    press = {"exercise": "bench_press", "load": kg(80)}
    request = {
        **with_adjusted(exercise="floor_press", load=kg(60)),
        "original": {**SCENARIO["original"], **press},
        "region": "shoulder",
    }
    answer = ask("return-plan", request)
    change = next(step for step in answer.steps if step.prescription.exercise == "bench_press")
    assert change.rise is None
    assert "change_by_direction" in {caution.code for caution in answer.cautions}
    assert answer.steps[-1].rise is not None


def test_a_region_that_the_lift_does_not_load_is_refused() -> None:
    (fault,) = faults("return-plan", {**SCENARIO, "original": {**SCENARIO["original"], "exercise": "leg_press"}})
    assert fault.pointer == "/region"


@FEWER
@given(returns())
def test_every_source_is_found_and_every_step_says_why(request: dict[str, Any]) -> None:
    answer = answered(request)
    assert set(answer.basis.sources) <= set(SOURCES)
    for step in answer.steps:
        assert step.why[0].startswith(f"Week {step.week}: {EXERCISES[step.prescription.exercise].name}")
        assert len(step.gate.text) == 3
    assert answer.step == request["step"]


def test_the_usual_step_is_a_choice_of_our_own() -> None:
    assert ask("return-plan", SCENARIO).step == CHOICES.return_plan.step
    assert "design_choice" in ask("return-plan", SCENARIO).basis.sources


def test_answers_are_in_the_unit_of_the_original() -> None:
    pounds = {"value": 137.5, "unit": "lb"}
    answer = ask("return-plan", {**SCENARIO, "original": {**SCENARIO["original"], "load": pounds}})
    assert {step.prescription.load.unit for step in answer.steps} == {"lb"}
    assert answer.steps[-1].prescription.load.value * SI["lb"] == pytest.approx(62.369, abs=1e-3)
