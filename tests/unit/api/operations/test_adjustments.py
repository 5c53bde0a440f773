"""What must hold for the main job, whoever the lifter and whatever the prescription."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.adjustment.prescription import lifts_the_body
from service.api.models.gym import ON_A_BAR
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.knowledge.signs import SIGNS, URGENCIES
from service.training.plate_loading import Plates, loadable
from service.units import SI, MassUnit
from service.vocabulary import LEVERS
from tests.support.asking import Answered, ask, ask_drawn, faults, in_full
from tests.support.consultations import consultations

OTHER: Final[dict[str, MassUnit]] = {"kg": "lb", "lb": "kg"}
EXAMPLES: Final = settings(max_examples=60, deadline=None, derandomize=True)
SORE: Final[dict[str, Any]] = {
    "lifter": {"body_mass": {"value": 82, "unit": "kg"}, "stature": {"value": 181, "unit": "cm"}},
    "prescription": {
        "exercise": "back_squat_low_bar",
        "sets": 5,
        "reps": {"low": 4, "high": 5},
        "load": {"value": 110, "unit": "kg"},
        "reps_in_reserve": 1,
        "days_per_week": 2,
    },
    "complaint": {"region": "knee", "pain_in_session": 4},
    "aim": "strength",
}


def adjusted(request: dict[str, Any]) -> Answered:
    """What is answered where the pain does not pause the region."""
    answer = ask_drawn("adjustments", in_full(request))
    assume(answer.decision != "pause_and_review")
    return answer


def with_confirmation(request: dict[str, Any], *, confirmed: bool) -> dict[str, Any]:
    return with_part(request, "circumstances", pregnant=True, confirmed_by_professional=confirmed)


def with_part(request: dict[str, Any], part: str, **change: object) -> dict[str, Any]:
    return {**request, part: {**request.get(part, {}), **change}}


def in_the_other_unit(node: Any) -> Any:  # noqa: ANN401 - any JSON
    if isinstance(node, dict):
        if node.get("unit") in OTHER:
            other = OTHER[node["unit"]]
            return {"value": node["value"] * SI[node["unit"]] / SI[other], "unit": other}
        return {key: in_the_other_unit(value) for key, value in node.items()}
    return [in_the_other_unit(value) for value in node] if isinstance(node, list) else node


def order(answer: Answered) -> list[tuple[Any, ...]]:
    return [
        (
            tuple(option.levers),
            option.prescription.exercise,
            option.prescription.sets,
            (option.prescription.reps.low, option.prescription.reps.high),
            option.prescription.days_per_week,
            tuple(option.prescription.cues or ()),
            option.meets_by,
        )
        for option in answer.options
    ]


def lifted(prescription: dict[str, Any]) -> float:
    """Load less assistance as a request states it [kg]."""
    return float(sum(sign * kilograms(prescription.get(part)) for part, sign in (("load", 1), ("assistance", -1))))


def lifted_anew(option: Answered) -> float:
    """The same of an option [kg]."""
    new = option.prescription
    helped = 0.0 if new.assistance is None else new.assistance.value * SI[new.assistance.unit]
    return float(new.load.value * SI[new.load.unit] - helped)


def kilograms(mass: dict[str, Any] | None) -> float:
    return 0.0 if mass is None else float(mass["value"] * SI[mass["unit"]])


# --- what holds of every option ---------------------------------------------------------------------------------------


@EXAMPLES
@given(consultations)
def test_whatever_can_be_asked_is_answered_or_refused_with_a_pointer_into_it(request: dict[str, Any]) -> None:
    try:
        answer = ask("adjustments", request)
    except Refusal as refusal:
        for fault in refusal.faults:
            assert fault.pointer.split("/")[1] in request
        return
    assert answer.decision in ("adjust", "no_change_needed", "pause_and_review")
    assert answer.why


@EXAMPLES
@given(consultations)
def test_every_option_meets_the_target_or_says_that_it_is_a_direction_or_a_session(request: dict[str, Any]) -> None:
    answer = adjusted(request)
    region, target = answer.target.region, answer.target.ratio
    for option in answer.options:
        if option.meets_by == "peak":
            assert 0 <= option.demand[region].value <= target + 1e-4
        elif option.meets_by == "posture":
            assert region == "shoulder"
            assert option.demand[region].value <= 1 + 1e-6
            assert "posture_not_moment" in option.cautions
        elif option.meets_by == "direction_only":
            assert region not in option.demand
            assert option.direction[region] == "lower"
            assert "direction_only_option" in option.cautions
        elif option.meets_by == "week_exposure":
            new, now = option.prescription, request["prescription"]
            assert new.days_per_week / now["days_per_week"] <= target + 1e-4
            assert new.sets == now["sets"]
            assert "week_exposure_only" in option.cautions
        else:
            assert option.session_exposure <= target + 1e-4
            assert "session_exposure_only" in option.cautions


@EXAMPLES
@given(consultations)
def test_every_load_can_be_put_together_and_none_is_heavier_than_now(request: dict[str, Any]) -> None:
    limits, present = request["constraints"], request["prescription"]
    unit = limits["bar"]["bar"]["unit"]
    kinds = tuple(sorted((round(kind["plate"]["value"] * 1000), kind["pairs"]) for kind in limits["bar"]["plates"]))
    plates = Plates(round(limits["bar"]["bar"]["value"] * 1000), kinds)
    body = kilograms(request["lifter"]["body_mass"])
    now = lifted(present)
    for option in adjusted(request).options:
        new = option.prescription
        assert new.load.unit == present["load"]["unit"]
        load = lifted_anew(option)
        whole = load / SI[unit]
        own = lifts_the_body(present["exercise"]), lifts_the_body(new.exercise)
        assert load + own[1] * body <= (now + own[0] * body) * (1 + 1e-5)
        if new.exercise == present["exercise"] and load == pytest.approx(now):
            continue  # unchanged, and so there already
        if now == 0 and not any(own):
            assert load == 0  # the body alone in the place of the body alone
            continue
        held_with = new.implement or EXERCISES[new.exercise].implements[0]
        if held_with == "body_weight":
            assert load == 0
        elif EXERCISES[new.exercise].bar and (new.implement is None or held_with in ON_A_BAR):
            held = loadable(plates, round(whole * 1000))
            assert held is not None
            assert held.total == pytest.approx(whole * 1000, rel=1e-5)
        else:
            step = limits["increment"]["value"]
            pieces = whole / (step * (2 if held_with == "dumbbells" else 1))
            assert pieces == pytest.approx(round(pieces), abs=1e-3)


@EXAMPLES
@given(consultations)
def test_constraints_are_kept_and_nothing_is_changed_that_no_lever_names(request: dict[str, Any]) -> None:
    limits, present = request["constraints"], request["prescription"]
    allowed = set(limits.get("exercises", EXERCISES)) - set(limits.get("exclude", []))
    answer = adjusted(request)
    assert [option.rank for option in answer.options] == list(range(1, len(answer.options) + 1))
    for option in answer.options:
        new, levers = option.prescription, set(option.levers)
        assert levers <= set(limits.get("levers", LEVERS))
        assert len(levers) == len(option.levers)
        most_days = limits.get("days_per_week_max", 7)
        too_many = present.get("days_per_week", 0) > most_days
        changes = levers - {"reps", "sets"} - ({"days"} if too_many else set())
        otherwise_done = {"technique", "range_of_motion"} <= levers  # some load goes with both where it hurts more
        assert len(changes) <= (3 if otherwise_done else 2) or option.program
        assert new.days_per_week is None or new.days_per_week <= most_days
        assert new.exercise not in limits.get("exclude", [])
        assert option.program is None or request["aim"] == "tendon"
        if new.exercise != present["exercise"]:
            assert levers & {"variation", "exercise", "equipment", "range_of_motion"}
            assert new.exercise in allowed
        if "days" not in levers:
            assert new.days_per_week == present.get("days_per_week")
        if "reps" not in levers and option.program is None:
            assert (new.reps.low, new.reps.high) == (present["reps"]["low"], present["reps"]["high"])
        if "sets" not in levers and "days" not in levers:
            assert new.sets == present["sets"]
        if "tempo" not in levers:
            assert new.tempo == present.get("tempo")
        if "rest" not in levers:
            assert (new.rest is None) == ("rest" not in present)
        if "lightest_load" in limits:
            lightest = kilograms(limits["lightest_load"]) * (1 - 1e-5)
            assert lifted_anew(option) >= lightest or new.exercise != present["exercise"]


def test_an_excluded_present_lift_is_not_offered() -> None:
    answer = ask("adjustments", with_part(SORE, "constraints", exclude=["back_squat_low_bar"]))
    assert answer.options
    assert {option.prescription.exercise for option in answer.options} & {"back_squat_low_bar"} == set()
    reasons = {one.lever: one.code for one in answer.ruled_out}
    assert reasons["load"] == reasons["sets"] == "present_lift_excluded"


def test_too_many_days_now_are_brought_down_to_the_limit_in_every_option() -> None:
    five = with_part(SORE, "prescription", days_per_week=5)
    answer = ask("adjustments", in_full(with_part(five, "constraints", days_per_week_max=3)))
    assert answer.options
    assert {option.prescription.days_per_week for option in answer.options} <= {1, 2, 3}
    assert all("days" in option.levers for option in answer.options)
    assert all(option.stimulus.weekly_sets <= 3 / 5 for option in answer.options)
    (fault,) = faults("adjustments", with_part(five, "constraints", days_per_week_max=3, levers=["load"]))
    assert (fault.pointer, fault.allowed) == (
        "/constraints/days_per_week_max",
        "at least 5, or days among constraints/levers",
    )


@pytest.mark.parametrize(("exercise", "lead"), [("split_squat", 0.75), ("step_up", 1.0)])
def test_what_a_single_leg_squat_puts_on_the_leg_is_matched_as_all_of_it(exercise: str, lead: float) -> None:
    # half of the load that puts as much on the lead leg as one leg carries now, at most half of the present one
    single = with_part(SORE, "prescription", exercise="single_leg_squat", load={"value": 40, "unit": "kg"})
    limits = {"exercises": [exercise], "bar": {"bar": {"value": 2.5, "unit": "kg"}}}
    asked = with_part(in_full({**single, "limit": 20}), "constraints", levers=["exercise"], **limits)
    answer = ask("adjustments", asked)
    matched = min(40, (82 + 40) * 1.0 / lead - 82)
    tried = [option.prescription.load.value for option in answer.options]
    trials = [trial for one in answer.ruled_out for trial in one.trials]
    tried += [one.tried.values["prescription"]["load"]["value"] for one in trials if one.tried]
    assert tried == [matched / 2]


@EXAMPLES
@given(consultations)
def test_figures_are_sound_and_no_option_comes_twice(request: dict[str, Any]) -> None:
    options = adjusted(request).options
    assert len({repr(option.prescription) for option in options}) == len(options)
    for option in options:
        kept = option.stimulus.kept
        for part in (kept, *kept.parts.values(), *kept.muscles.values()):
            assert 0 <= part.value <= 1
            assert (part.low is None) == (part.high is None)
            assert part.low is None or 0 <= part.low <= part.value <= part.high <= 1
            assert part.low is None or part.low < part.high
        assert option.prescription.reps_in_reserve >= 0
        assert option.prescription.reps.low >= 1
        assert option.prescription.sets >= 1
        for ratio in option.demand.values():
            assert ratio.low <= ratio.value <= ratio.high
        assert set(option.demand) <= set(option.direction)


@EXAMPLES
@given(consultations)
def test_ranking_does_not_depend_on_the_unit_of_the_lifter(request: dict[str, Any]) -> None:
    assert order(adjusted({**request, "lifter": in_the_other_unit(request["lifter"])})) == order(adjusted(request))


@EXAMPLES
@given(consultations)
def test_ranking_does_not_depend_on_the_unit_of_the_load_and_the_answer_is_in_it(request: dict[str, Any]) -> None:
    answer = adjusted(request)
    other = adjusted({**request, "prescription": in_the_other_unit(request["prescription"])})
    unit = OTHER[request["prescription"]["load"]["unit"]]
    assert {option.prescription.load.unit for option in other.options} <= {unit}
    assert order(other) == order(answer)
    for one, another in zip(answer.options, other.options, strict=True):
        assert lifted_anew(another) == pytest.approx(lifted_anew(one), rel=1e-4, abs=1e-3)


@EXAMPLES
@given(consultations)
def test_ranking_does_not_depend_on_the_order_of_lists(request: dict[str, Any]) -> None:
    limits = dict(request["constraints"])
    for name in ("levers", "exercises", "exclude"):
        if name in limits:
            limits[name] = limits[name][::-1]
    limits["bar"] = {**limits["bar"], "plates": limits["bar"]["plates"][::-1]}
    assert ask_again({**request, "constraints": limits}) == ask_again(request)


def ask_again(request: dict[str, Any]) -> list[tuple[Any, ...]]:
    return order(adjusted(request))


@EXAMPLES
@given(consultations)
def test_every_source_named_exists_and_every_option_says_why_with_cautions(request: dict[str, Any]) -> None:
    answer = adjusted(request)
    named = [*answer.basis.sources, *(source for option in answer.options for source in option.basis.sources)]
    assert named
    assert set(named) <= set(SOURCES)
    assert answer.cautions
    for option in answer.options:
        sentences = [one.text for one in option.why]
        assert all(sentence.endswith(".") for sentence in sentences)
        assert not [sentence for sentence in sentences if "  " in sentence or "{" in sentence or "-0 " in sentence]
        assert EXERCISES[option.prescription.exercise].name in sentences[0]
        assert any("training effect" in sentence for sentence in sentences)
    assert all(one.reason.text.endswith(".") for group in answer.ruled_out for one in group.trials)


def without_added_effort(request: dict[str, Any]) -> dict[str, Any]:
    """The request without levers that bring back effort: whole repetitions may fit a lighter load alone."""
    levers = set(request["constraints"].get("levers", LEVERS)) - {"reps", "sets"} or {"load"}
    return with_part(request, "constraints", levers=sorted(levers))


def best_by_peak(answer: Answered) -> float:
    return max((option.stimulus.kept.value for option in answer.options if option.meets_by == "peak"), default=0.0)


@EXAMPLES
@given(consultations)
def test_stricter_target_never_keeps_more(request: dict[str, Any]) -> None:
    assume(request["aim"] != "tendon")  # kept by the tolerated load: the less that is, the less is enough
    request = without_added_effort(request)
    mild, strict = (adjusted(with_part(request, "complaint", pain_in_session=pain)) for pain in (5, 7))
    assert strict.target.ratio <= mild.target.ratio
    assert best_by_peak(strict) <= best_by_peak(mild) + 1e-9


@EXAMPLES
@given(consultations, st.floats(0.45, 0.95), st.floats(0.45, 0.95))
def test_lighter_tolerated_load_never_keeps_more(request: dict[str, Any], one: float, other: float) -> None:
    load = request["prescription"]["load"]["value"]
    request, found = without_added_effort(request), []
    for share in sorted((one, other)):
        tolerated = {"load": {"value": load * share, "unit": request["prescription"]["load"]["unit"]}}
        found.append(adjusted(with_part(request, "complaint", tolerated=tolerated)))
    assert found[0].target.ratio <= found[1].target.ratio
    assert best_by_peak(found[0]) <= best_by_peak(found[1]) + 1e-9


@pytest.mark.parametrize("sign", sorted(SIGNS))
@pytest.mark.parametrize("pain", [0, 9])
def test_any_sign_ends_in_a_referral_without_options(sign: str, pain: float) -> None:
    answer = ask("adjustments", with_part(SORE, "complaint", signs=[sign], pain_in_session=pain))
    assert (answer.decision, answer.options, answer.target, answer.baseline) == ("refer", [], None, None)
    assert answer.referral.urgency == SIGNS[sign].urgency
    assert [one.id for one in answer.referral.signs] == [sign]
    assert answer.referral.what_to_do
    assert answer.referral.stop_rule
    assert set(answer.basis.sources) <= set(SOURCES)


@EXAMPLES
@given(consultations, st.lists(st.sampled_from(sorted(SIGNS)), min_size=1, max_size=6))
def test_most_urgent_sign_decides(request: dict[str, Any], signs: list[str]) -> None:
    answer = ask("adjustments", with_part(request, "complaint", signs=signs))
    assert answer.decision == "refer"
    assert answer.options == []
    assert URGENCIES[answer.referral.urgency].rank == min(URGENCIES[SIGNS[sign].urgency].rank for sign in signs)


def test_all_signs_may_be_named_at_once() -> None:
    answer = ask("adjustments", with_part(SORE, "complaint", signs=sorted(SIGNS)))
    assert len(answer.referral.signs) == len(SIGNS) == 74
    assert answer.referral.urgency == "emergency_now"


@EXAMPLES
@given(consultations)
def test_unconfirmed_circumstances_never_yield_options(request: dict[str, Any]) -> None:
    answer = ask("adjustments", with_confirmation(request, confirmed=False))
    assert (answer.decision, answer.options, answer.target) == ("confirm_first", [], None)
    assert (answer.referral, answer.meanwhile) == (None, [])
    assert answer.why[-len(answer.confirmation.what_to_do) :] == answer.confirmation.what_to_do
    assert (answer.pause is None) == (answer.tier != "pause")
    confirmed = ask_drawn("adjustments", with_confirmation(request, confirmed=True))
    assert confirmed.decision not in ("refer", "confirm_first")
    assert "confirmed_pregnancy" in {caution.code for caution in confirmed.cautions}


@EXAMPLES
@given(consultations, st.sampled_from([0, 0.5, 1, 2]))
def test_little_pain_needs_no_change(request: dict[str, Any], pain: float) -> None:
    # thomee_1997: up to 2 of 10 is acceptable
    complaint = {"region": request["complaint"]["region"], "pain_in_session": pain}
    answer = adjusted({**request, "complaint": complaint})
    assert (answer.decision, answer.options, answer.target) == ("no_change_needed", [], None)


def test_worse_morning_asks_for_a_change_where_little_pain_would_not() -> None:
    # childs_2005: two points are a real change
    answer = ask(
        "adjustments",
        with_part(SORE, "complaint", pain_in_session=1, pain_next_morning=3, usual_pain=1),
    )
    assert answer.decision == "adjust"
    assert answer.options


@pytest.mark.parametrize("region", ["low_back", "hip", "knee"])
def test_usual_case_has_options_of_more_than_one_kind(region: str) -> None:
    answer = ask("adjustments", with_part(SORE, "complaint", region=region))
    assert answer.decision == "adjust"
    assert answer.target.ratio == 0.9
    assert len({tuple(option.levers) for option in answer.options}) >= 2
    assert answer.considered >= len(answer.options) + sum(one.count for one in answer.ruled_out)


def test_tolerated_load_sets_the_target_and_must_be_lighter() -> None:
    tolerated = {"load": {"value": 90, "unit": "kg"}}
    answer = ask("adjustments", with_part(SORE, "complaint", tolerated=tolerated))
    assert 90 / 110 < answer.target.ratio < 1  # the body's own weight stays
    with pytest.raises(Refusal) as caught:
        ask("adjustments", with_part(SORE, "complaint", tolerated={"load": {"value": 110, "unit": "kg"}}))
    assert caught.value.faults[0].pointer == "/complaint/tolerated/load"


@pytest.mark.parametrize(("lightest", "reached"), [(70, True), (105, False)])
def test_the_lightest_load_never_makes_the_target_stricter(lightest: float, reached: bool) -> None:  # noqa: FBT001
    # where not even the lightest load would meet the first step, the target is what that load asks
    # (no effort is stated: it would tell the maximum, and near that people squat with another shin)
    prescription = {name: one for name, one in SORE["prescription"].items() if name != "reps_in_reserve"}
    request = with_part(
        SORE | {"prescription": prescription}, "constraints", lightest_load={"value": lightest, "unit": "kg"}
    )
    answer = ask("adjustments", request)
    setups = [
        {"label": f"{load} kg", "exercise": "back_squat_low_bar", "load": {"value": load, "unit": "kg"}}
        for load in (110, lightest)
    ]
    there = ask("joint-demand", {"lifter": SORE["lifter"], "setups": setups}).setups[1].relative.knee.value
    assert (there <= 0.9) == reached
    assert answer.target.ratio == pytest.approx(max(0.9, there), abs=1e-5)


@pytest.mark.parametrize(
    ("region", "most", "days"), [("hip", 2, []), ("hip", 3, [3]), ("hip", 7, [3]), ("knee", 7, [])]
)
def test_days_go_up_to_the_most_allowed_and_no_further(region: str, most: int, days: list[int]) -> None:
    # five sets on two days: three on three days leave a hip a day between, and no third leaves a knee its two
    sore = with_part(SORE, "complaint", region=region)
    options = ask("adjustments", with_part(sore, "constraints", levers=["days"], days_per_week_max=most)).options
    assert [option.prescription.days_per_week for option in options] == days
