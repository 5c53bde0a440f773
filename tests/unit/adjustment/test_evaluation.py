"""The limits of what may be offered, met exactly and exceeded by one: target, nearness to failure, days, directions."""

from __future__ import annotations

from typing import Any, Final

import pytest
from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Candidate, RuledOut, Trial
from service.adjustment.demand import effect_on
from service.adjustment.evaluation import assess
from service.adjustment.prescription import Prescription
from service.adjustment.present import present_demand
from service.knowledge.arm_lifts import arm_lift_of
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.substitutions import directions
from service.mechanics.setups import Technique
from service.training.load_repetition import person_curve
from service.training.volume import Reps
from tests.support.asking import ask, in_full, kg
from tests.unit.adjustment.options.test_search import BODY, STEP, case, options

PRESS: Final = Prescription("landmine_press", 4, Reps(6, 6), 100.0, 2.0, 2)
SQUAT: Final = Prescription("back_squat_high_bar", 4, Reps(6, 6), 100.0, 2.0, 2, technique=Technique())
NEAR: Final = 0.1  # repetitions; nearer to a limit than this the two ways of computing may differ
SLOW: Final = "3-0-3-0"


def at(load: float, target: float) -> Assessment:
    return assess(case(PRESS, region="shoulder", target=target), Trial(("load",), replace(PRESS, load=load)))


def test_a_ratio_exactly_at_the_target_meets_it_and_one_above_does_not() -> None:
    met = at(80.0, 0.8)
    assert isinstance(met, Candidate)
    assert met.meets_by == "peak"
    assert isinstance(at(80.5, 0.8), RuledOut)


def test_a_session_exactly_at_the_target_meets_it_and_one_above_does_not() -> None:
    three = Trial(("sets",), replace(PRESS, sets=3))
    met = assess(case(PRESS, region="shoulder", target=0.75), three, summed_over="session")
    assert isinstance(met, Candidate)
    assert met.meets_by == "session_exposure"
    assert isinstance(assess(case(PRESS, region="shoulder", target=0.74), three, summed_over="session"), RuledOut)


def test_the_load_exactly_at_the_target_is_the_one_that_is_offered() -> None:
    found = options(case(PRESS, region="shoulder", target=0.8, levers=frozenset({"load"})))
    assert [one.prescription.load for one in found] == [80.0]


def can(load: float, exercise: str) -> float:
    """Repetitions to failure with a load, after 6 at 100 kg with 2 left."""
    question = {"set": {"load": kg(100), "reps": 6, "reps_in_reserve": 2}, "exercise": exercise}
    return float(ask("reps-for-load", {**question, "target": {"load": kg(load)}}).reps.value)


def test_nothing_goes_nearer_to_failure_than_one_left() -> None:
    # the search goes by the general table, whatever reps-for-load takes for the lift
    curve = person_curve(SQUAT.exercise, 0)
    to_failure = curve.reps_at(0.8 * curve.share_at(6 + 2))
    refused = []
    for reps in range(6, 24):
        left = to_failure - reps
        trial = Trial(("load", "reps"), replace(SQUAT, load=80.0, reps=Reps(reps, reps)))
        found = assess(case(SQUAT, target=0.99), trial)
        nearer = isinstance(found, RuledOut) and found.reason == "nearer_to_failure"
        assert nearer == (left < 1), (reps, left)
        refused.append(nearer)
    assert {True, False} == set(refused)


def test_no_more_days_than_the_most_are_offered() -> None:
    # 8 sets a week: on 3 days 2 of 4 a session, and no more than 3 days leave the region a day between
    found = case(PRESS, region="shoulder", target=0.7, levers=frozenset({"days"}))
    assert options(replace(found, most_days=2)) == []
    for most in (3, 7):
        [spread] = options(replace(found, most_days=most))
        assert (spread.prescription.days, spread.prescription.sets) == (3, 2)
    assert options(replace(found, target=0.4, most_days=7)) == []


