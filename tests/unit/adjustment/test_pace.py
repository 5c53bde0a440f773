"""What a change of tempo or a bounce does to demand: in options, in comparisons, in reviews and on the way back."""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

import pytest
from msgspec.structs import replace

from service.adjustment.compared import compared_demand
from service.adjustment.consultation import Candidate, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.evaluation import assess
from service.adjustment.prescription import Prescription
from service.adjustment.present import present_demand
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.dynamics import turns
from service.mechanics.body import build_body
from service.mechanics.setups import Technique
from service.training.volume import Reps
from tests.support.asking import Answered, ask, in_full, kg
from tests.support.consultations import case_of

BODY: Final = build_body(80.0, 1.78, "male")
LIFTER: Final = {"body_mass": kg(80), "stature": {"value": 178, "unit": "cm"}, "sex": "male"}
SLOW: Final = CHOICES.adjustments.slow_tempo
BOUNCED: Final = {"technique": {"bounce": True}}
SQUAT: Final[dict[str, Any]] = {
    "exercise": "back_squat_high_bar",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(100),
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
SORE_KNEE: Final = {"region": "knee", "pain_in_session": 4}
BENCH: Final = SQUAT | {"exercise": "bench_press", "load": kg(70)}


def prescribed(exercise: str = "back_squat_high_bar", load: float = 100.0, **more: Any) -> Prescription:  # noqa: ANN401 - any field
    return Prescription(exercise, 4, Reps(5, 6), load, 2.0, 2, **more)


def ratio(present: Prescription, new: Prescription, region: str = "knee") -> float:
    found = region_ratio(present_demand(BODY, present, region), new, region)
    assert found is not None
    return found


def consulted(now: dict[str, Any], region: str, **more: object) -> Answered:
    complaint = {"region": region, "pain_in_session": 4}
    question = {"lifter": LIFTER, "prescription": now, "complaint": complaint, "aim": "strength", "limit": 20}
    return ask("adjustments", in_full(question | more))


def way_back(original: dict[str, Any], adjusted: dict[str, Any]) -> Answered:
    return ask("return-plan", {"lifter": LIFTER, "original": original, "adjusted": adjusted, "region": "knee"})


# --- demand -----------------------------------------------------------------------------------------------------------


def test_at_one_pace_the_ratio_has_no_part_of_it() -> None:
    for pace in ({}, {"tempo": SLOW}, {"tempo": "2-0-X-0"}, {"technique": Technique(bounce=True)}):
        assert ratio(prescribed(**pace), prescribed(load=80.0, **pace)) == ratio(prescribed(), prescribed(load=80.0))
        present = present_demand(BODY, prescribed(**pace))
        assert not present.setup_of(prescribed("front_squat", 60.0, **pace)).paces


@pytest.mark.parametrize("region", ["knee", "hip", "low_back", "ankle"])
def test_steps_of_tempo_and_load_multiply(region: str) -> None:
    usual, slow, light = prescribed(), prescribed(tempo=SLOW), prescribed(load=70.0, tempo=SLOW)
    at_once = ratio(usual, light, region)
    assert at_once == pytest.approx(ratio(usual, slow, region) * ratio(slow, light, region), rel=2e-3)
    assert ratio(usual, slow, region) < 1.0 < ratio(slow, usual, region)


@pytest.mark.parametrize("exercise", [lift for lift in EXERCISES if turns(lift)])
def test_a_bounce_raises_what_is_computed_and_slow_repetitions_lower_it(exercise: str) -> None:
    region = next(iter(EXERCISES[exercise].regions))
    present = present_demand(BODY, prescribed(exercise, 40.0), region)
    usual = region_ratio(present, prescribed(exercise, 40.0), region)
    if usual is not None:
        slow = region_ratio(present, prescribed(exercise, 40.0, tempo=SLOW), region)
        bounced = region_ratio(present, prescribed(exercise, 40.0, technique=Technique(bounce=True)), region)
        assert slow is not None
        assert bounced is not None
        assert slow < usual == 1.0 < bounced


def test_a_lift_without_figures_is_left_as_it_was() -> None:
    row = prescribed("barbell_row", 60.0)
    assert ratio(row, prescribed("barbell_row", 60.0, tempo=SLOW), "low_back") == 1.0


def test_the_span_of_a_changed_tempo_has_the_factors_in_it() -> None:
    present = present_demand(BODY, prescribed())
    same, slow = (compared_demand(present, prescribed(load=80.0, tempo=tempo)) for tempo in (None, SLOW))
    for region in ("knee", "hip", "low_back"):
        a, b = same.ratios[region], slow.ratios[region]
        assert (b.high - b.low) / b.value > (a.high - a.low) / a.value
    press = compared_demand(
        present_demand(BODY, prescribed("bench_press", 70.0)), prescribed("bench_press", 70.0, tempo=SLOW)
    )
    assert press.ratios["shoulder"].low < press.ratios["shoulder"].value < press.ratios["shoulder"].high < 1.0
    assert press.directions["shoulder"] == "lower"


def test_joint_demand_and_an_option_say_the_same_of_a_slow_tempo() -> None:
    unsaid = {name: part for name, part in SQUAT.items() if name != "reps_in_reserve"}
    (slow,) = (one for one in consulted(unsaid, "knee").options if one.prescription.tempo and not one.program)
    now = unsaid | {"label": "now"}
    setups = [now, now | {"label": "slow", "load": kg(slow.prescription.load.value), "tempo": SLOW}]
    relative = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1].relative
    for region, joint in {"knee": "knee", "hip": "hip_resultant", "low_back": "lumbosacral"}.items():
        said, there = slow.demand[region], getattr(relative, joint)
        assert (said.value, said.low, said.high) == pytest.approx((there.value, there.low, there.high), abs=6e-4)


