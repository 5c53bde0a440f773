"""A week adjusted, as the operation answers it."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from service.api.models.week import DEMO_WEEK
from service.api.operations.week_adjustments.examples import EXAMPLES
from service.knowledge.catalogue import EXERCISES
from service.mechanics import lift_demand
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.repetition import ArmDemand
from service.mechanics.arm.uncertain import UncertainArm, uncertain_arm
from service.mechanics.body import Body
from service.vocabulary import WEIGHTINGS
from tests.support.asking import Answered, ask, faults
from tests.support.weeks import lift

QUESTION = EXAMPLES[0].request
QUESTION_OF_DEMAND = {name: QUESTION[name] for name in ("lifter", "week", "aim")}
ALONE = {"exercise", "load", "sets", "reps", "reps_in_reserve", "depth", "technique", "tempo", "hold", "implement"}


def asked(**changes: object) -> Answered:
    return ask("week-adjustments", QUESTION | changes)


def complaint(region: str = "low_back", pain: float = 4, **rest: object) -> dict[str, Any]:
    return {"region": region, "pain_in_session": pain, **rest}


NO_HINGE = {
    "levers": ["exercise"],
    "exercises": ["leg_press", "hack_squat", "belt_squat", "leg_curl", "lat_pulldown", "chest_supported_row"],
}
IN_A_WEEK = lift(1, "front_squat", 3, 5, 60, days_per_week=2)
TOO_HEAVY = lift(1, "bench_press_dumbbell", 3, 5, 60)
LIGHT = {"implement": "dumbbells", "heaviest": {"value": 10, "unit": "kg"}}
HINGES = [
    lift(1, "deadlift_conventional", 4, 6, 95),
    lift(1, "bench_press", 3, 8, 50),
    lift(4, "leg_press", 4, 8, 120),
    lift(4, "lat_pulldown", 3, 8, 45),
]


def test_the_lift_that_leads_is_changed_and_the_rest_of_the_week_stays_where_nothing_is_said_to_hurt() -> None:
    answer = asked(hurts=[])
    assert answer.options
    for option in answer.options:
        assert [one.entries for one in option.changes if one.kind in ("changed", "replaced")] == [[2]]
        same = [entry for entry in range(len(DEMO_WEEK)) if entry != 2]
        now = msgspec.json.decode(msgspec.json.encode(option.week))
        for entry in same:
            assert now[entry]["prescription"].items() >= DEMO_WEEK[entry]["prescription"].items()


def test_no_option_is_above_the_target_and_none_asks_for_more_under_any_weighting() -> None:
    answer = asked()
    for option in answer.options:
        sore = option.demand["low_back"]
        assert getattr(sore, answer.target.weighting).value <= answer.target.ratio + 1e-4
        assert all(getattr(sore, weighting).value <= 1 for weighting in WEIGHTINGS)


def test_relief_is_sure_only_where_the_upper_end_falls_under_every_weighting() -> None:
    seen = set()
    for question in (QUESTION, EXAMPLES[1].request, QUESTION | {"complaint": complaint(provoked_by=["volume"])}):
        for option in ask("week-adjustments", question).options:
            sore = option.demand["low_back"]
            falls = [weighting for weighting in WEIGHTINGS if getattr(sore, weighting).high < 0.995]
            assert option.falls == falls
            assert option.relief == ("sure" if falls == list(WEIGHTINGS) else "mixed")
            seen.add(option.relief)
    assert seen == {"sure", "mixed"}


def test_what_is_not_known_of_a_lift_is_worked_out_only_where_its_region_changes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    counted: list[object] = []

    def counting(body: Body, setup: ArmSetup, demand: ArmDemand) -> UncertainArm:
        counted.append(setup)
        return uncertain_arm(body, setup, demand)

    monkeypatch.setattr(lift_demand, "uncertain_arm", counting)
    presses = [lift(day, "bench_press", 3, 8, load) for day, load in ((2, 60), (4, 60), (6, 50))]
    squats = [lift(day, "front_squat", 4, 6, 60) for day in (1, 5)]
    assert asked(week=[*squats, *presses], hurts=[0, 1], constraints={"levers": ["load", "sets"]}).options
    assert counted == []
    ask("week-demand", {"lifter": QUESTION["lifter"], "week": presses})
    assert len(counted) == 2, "the same press on two days is worked out once"


def test_lifts_that_must_stay_stay_and_the_sum_is_gone_by_where_the_heaviest_one_does() -> None:
    answer = ask("week-adjustments", EXAMPLES[1].request)
    assert answer.target.weighting == "linear"
    assert "week_by_the_sum" in [one.code for one in answer.why]
    for option in answer.options:
        assert all(2 not in one.entries for one in option.changes)
        assert option.relief == "mixed"


def test_a_hinge_is_not_taken_away_without_what_restores_the_hamstrings() -> None:
    answer = asked(week=HINGES, hurts=[0], constraints=NO_HINGE)
    assert answer.options
    for option in answer.options:
        restored = [one for one in option.changes if one.kind in ("added", "more_sets")]
        trained = option.muscles["hamstrings"]
        assert trained.after >= trained.floor or "week_stays_short" in [one.code for one in option.why]
        for one in restored:
            for entry in one.entries:
                exercise = option.week[entry].prescription.exercise
                assert "low_back" not in EXERCISES[exercise].regions
    best = answer.options[0]
    assert "leg_curl" in [one.prescription.exercise for one in best.week]
    assert not best.muscles["hamstrings"].under_floor


def test_what_restores_a_muscle_asks_nothing_of_the_sore_region_by_its_moment_either() -> None:
    days = [lift(1 + 2 * place, "back_squat_high_bar", 3, 8, 85) for place in range(3)]
    hinges = [lift(2 + 2 * place, "romanian_deadlift", 3, 8, 85) for place in range(2)]
    answer = asked(week=[*days, *hinges], hurts=[], aim="strength", limit=5)
    added = [(option, one) for option in answer.options for one in option.changes if one.kind in ("added", "more_sets")]
    assert added
    for option, one in added:
        week = msgspec.to_builtins(option.week)
        new = [
            {"day": week[entry]["day"], "prescription": stated(week[entry]["prescription"])} for entry in one.entries
        ]
        asks = ask("week-demand", {"lifter": QUESTION["lifter"], "week": new, "aim": "strength"}).regions
        assert "low_back" not in asks or not asks["low_back"].lifts
    for option in answer.options:
        assert all(getattr(option.demand["low_back"], weighting).value <= 1 for weighting in WEIGHTINGS)


def test_muscles_of_an_option_are_what_week_demand_counts_of_it() -> None:
    for option in asked().options:
        lifts = [{"day": one.day, "prescription": stated(msgspec.to_builtins(one.prescription))} for one in option.week]
        counted = ask("week-demand", QUESTION_OF_DEMAND | {"week": lifts}).muscles
        for muscle, one in option.muscles.items():
            assert one.after == pytest.approx(counted[muscle].sets.value if muscle in counted else 0.0, abs=1e-4)


@pytest.mark.parametrize("aim", ["muscle_size", "strength", "maintain", "tendon"])
def test_sets_and_floors_of_the_present_week_are_those_of_week_demand(aim: str) -> None:
    counted = ask("week-demand", QUESTION_OF_DEMAND | {"aim": aim}).muscles
    options = asked(aim=aim).options
    assert any(option.muscles for option in options)
    for option in options:
        for muscle, one in option.muscles.items():
            if one.before:
                assert (one.before, one.floor) == (counted[muscle].sets.value, counted[muscle].floor)


def stated(prescription: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in prescription.items() if value is not None}


def test_a_muscle_that_nothing_restores_is_named() -> None:
    none = NO_HINGE | {"exercises": ["belt_squat"]}
    option = asked(week=HINGES, hurts=[0], constraints=none).options[0]
    assert "hamstrings" in [one.values["muscle"] for one in option.why if one.code == "week_stays_short"]
    assert option.muscles["hamstrings"].under_floor


def test_in_the_red_tier_everything_that_hurts_is_eased_and_nothing_is_added() -> None:
    answer = asked(complaint=complaint(pain=6))
    assert answer.tier == "red"
    for option in answer.options:
        assert {entry for one in option.changes for entry in one.entries} >= {0, 3}
        assert {one.kind for one in option.changes} == {"changed"}
        for now, new in zip(DEMO_WEEK, option.week, strict=True):
            assert new.prescription.load.value <= now["prescription"]["load"]["value"]
            assert new.prescription.sets <= now["prescription"]["sets"]
            assert new.day == now["day"]


@pytest.mark.parametrize(
    ("scores", "tier", "code", "moment"),
    [
        ({"pain_in_session": 6.0}, "red", "week_stop_today", "in_session"),
        (
            {"pain_in_session": 1.0, "pain_next_morning": 6.0, "usual_pain": 6.0},
            "red",
            "week_stop_today",
            "next_morning",
        ),
        ({"pain_in_session": 3.0, "pain_next_morning": 4.0, "usual_pain": 1.0}, "red", "week_stop_today_by_rise", None),
        ({"pain_in_session": 1.0, "pain_next_morning": 2.0, "usual_pain": 0.0}, "amber", "week_by_rise", None),
        ({"pain_in_session": 1.0, "pain_at_rest": 3.0}, "amber", "week_by_pain", "at_rest"),
        (
            {"pain_in_session": 1.0, "pain_next_morning": 3.0, "usual_pain": 3.0},
            "amber",
            "week_by_pain",
            "next_morning",
        ),
        ({"pain_in_session": 4.0}, "amber", None, None),
    ],
)
def test_the_sentence_names_what_really_decided(
    scores: dict[str, float], tier: str, code: str | None, moment: str | None
) -> None:
    answer = asked(complaint=complaint() | scores)
    assert answer.tier == tier
    causes = [one for one in answer.why if one.code.startswith(("week_stop_today", "week_by_pain", "week_by_rise"))]
    assert [one.code for one in causes] == ([] if code is None else [code])
    for one in causes:
        assert one.values.get("moment") == moment
        assert (one.values["pain"] > one.values["limit"]) or code == "week_by_rise"
        if "rise" in one.values:
            assert one.values["rise"] == scores["pain_next_morning"] - scores["usual_pain"]


def test_what_hurts_in_the_red_tier_and_must_stay_leaves_no_option() -> None:
    answer = asked(complaint=complaint(pain=6), constraints={"staying": [0]})
    assert answer.options == []
    assert answer.meanwhile
    assert "front_squat" not in [one for group in answer.meanwhile for one in group.exercises]


@pytest.mark.parametrize("region", ["neck", "upper_back"])
def test_in_a_region_without_moments_what_hurts_is_eased_by_direction_and_no_target_is_said(region: str) -> None:
    answer = asked(complaint=complaint(region))
    assert (answer.decision, answer.target) == ("adjust", None)
    assert "week_not_computed" in [one.code for one in answer.why]
    assert answer.options
    for option in answer.options:
        assert {entry for one in option.changes for entry in one.entries} >= {0, 3}
        assert (option.relief, option.falls) == ("by_direction", [])
        assert region not in option.demand


def test_in_a_region_without_moments_the_most_repeated_lift_comes_first_where_none_is_said_to_hurt() -> None:
    answer = asked(complaint=complaint("neck"), hurts=[])
    assert "say_which_lift_hurts" in [one.code for one in answer.why]
    changed = [one.changes[0].entries for one in answer.options]
    assert changed[0] == [1], "3 sets of 8 to 10 rows are the most repetitions"
    assert all(len(one.changes) == 1 or one.changes[1].kind in ("added", "more_sets") for one in answer.options)


def test_a_finer_region_goes_by_what_it_is_part_of() -> None:
    answer = asked(complaint=complaint("front_of_knee"))
    assert answer.options
    assert answer.options[0].demand["front_of_knee"].linear.value < 1


@pytest.mark.parametrize(
    ("changes", "decision"),
    [
        ({"complaint": complaint(signs=["bladder_change"])}, "refer"),
        ({"circumstances": {"pregnant": True}}, "confirm_first"),
        ({"complaint": complaint(pain=8)}, "pause_and_review"),
        ({"complaint": complaint(pain=2)}, "no_change_needed"),
    ],
)
def test_signs_circumstances_and_pain_come_before_any_option(changes: dict[str, Any], decision: str) -> None:
    answer = asked(**changes)
    assert (answer.decision, answer.options) == (decision, [])
    single = {
        "lifter": QUESTION["lifter"],
        "prescription": DEMO_WEEK[0]["prescription"],
        "complaint": QUESTION["complaint"],
        "aim": "muscle_size",
    }
    alone = ask("adjustments", single | changes)
    assert (alone.decision, alone.tier) == (answer.decision, answer.tier)
    assert alone.why == answer.why


def test_a_spared_region_is_asked_for_no_more_under_any_weighting() -> None:
    for option in asked(constraints={"spare": ["knee"]}).options:
        assert all(getattr(option.demand["knee"], measure).value <= 1 for measure in (*WEIGHTINGS, "peak"))


def test_days_too_close_come_last_and_cost_no_sets() -> None:
    week = [lift(1, "deadlift_conventional", 3, 5, 95), lift(2, "back_squat_low_bar", 4, 5, 90)]
    answer = asked(week=week, hurts=[])
    spacing = answer.options[-1]
    assert [one.relief for one in answer.options].count("spacing") == 1
    assert spacing.relief == "spacing"
    assert spacing.muscles == {}
    assert sorted(one.day for one in spacing.week) != [1, 2]
    on_weekdays = asked(week=week, hurts=[], constraints={"days": [1, 2]})
    assert "spacing" not in [one.relief for one in on_weekdays.options]


def test_every_prescription_is_taken_by_every_operation_as_it_came() -> None:
    for example in EXAMPLES:
        for option in ask("week-adjustments", example.request).options:
            for one in option.week:
                prescription = msgspec.json.decode(msgspec.json.encode(one.prescription))
                taken_everywhere(prescription)
            week = msgspec.json.decode(msgspec.json.encode(option.week))
            assert ask("week-demand", {"lifter": QUESTION["lifter"], "week": week})
            assert ask("week-adjustments", QUESTION | {"week": week})


def taken_everywhere(prescription: dict[str, Any]) -> None:
    lifter = QUESTION["lifter"]
    ask(
        "adjustments",
        {"lifter": lifter, "prescription": prescription, "complaint": complaint(), "aim": "muscle_size"},
    )
    session = {"pain_in_session": 1}
    ask("session-review", {"lifter": lifter, "prescription": prescription, "region": "low_back", "sessions": [session]})
    ask(
        "return-plan",
        {"lifter": lifter, "original": prescription, "adjusted": prescription, "region": "low_back"},
    )
    setup = {name: value for name, value in prescription.items() if name in ALONE and value is not None}
    ask("joint-demand", {"lifter": lifter, "setups": [{"label": "alone", **setup}]})


def test_the_unit_of_the_request_changes_nothing_but_the_unit() -> None:
    pounds = [
        one | {"prescription": one["prescription"] | {"load": in_pounds(one["prescription"]["load"]["value"])}}
        for one in DEMO_WEEK
    ]
    gym = {"gym": {"bar": {"bar": {"value": 20, "unit": "kg"}}}}
    metric, imperial = asked(constraints=gym), asked(week=pounds, constraints=gym)
    assert len(metric.options) == len(imperial.options)
    assert imperial.options[0].week[2].prescription.load.unit == "lb"
    assert metric.target == imperial.target


def in_pounds(kilograms: float) -> dict[str, Any]:
    return {"value": kilograms / 0.45359237, "unit": "lb"}


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"hurts": [5]}, "/hurts/0"),
        ({"constraints": {"staying": [1, 5]}}, "/constraints/staying/1"),
        ({"complaint": complaint(tolerated={"load": {"value": 40, "unit": "kg"}})}, "/complaint/tolerated"),
        ({"complaint": complaint(also=["low_back"])}, "/complaint/also/0"),
        (
            {"hurts": [], "week": [IN_A_WEEK]},
            "/week/0/prescription/days_per_week",
        ),
        (
            {
                "hurts": [],
                "constraints": {"gym": {"implements": [LIGHT]}},
                "week": [TOO_HEAVY],
            },
            "/week/0/prescription/load",
        ),
    ],
)
def test_what_cannot_be_asked_is_refused_where_it_stands(changes: dict[str, Any], pointer: str) -> None:
    assert [fault.pointer for fault in faults("week-adjustments", QUESTION | changes)] == [pointer]


@pytest.mark.parametrize(
    ("region", "week"),
    [
        ("low_back", [lift(2, "rear_foot_elevated_split_squat", 5, 3, 30)]),
        ("low_back", [lift(2, "rear_foot_elevated_split_squat", 5, 5, 20), lift(4, "bench_press", 3, 5, 40)]),
        ("wrist", [lift(1, "lateral_raise", 5, 12, 10)]),
        ("elbow", [lift(1, "lateral_raise", 5, 12, 10), lift(3, "leg_press", 3, 10, 80)]),
        ("shoulder", [lift(1, "biceps_curl", 5, 10, 20), lift(3, "pull_up", 3, 5, 0)]),
    ],
)
def test_every_way_to_the_target_reaches_it_with_all_that_the_week_asks(
    region: str, week: list[dict[str, Any]]
) -> None:
    """A lift may ask something of a region that is none of its own: what is new in a week, and what leads it."""
    answer = asked(week=week, hurts=[], complaint=complaint(region), limit=5)
    for option in answer.options:
        sore = option.demand[region]
        assert getattr(sore, answer.target.weighting).value <= answer.target.ratio + 1e-4
        assert all(getattr(sore, weighting).value <= 1 + 1e-6 for weighting in WEIGHTINGS)
