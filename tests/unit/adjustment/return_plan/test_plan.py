"""One step at a time: whoever asks for the next step again and again comes back by the steps of the plan."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from msgspec.structs import replace

from service.adjustment.demand import region_ratio
from service.adjustment.return_plan import budget as budgets
from service.adjustment.return_plan.plan import Step, next_step, plan
from service.adjustment.return_plan.problem import ReturnCase
from service.knowledge.design_choices import CHOICES
from tests.support.asking import ask, kg
from tests.support.returns import case_of, returns
from tests.support.work import calls
from tests.unit.adjustment.test_return_plan import SCENARIO, with_adjusted

DUST: Final = 1e-6
LONGEST: Final = 80
FEW: Final = settings(max_examples=40, deadline=None, derandomize=True)


def step_by_step(case: ReturnCase) -> list[Step]:
    """The steps that follow one another, each asked for anew from what is done then."""
    steps: list[Step] = []
    while len(steps) <= LONGEST and (step := next_step(case)) is not None:
        steps.append(step)
        case = replace(case, adjusted=step.prescription)
    return steps


@FEW
@given(returns())
def test_the_next_step_leads_to_the_original_in_as_many_steps_as_the_plan(request: dict[str, Any]) -> None:
    case = case_of(request)
    whole = plan(case)
    if whole.asks_no_less:
        assert next_step(case) is None
        return
    assert next_step(case) == whole.steps[0]
    steps = step_by_step(case)
    assert len(steps) == len(whole.steps) or (whole.direct and len(steps) < len(whole.steps))
    assert steps[-1].prescription == case.original
    done = [replace(step.prescription, reserve=None) for step in steps]
    assert all(one not in done[:place] for place, one in enumerate(done))


def test_of_a_direct_way_the_next_step_is_the_first_and_the_others_are_not_looked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    limited = replace(CHOICES.return_plan, most_moves=20)
    monkeypatch.setattr(budgets, "CHOICES", replace(CHOICES, return_plan=limited))
    case, afresh, once_more = (far_apart({"low": 5, "high": 100}, sets=4) for _ in range(3))
    whole = plan(case)
    assert whole.direct
    assert next_step(case) == whole.steps[0]
    assert calls(lambda: next_step(afresh)) < calls(lambda: plan(once_more)) / 3


def far_apart(reps: dict[str, int], sets: int) -> ReturnCase:
    """The way back from a light lift with very much more of everything than the original has."""
    far = {"exercise": "goblet_squat", "sets": sets, "reps": reps, "load": kg(15), "tempo": "3-0-1-0"}
    original = {"exercise": "back_squat_high_bar", "sets": 4, "reps": {"low": 5, "high": 5}, "load": kg(72.5)}
    return case_of({"lifter": SCENARIO["lifter"], "original": original, "adjusted": far, "region": "elbow"})


@pytest.mark.parametrize("sets", [1, 4, 50])
@pytest.mark.parametrize("reps", [{"low": 5, "high": 100}, {"low": 100, "high": 100}, {"low": 12, "high": 15}])
def test_however_much_more_is_done_now_it_comes_down_in_few_steps(reps: dict[str, int], sets: int) -> None:
    assert len(plan(far_apart(reps, sets)).steps) <= 1.75 * CHOICES.return_plan.most_grades


@FEW
@given(returns())
def test_no_step_of_a_lift_asks_less_than_what_is_done(request: dict[str, Any]) -> None:
    """Unless a deeper grade does with as much load as it allows: demand need not rise with depth all the way."""
    case = case_of(request)
    before = case.adjusted
    for step in plan(case).steps:
        first, then = (region_ratio(case.present, one, case.region) for one in (before, step.prescription))
        if first is not None and then is not None and before.exercise == step.prescription.exercise:
            if before.depth != step.prescription.depth:
                as_heavy = region_ratio(case.present, replace(step.prescription, load=before.load), case.region)
                most = min(first + case.step, 1.0)
                if before.load <= step.prescription.load or (as_heavy is not None and as_heavy > most):
                    first = min(first, then)
            assert then >= min(first, 1.0) - DUST
            session = [ratio * one.reps_a_session for ratio, one in ((first, before), (then, step.prescription))]
            assert session[1] >= min(session[0], case.original.reps_a_session) - DUST or first > 1
        before = step.prescription


@FEW
@given(returns())
def test_a_week_rises_with_its_sessions_alone_unless_a_day_is_added(request: dict[str, Any]) -> None:
    case = case_of(request)
    weekly = case.original.reps_a_week
    before = case.adjusted
    for step in plan(case).steps:
        new = step.prescription
        first, then = (region_ratio(case.present, one, case.region) for one in (before, new))
        if first is not None and then is not None and before.days == new.days:
            rise = (then * new.reps_a_week - first * before.reps_a_week) / weekly
            assert rise <= case.step + DUST or step.over_step
        before = new


def test_nothing_that_protects_goes_unnamed() -> None:
    held = {"value": 45, "unit": "s"}
    protected = {
        "technique": {"heel_lift": {"value": 3, "unit": "cm"}, "shin_angle": {"value": 20, "unit": "deg"}},
        "tempo": "3-0-3-0",
        "rest": {"value": 180, "unit": "s"},
        "depth": {"box_height": {"value": 50, "unit": "cm"}},
    }
    answer = ask("return-plan", with_adjusted(**protected))
    named = {name for step in answer.steps for name in step.changed}
    assert {"technique", "tempo", "rest", "range_of_motion"} <= named
    hold = {"sets": 5, "reps": {"low": 1, "high": 1}, "hold": held, "load": kg(30)}
    assert "hold" in {name for step in ask("return-plan", with_adjusted(**hold)).steps for name in step.changed}


def test_depth_comes_back_by_box_height() -> None:
    answer = ask("return-plan", with_adjusted(depth={"box_height": {"value": 55, "unit": "cm"}}))
    heights = [step.prescription.depth.box_height.value for step in answer.steps if step.prescription.depth is not None]
    assert heights == sorted(heights, reverse=True)
    assert set(heights) <= {0.55, 0.5, 0.45, 0.4, 0.35}
    assert len(set(heights)) >= 1


def test_technique_comes_back_by_grades() -> None:
    answer = ask("return-plan", with_adjusted(technique={"heel_lift": {"value": 3, "unit": "cm"}}))
    lifts = [
        0.0 if step.prescription.technique is None else step.prescription.technique.heel_lift.value
        for step in answer.steps
    ]
    # our own choice: a centimetre at a time
    assert [lift for place, lift in enumerate(lifts) if lift not in lifts[:place]] == [0.02, 0.01, 0.0]


def test_cues_are_left_one_by_one_with_the_load_kept_and_a_test_before() -> None:
    bench = {"exercise": "bench_press", "load": kg(80), "sets": 3, "reps": {"low": 5, "high": 5}, "reps_in_reserve": 2}
    cues = ["shoulder_blades_back", "stop_above_the_chest"]
    request = {
        **SCENARIO,
        "original": bench,
        "adjusted": {**bench, "load": kg(70), "cues": cues},
        "region": "shoulder",
    }
    steps = ask("return-plan", request).steps
    assert [step.prescription.cues for step in steps[:2]] == [["shoulder_blades_back"], None]
    for step in steps[:2]:
        assert step.changed == ["cues"]
        assert (step.prescription.load.value, step.rise) == (70, None)
        assert step.test_first.reason == "unknown_demand"


def test_what_is_known_to_be_tolerated_comes_before_every_other_rule() -> None:
    original = {"exercise": "deadlift_conventional", "sets": 3, "reps": {"low": 3, "high": 3}, "load": kg(260)}
    request = {
        **SCENARIO,
        "original": original,
        "adjusted": {**original, "exercise": "belt_squat", "load": kg(130)},
    }
    # 0.40 of 260 kg where nothing is known: our own choice
    assert ask("return-plan", request).steps[0].prescription.load.value == pytest.approx(105, abs=1.3)
    known = ask("return-plan", {**request, "tolerated": {"load": kg(180), "pain": 1}}).steps[0]
    assert (known.prescription.load.value, known.over_step, known.test_first) == (180, False, None)
    hurts = ask("return-plan", {**request, "tolerated": {"load": kg(180), "pain": 4}}).steps[0]
    assert hurts.prescription.load.value == pytest.approx(105, abs=1.3)


def test_a_test_after_weeks_off_gives_the_loads() -> None:
    answer = ask("return-plan", {**with_adjusted(load=kg(62.5)), "weeks_off": 8})
    first, last = answer.steps[0], answer.steps[-1]
    assert first.test_first.reason == "after_break"
    assert first.prescription.load.value < 62.5
    assert first.by_test.share == 1
    for step in answer.steps:
        assert step.by_test.share == pytest.approx(
            step.prescription.load.value / first.prescription.load.value, abs=1e-3
        )
        # tavares_2017 (abstract): 22.6 % of the maximum lost in eight weeks by young men new to training
        most = min(62.5, step.prescription.load.value / (1 - 0.226))
        assert (step.by_test.load.low, step.by_test.load.high) == pytest.approx((step.prescription.load.value, most))
    assert last.prescription.load.value == 62.5


def test_more_repetitions_than_a_maximum_may_be_formed_of_lead_back_and_can_be_reviewed() -> None:
    # 16 repetitions of a bench press are above the 15 of its table: an option for a sore shoulder may ask for them
    press = {"exercise": "overhead_press_seated", "sets": 4, "reps": {"low": 12, "high": 13}, "load": kg(82.5)}
    bench = {**press, "exercise": "bench_press", "sets": 3, "reps": {"low": 15, "high": 16}, "reps_in_reserve": 3.5}
    request = {**SCENARIO, "original": press, "adjusted": bench, "region": "shoulder"}
    assert ask("return-plan", request).steps[-1].prescription.exercise == "overhead_press_seated"
    sessions = [{"pain_in_session": 1, "pain_next_morning": 0, "reps_done": [16, 16, 16]}] * 2
    review = {
        "prescription": bench,
        "original": press,
        "lifter": SCENARIO["lifter"],
        "region": "shoulder",
        "usual_pain": 0,
    }
    assert ask("session-review", {**review, "sessions": sessions}).decision in {"progress", "hold"}


def test_holds_get_longer_within_the_step_and_ask_for_no_repetitions_left() -> None:
    plank = {"exercise": "plank", "sets": 4, "load": kg(0), "days_per_week": 3}
    request = {
        "lifter": SCENARIO["lifter"],
        "original": plank | {"hold": {"value": 80, "unit": "s"}},
        "adjusted": plank | {"hold": {"value": 40, "unit": "s"}},
        "region": "low_back",
    }
    steps = ask("return-plan", request).steps
    assert [step.prescription.hold.value for step in steps] == [48, 56, 64, 72, 80]
    assert not any(step.over_step or step.test_first or step.gate.reps_in_reserve_at_least for step in steps)


def test_sets_of_holds_their_number_and_days_come_back_one_by_one() -> None:
    holds = {"exercise": "calf_raise_standing", "load": kg(10), "hold": {"value": 20, "unit": "s"}}
    request = {
        "lifter": SCENARIO["lifter"],
        "original": holds | {"sets": 4, "reps": {"low": 5, "high": 5}, "days_per_week": 3},
        "adjusted": holds | {"sets": 3, "reps": {"low": 3, "high": 3}, "days_per_week": 2},
        "region": "ankle",
    }
    steps = ask("return-plan", request).steps
    assert not any(step.over_step for step in steps)
    assert [step.prescription.sets for step in steps] == sorted(step.prescription.sets for step in steps)
    assert [step.week for step in steps if "days" in step.changed] == [steps[-1].week]