def test_spinal_load_of_a_tempo_is_that_at_rest_times_the_factors() -> None:
    setups = [{"label": "now", "exercise": "good_morning", "load": kg(40)}]
    setups[0]["trunk_lean"] = {"value": 60, "unit": "deg"}  # stated, so that both share its error
    setups += [{**setups[0], "label": tempo, "tempo": tempo} for tempo in (SLOW, "2-0-1-0")]
    setups += [{**setups[0], "label": "bounced", **BOUNCED}]
    now, slow, usual, bounced = ask("spinal-load", {"lifter": LIFTER, "setups": setups}).setups
    assert slow.moment == now.moment
    assert slow.dynamic.moment.value / slow.moment.value == pytest.approx(slow.dynamic.factor.value, rel=1e-5)
    for one in (slow, bounced):
        for part in (one.relative.moment, one.relative.compression):
            assert part.value == pytest.approx(one.dynamic.factor.value / now.dynamic.factor.value, rel=1e-4)
    assert usual.dynamic == now.dynamic


# --- levers -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("now", "region"), [(SQUAT, "knee"), (BENCH, "shoulder")])
def test_leaving_a_bounce_out_is_offered_where_there_is_one_and_nowhere_else(now: dict[str, Any], region: str) -> None:
    def steady(prescription: dict[str, Any]) -> list[Any]:
        levers = {"levers": ["technique", "load"]}
        said = consulted(prescription, region, constraints=levers).options
        return [one for one in said if "no_bounce" in {message.code for message in one.why}]

    assert not steady(now)
    (option,) = (one for one in steady(now | BOUNCED) if one.levers == ["technique"])
    assert option.prescription.load.value == now["load"]["value"]
    assert option.prescription.technique is None
    span = option.demand[region]
    assert span.value == pytest.approx(1 / 1.2, abs=6e-4)
    assert span.low < span.value < span.high < 1.0


def test_the_training_effect_knows_nothing_of_the_force_at_the_turn() -> None:
    found = case_of({"lifter": LIFTER, "prescription": SQUAT, "complaint": SORE_KNEE, "aim": "tendon"})
    now = found.now
    slow = assess(found, Trial(("tempo", "load"), replace(now, tempo=SLOW, load=80.0)))
    at_rest = region_ratio(found.present, replace(now, load=80.0), "knee")
    assert isinstance(slow, Candidate)
    assert slow.stimulus.kept.parts["tendon_load"].value == at_rest
    assert slow.effects["knee"].ratio is not None
    assert at_rest is not None
    assert slow.effects["knee"].ratio < at_rest


def test_a_tempo_that_is_slow_already_is_not_made_faster() -> None:
    for option in consulted(SQUAT | {"tempo": "5-0-5-0"}, "knee").options:
        assert option.prescription.tempo in ("5-0-5-0", None) or option.program


def test_a_bounce_from_the_floor_is_refused_with_the_lifts_that_have_one() -> None:
    with pytest.raises(Refusal) as refused:
        consulted(SQUAT | {"exercise": "deadlift_conventional"} | BOUNCED, "low_back")
    (fault,) = refused.value.faults
    assert fault.pointer == "/prescription/technique/bounce"
    assert "back_squat_high_bar" in str(fault.allowed)


# --- the way back -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("original", "adjusted"),
    [(SQUAT, SQUAT | {"tempo": SLOW, "load": kg(75)}), (SQUAT | BOUNCED, SQUAT | {"load": kg(90)})],
    ids=["slow tempo", "no bounce"],
)
def test_what_protects_goes_within_the_step_and_the_demand_is_seen(
    original: dict[str, Any], adjusted: dict[str, Any]
) -> None:
    plan = way_back(original, adjusted)
    demands = [step.demand["knee"].value for step in plan.steps]
    assert demands[-1] == pytest.approx(1.0, abs=1e-3)
    for step in plan.steps:
        assert step.over_step or step.rise is None or step.rise <= 0.1 + 1e-6
    given_up = [
        (before, after)
        for before, after in pairwise(plan.steps)
        if before.prescription.tempo != after.prescription.tempo
        or before.prescription.technique != after.prescription.technique
    ]
    for before, after in given_up:
        if before.prescription.load.value == after.prescription.load.value:
            assert after.demand["knee"].value > before.demand["knee"].value