def test_heavy_slow_lifting_keeps_two_repetitions_at_its_tempo() -> None:
    # 5 with 3 left is as hard to come by as 6 with 2, and another reserve than the program's
    present = replace(SQUAT, reps=Reps(5, 5), reserve=3.0)
    found = options(case(present, region="knee", target=0.99, aim="tendon"))
    [slow] = [one for one in found if one.trial.program == "heavy_slow"]
    new = slow.prescription
    assert new.reserve == 2
    reps = {"low": new.reps.high, "high": new.reps.high}
    kept = ask("tempo", {"tempo": SLOW, "reps": reps}).cost_in_reps.fraction_kept.value
    left = can(new.load, SQUAT.exercise) * kept - new.reps.high
    assert left >= 2 - NEAR
    assert can(new.load + 2 * STEP, SQUAT.exercise) * kept - new.reps.high < 2 + NEAR


# --- what is not known is not said to be less -------------------------------------------------------------------------

UNMODELLED: Final = sorted(set(EXERCISES) - set(EXERCISE_RULES))


def test_where_nothing_is_published_of_another_lift_its_direction_is_unknown() -> None:
    unknown = 0
    for old in UNMODELLED:
        present = present_demand(BODY, Prescription(old, 4, Reps(6, 6), 60.0, 2.0))
        for new in UNMODELLED:
            if new == old or (arm_lift_of(old, None) and arm_lift_of(new, None)):
                continue
            for region in EXERCISES[new].regions:
                if {region, REGIONS[region].whole} & {*directions(old, new), *present.moments}:
                    continue
                effect = effect_on(present, Prescription(new, 4, Reps(6, 6), 30.0, 2.0), region)
                assert (effect.direction, effect.ratio) == ("unknown", None), (old, new, region)
                unknown += 1
    assert unknown > 100


def test_a_region_whose_moment_may_be_nil_is_compared_with_nothing() -> None:
    present = replace(present_demand(BODY, SQUAT), comparable=frozenset())
    for region in ("knee", "hip", "ankle", "low_back"):
        assert effect_on(present, replace(SQUAT, load=60.0), region).direction == "unknown"


def test_a_cue_with_more_load_says_nothing_and_one_with_less_says_less() -> None:
    [cue, *_] = [one for one in CUES.values() if one.regions.get("shoulder") == "lower"]
    now = replace(PRESS, exercise=cue.exercises[0])
    present = present_demand(BODY, now)

    def direction(load: float) -> str:
        return effect_on(present, replace(now, load=load, cues=(cue.id,)), "shoulder").direction

    assert (direction(90.0), direction(100.0), direction(110.0)) == ("lower", "lower", "unknown")


# --- angles in degrees ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("exercise", ["front_squat", "back_squat_low_bar", "romanian_deadlift"])
def test_the_present_lean_is_in_degrees_as_joint_demand_has_it(exercise: str) -> None:
    lifter = {"body_mass": kg(70), "stature": {"value": 172, "unit": "cm"}}
    prescription: dict[str, Any] = {"exercise": exercise, "sets": 3, "reps": {"low": 5, "high": 5}, "load": kg(80)}
    complaint = {"region": "hip", "pain_in_session": 4}
    asked = {"lifter": lifter, "prescription": prescription, "complaint": complaint, "aim": "strength"}
    lean = ask("adjustments", in_full(asked)).baseline.trunk_lean
    setup = {"label": "now", "exercise": exercise, "load": kg(80)}
    drawn = ask("joint-demand", {"lifter": lifter, "setups": [setup]}).setups[0].posture.trunk_lean
    assert lean.unit == drawn.unit == "deg"
    assert lean.value == pytest.approx(drawn.value, abs=1e-3)
    assert 5 < lean.low < lean.value < lean.high < 100


def test_no_option_has_more_repetitions_than_are_published_of_its_lift() -> None:
    for lift, region, most in (
        (replace(PRESS, exercise="bench_press"), "shoulder", 14),
        (SQUAT, "low_back", 19),
    ):  # of the bench press a table of its own is published
        held = replace(lift, hold=5.0, load=50.0)  # so that the repetitions left do not count
        for reps, unfit in ((most, False), (most + 1, True)):
            found = assess(
                case(lift, region=region, target=0.99), Trial(("load", "reps"), replace(held, reps=Reps(reps, reps)))
            )
            assert (isinstance(found, RuledOut) and found.reason == "more_reps_than_published") == unfit
