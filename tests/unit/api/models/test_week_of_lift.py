"""A step of one lift in its week: what its lifts together ask of the sore region rises by no more than the bound."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.adjustment.maximum import maximum_of
from service.adjustment.week.exposure import Contribution, size
from service.adjustment.week.lifts import asked_of_regions
from service.api.models.lifter import DEMO_LIFTER, Lifter, body_of
from service.api.models.prescription import Prescription, lifters_prescription
from service.api.models.week import DEMO_WEEK
from service.vocabulary import Weighting
from tests.support.asking import Answered, ask, ask_drawn, decoded, every_part, faults, kg
from tests.support.returns import returns
from tests.unit.api.test_operations_unit_invariance import compare, in_pounds_and_inches

EXAMPLES: Final = settings(max_examples=25, deadline=None, derandomize=True)
BOUNDED: Final[tuple[Weighting, ...]] = ("linear", "tenth_power")
DUST: Final = 1e-6
BAR: Final = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (1.25, 2.5, 5, 10, 20)]}
LATER: Final[dict[str, Any]] = DEMO_WEEK[2]["prescription"] | {"days_per_week": 1}
NOW: Final[dict[str, Any]] = LATER | {"sets": 2, "load": kg(60)}
OTHERS: Final = [one for one in DEMO_WEEK if one["day"] != 3]
RETURN: Final[dict[str, Any]] = {"lifter": DEMO_LIFTER, "original": LATER, "adjusted": NOW, "region": "low_back"}


def in_week(prescription: dict[str, Any], *days: int) -> list[dict[str, Any]]:
    return [{"day": day, "prescription": prescription | {"days_per_week": None}} for day in days]


def review(prescription: dict[str, Any], sessions: int = 2, **more: object) -> Answered:
    done = {
        "pain_in_session": 1,
        "pain_next_morning": 1,
        "reps_done": [prescription["reps"]["high"]] * prescription["sets"],
        "reps_in_reserve": 4,
    }
    request = {
        "prescription": prescription,
        "region": "low_back",
        "lifter": DEMO_LIFTER,
        "usual_pain": 1,
        "weekly_pain": [2, 1.5],
        "bar": BAR,
    }
    return ask("session-review", request | {"sessions": [done] * sessions} | more)


def codes(messages: list[Any]) -> list[str]:
    return [one.code for one in messages]


def sums(
    lifter: Lifter, region: str, others: list[dict[str, Any]], lift: Prescription, original: Prescription
) -> dict[Weighting, float] | None:
    """What a week asks of a region, worked out anew; None where the lift's own moment is not computed.

    In its own exercise the original tells the maximum.
    """
    week = ask_for_week(others)
    most = maximum_of(lifters_prescription(original, lifter, as_basis=False))
    parts = []
    for one in [*week, lift]:
        done = lifters_prescription(one, lifter, as_basis=False)
        told = most if one is lift and most and most.exercise == done.posture else None
        asked = asked_of_regions(body_of(lifter), done, told).get(region)
        if asked is None:
            if one is lift:
                return None
            continue
        parts.append(Contribution(1, done.reps_a_session * (done.days or 1), max(0.0, asked.moment), asked.spread))
    return {weighting: size(parts, weighting) for weighting in BOUNDED}


def ask_for_week(others: list[dict[str, Any]]) -> list[Prescription]:
    if not others:
        return []
    return [one.prescription for one in decoded("week-demand", {"lifter": DEMO_LIFTER, "week": others}).week]


weeks = st.lists(st.sampled_from(OTHERS), max_size=4)


@EXAMPLES
@given(returns(), weeks)
def test_no_step_of_a_plan_raises_the_week_by_more_than_the_step(
    request: dict[str, Any], others: list[dict[str, Any]]
) -> None:
    used = {request["original"]["exercise"], request["adjusted"]["exercise"]}
    others = [one for one in others if one["prescription"]["exercise"] not in used]
    assume(request["region"] in ("low_back", "knee", "hip"))
    request |= {"week": [*others, *in_week(request["adjusted"], 2)]}
    answer = ask_drawn("return-plan", request)
    asked = decoded("return-plan", request)
    before = asked.adjusted
    for step in answer.steps:
        was, becomes = (
            sums(asked.lifter, asked.region, others, one, asked.original) for one in (before, step.prescription)
        )
        before = step.prescription
        if was is None or becomes is None or not all(was.values()):
            continue
        ratios = [becomes[weighting] / was[weighting] for weighting in BOUNDED]
        assert [step.of_week.linear, step.of_week.tenth_power] == pytest.approx(ratios, abs=1e-3)
        assert max(ratios) <= 1 + answer.step + 1e-3 or (step.over_step and step.test_first is not None)


@EXAMPLES
@given(returns(), weeks)
def test_no_step_of_a_course_raises_the_week_by_more_than_a_tenth(
    request: dict[str, Any], others: list[dict[str, Any]]
) -> None:
    used = {request["original"]["exercise"], request["adjusted"]["exercise"]}
    others = [one for one in others if one["prescription"]["exercise"] not in used]
    assume(request["region"] in ("low_back", "knee", "hip"))
    done = request["adjusted"]
    rest = {key: request[key] for key in ("lifter", "region", "bar", "increment", "original")}
    for _ in range(4):
        week = [*others, *in_week(done, 2)]
        sessions = max(2, done.get("days_per_week") or 1)
        try:
            answer = review(done, sessions, week=week, **rest)
        except Exception:  # noqa: BLE001 - what is drawn need not be possible
            assume(condition=False)
        if answer.decision != "progress":
            return
        lifter = decoded("return-plan", {**RETURN, "lifter": request["lifter"]}).lifter
        way = decoded("return-plan", {**RETURN, "adjusted": done, "original": request["original"]})
        present = way.adjusted
        was, becomes = (sums(lifter, request["region"], others, one, way.original) for one in (present, answer.next))
        if was is not None and becomes is not None and all(was.values()):
            other_lift = present.exercise != answer.next.exercise and answer.test_first is not None
            assert other_lift or all(becomes[one] <= was[one] * (1.1 + 1e-3) for one in BOUNDED)
        done = {name: part for name, part in every_part(answer.next).items() if part is not None}


@pytest.mark.parametrize("others", [[], OTHERS], ids=["alone", "among others"])
def test_a_course_in_its_week_comes_back_in_as_many_steps_as_the_plan(
    others: list[dict[str, Any]],
) -> None:
    planned = ask("return-plan", RETURN | {"week": others + in_week(NOW, 3), "bar": BAR}).steps
    done = NOW
    for _ in planned:
        answer = review(done, original=LATER, week=others + in_week(done, 3))
        assert answer.decision == "progress"
        assert max(answer.of_week.linear, answer.of_week.tenth_power) <= 1.1
        done = {name: part for name, part in every_part(answer.next).items() if part is not None}
    assert review(done, original=LATER, week=others + in_week(done, 3)).decision == "back_to_original"


def test_without_a_week_nothing_is_said_of_one() -> None:
    assert ask("return-plan", RETURN) == ask("return-plan", RETURN | {"week": []})
    assert all(step.of_week is ask("return-plan", RETURN).steps[0].of_week for step in ask("return-plan", RETURN).steps)
    alone = review(NOW, original=LATER)
    assert alone == review(NOW, original=LATER, week=[])
    assert not {"week_one_change", "week_with_step"} & {*codes(alone.cautions), *codes(alone.why)}


def test_the_days_of_the_lift_stand_in_the_week_or_beside_it() -> None:
    beside = ask("return-plan", RETURN | {"week": OTHERS})
    assert ask("return-plan", RETURN | {"week": OTHERS + in_week(NOW, 3)}) == beside
    assert ask("return-plan", RETURN | {"week": OTHERS + in_week(LATER, 3)}) == beside


def test_days_that_are_not_stated_are_those_of_the_week() -> None:
    thrice = LATER | {"days_per_week": 3}
    by_week = RETURN | {"original": thrice, "adjusted": NOW | {"days_per_week": None}, "week": in_week(NOW, 2, 5)}
    stated = by_week | {"adjusted": NOW | {"days_per_week": 2}}
    assert ask("return-plan", by_week).steps == ask("return-plan", stated).steps


def test_the_days_of_the_week_tell_how_long_a_step_takes_where_none_are_stated() -> None:
    unstated = RETURN | {"original": LATER | {"days_per_week": None}, "adjusted": NOW | {"days_per_week": None}}
    once = ask("return-plan", unstated | {"week": OTHERS + in_week(NOW, 3), "bar": BAR})
    stated = ask("return-plan", RETURN | {"week": OTHERS, "bar": BAR})
    weeks = [step.week for step in once.steps]
    assert weeks == [step.week for step in stated.steps] == list(range(1, 2 * len(weeks), 2))
    assert once.weeks == stated.weeks
    assert {step.prescription.days_per_week for step in once.steps} == {None}
    twice = ask("return-plan", unstated | {"week": in_week(NOW, 2, 5), "bar": BAR})
    assert [step.week for step in twice.steps] == list(range(1, len(twice.steps) + 1))
    one_of_two = ask("return-plan", unstated | {"adjusted": NOW, "bar": BAR})  # one of the two states them
    assert [step.week for step in one_of_two.steps][:2] == [1, 3]


def test_back_at_the_original_in_a_week_the_other_lifts_have_to_be_asked_about() -> None:
    back = review(LATER, original=LATER, week=OTHERS + in_week(LATER, 3))
    assert back.decision == "back_to_original"
    assert codes(back.why)[-1] == "review_other_lifts"
    assert "in one of them a week" in next(one.text for one in back.cautions if one.code == "week_one_change")
    alone, before = review(LATER, original=LATER), review(NOW, original=LATER, week=OTHERS + in_week(NOW, 3))
    assert "review_other_lifts" not in codes(alone.why) + codes(before.why)


def test_the_weeks_of_a_plan_are_those_of_one_lift() -> None:
    assert "week_weeks_of_one_lift" in codes(ask("return-plan", RETURN | {"week": OTHERS}).cautions)
    assert "week_weeks_of_one_lift" not in codes(ask("return-plan", RETURN).cautions)


def test_weeks_without_a_good_session_are_counted_by_the_days_of_the_week() -> None:
    amber = {"pain_in_session": 3, "pain_next_morning": 1}
    request = {"prescription": NOW | {"days_per_week": None}, "region": "low_back", "lifter": DEMO_LIFTER}
    for week, due in ((in_week(NOW, 3), True), (in_week(NOW, 3, 6), False)):
        answer = ask("session-review", request | {"usual_pain": 1, "sessions": [amber] * 4, "week": week})
        assert (answer.professional_review is not None) is due


def test_a_week_that_was_not_kept_up_to_date_counts_the_lift_once() -> None:
    lighter = NOW | {"load": kg(50)}
    stale = review(NOW, original=LATER, week=in_week(lighter, 3))
    assert stale.of_week == review(NOW, original=LATER, week=in_week(NOW, 3)).of_week
    assert "week_lift_otherwise" in codes(stale.cautions)


def test_the_week_makes_a_step_smaller_and_says_which_lift_carries_most() -> None:
    alone, among = (review(NOW, original=LATER, week=others + in_week(NOW, 3)) for others in ([], OTHERS))
    by_itself = review(NOW, original=LATER)
    assert among.next == by_itself.next
    assert alone.next != by_itself.next
    assert {"week_step_smaller", "week_with_step", "week_leading"} <= set(codes(alone.why))
    assert "week_step_smaller" not in codes(among.why)
    leading = next(one for one in among.why if one.code == "week_leading")
    assert leading.values["exercise"] == among.of_week.leading.exercise == "front_squat"


def test_a_step_that_the_week_does_not_allow_is_held() -> None:
    single = NOW | {"reps": {"low": 2, "high": 3}, "sets": 1}
    answer = review(single | {"load": kg(95)}, week=in_week(single | {"load": kg(95)}, 3), sessions=2)
    assert answer.decision == "progress"  # the load rises by little
    lighter = single | {"load": kg(15), "reps": {"low": 2, "high": 2}}
    coarse = {"bar": kg(15), "plates": [{"plate": kg(25)}]}
    held = review(lighter, week=in_week(lighter, 3), bar=coarse)
    assert (held.decision, held.rule.id, held.changed) == ("hold", "week_rise", [])
    assert held.next.load.value == lighter["load"]["value"]
    assert {"week_step_held", "week_leading"} <= set(codes(held.why))
    assert held.of_week is None
    assert review(lighter, bar=coarse).decision == "progress"


def test_one_change_a_week() -> None:
    thrice = NOW | {"days_per_week": 3}
    assert review(thrice, 2).decision == "progress"
    early = review(thrice, 2, week=OTHERS)
    assert (early.decision, early.rule.id) == ("hold", "week_not_over")
    assert review(thrice, 3, week=OTHERS).decision == "progress"
    assert "week_one_change" in codes(early.cautions)


def test_more_days_have_fewer_repetitions_where_the_week_asks_for_it() -> None:
    twice = LATER | {"days_per_week": 2}
    assert [step.changed for step in ask("return-plan", RETURN | {"original": twice, "adjusted": LATER}).steps] == [
        ["days"]
    ]
    plan = ask("return-plan", RETURN | {"original": twice, "adjusted": LATER, "week": in_week(LATER, 3), "bar": BAR})
    first = plan.steps[0]
    assert {"reps", "days"} <= set(first.changed)
    assert first.prescription.reps.high < LATER["reps"]["high"]
    assert first.of_week.linear > 1  # the week asks no less than before
    assert max(step.of_week.linear for step in plan.steps) <= 1.1
    assert not any(step.over_step for step in plan.steps)
    assert plan.steps[-1].prescription.days_per_week == 2


def test_another_exercise_whose_least_load_asks_for_more_comes_after_a_test_and_says_so() -> None:
    squat = {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "days_per_week": 2}
    belt = squat | {"exercise": "belt_squat", "load": kg(50)}
    original = squat | {"load": kg(80)}
    asked = RETURN | {"original": original, "adjusted": belt, "week": in_week(belt, 1, 4), "bar": BAR}
    answer = ask("return-plan", asked)
    first, *others = answer.steps
    assert first.over_step
    assert first.test_first is not None
    assert "week_step_over" in codes(first.why)
    assert {"week_step_larger"} == {"week_step_larger", "step_larger"} & set(codes(answer.cautions))
    assert not any(step.over_step for step in others)
    taken = review(belt, original=original, week=in_week(belt, 1, 4))
    assert (taken.decision, taken.next) == ("progress", first.prescription)
    assert taken.test_first is not None


def test_a_step_of_the_same_exercise_waits_where_nothing_smaller_leads_on() -> None:
    coarse = {"bar": kg(15), "plates": [{"plate": kg(20)}]}
    now, later = (LATER | {"reps": {"low": 1, "high": 1}, "sets": 1, "load": kg(load)} for load in (55, 95))
    plan = ask("return-plan", RETURN | {"original": later, "adjusted": now, "week": in_week(now, 3), "bar": coarse})
    assert plan.steps[0].over_step
    held = review(now, original=later, week=in_week(now, 3), bar=coarse)
    assert (held.decision, held.rule.id, held.next.load.value) == ("hold", "week_rise", 55)
    assert review(now, original=later, bar=coarse).decision == "progress"


def test_lifts_whose_moments_are_not_computed_are_left_out_and_named() -> None:
    unknown = {"exercise": "hip_thrust", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(80)}
    answer = ask("return-plan", RETURN | {"week": [*OTHERS, {"day": 2, "prescription": unknown}]})
    caution = next(one for one in answer.cautions if one.code == "week_lifts_left_out")
    assert caution.values["lifts"] == ["hip_thrust"]
    assert answer.steps == ask("return-plan", RETURN | {"week": OTHERS}).steps
    of_unknown = RETURN | {"original": unknown, "adjusted": unknown | {"load": kg(60)}, "week": OTHERS}
    assert "week_not_bounded" in codes(ask("return-plan", of_unknown).cautions)


@pytest.mark.parametrize(
    ("changed", "pointer"),
    [
        ({"days_per_week": 1}, "/week/1/prescription/days_per_week"),
        ({"reps": {"low": 6, "high": 5}}, "/week/1/prescription/reps"),
        ({"load": kg(-5)}, "/week/1/prescription/load/value"),
    ],
)
def test_faults_of_a_week_are_pointed_at(changed: dict[str, Any], pointer: str) -> None:
    week = [OTHERS[0], {"day": 4, "prescription": OTHERS[1]["prescription"] | changed}]
    reviewed = {"prescription": NOW, "region": "low_back", "sessions": [{"pain_in_session": 1}], "lifter": DEMO_LIFTER}
    for name, request in {"return-plan": RETURN, "session-review": reviewed}.items():
        assert any(fault.pointer.startswith(pointer) for fault in faults(name, request | {"week": week}))


def test_a_week_asks_for_a_lifter() -> None:
    request = {"prescription": NOW, "region": "low_back", "sessions": [{"pain_in_session": 1}], "week": OTHERS}
    assert [fault.pointer for fault in faults("session-review", request)] == ["/lifter"]


def test_a_red_flag_outranks_a_week() -> None:
    assert ask("return-plan", RETURN | {"week": OTHERS, "signs": ["saddle_numbness"]}).decision == "refer"


def test_a_week_in_pounds_bounds_the_same_steps() -> None:
    request = RETURN | {"week": OTHERS, "bar": BAR}
    pounds = request | {"lifter": in_pounds_and_inches(DEMO_LIFTER), "week": in_pounds_and_inches(OTHERS)}
    compare(ask("return-plan", request), ask("return-plan", pounds))
