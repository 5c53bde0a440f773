"""The review of a session: which rule decides, what it does to the prescription, and what never happens."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription
from service.adjustment.present import present_demand
from service.adjustment.session_review.course import weekly_rise
from service.adjustment.session_review.rules import RULES
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.knowledge.cues import CUES
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES
from service.mechanics.body import build_body
from service.training.volume import Reps
from service.units import SI
from tests.support.asking import Answered, ask, faults, kg, lb
from tests.unit.api.test_operations_unit_invariance import compare, in_pounds_and_inches

BETTER_TO_WORSE: Final = ("progress", "hold", "step_back", "pause_and_review", "refer")
FRONT_SQUAT: Final[dict[str, Any]] = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(62.5),
    "days_per_week": 2,
}
BODY: Final = build_body(82.0, 1.8)
LIFTER: Final = {"body_mass": kg(82), "stature": {"value": 1.8, "unit": "m"}}
BAR: Final = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (1.25, 2.5, 5, 10, 20)]}
GOOD: Final[dict[str, Any]] = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [6, 6, 6, 6]}
SPARE: Final = GOOD | {"reps_done": [6, 6, 6, 8]}
SORE: Final[dict[str, Any]] = {"pain_in_session": 6, "pain_next_morning": 1}
TWO_LEFT: Final = FRONT_SQUAT | {"reps_in_reserve": 2}


def reviewed(*sessions: dict[str, Any], **more: object) -> Answered:
    request = {"prescription": FRONT_SQUAT, "region": "low_back", "bar": BAR, "usual_pain": 1}
    return ask("session-review", {**request, "sessions": list(sessions), **more})


def rank(answer: Answered) -> int:
    return BETTER_TO_WORSE.index(answer.decision)


pains = st.integers(0, 40).map(lambda n: n / 4)
sessions = st.fixed_dictionaries(
    {"pain_in_session": pains},
    optional={
        "pain_next_morning": pains,
        "swelling": st.booleans(),
        "sleep_lost": st.booleans(),
        "new_stiffness": st.booleans(),
        "form_lost": st.booleans(),
        "reps_done": st.lists(st.integers(0, 12), min_size=1, max_size=4),
    },
)
calm_sessions = st.fixed_dictionaries(
    {"pain_in_session": st.integers(0, 8).map(lambda n: n / 4), "reps_done": st.just([6, 6, 6, 8])},
    optional={"pain_next_morning": st.integers(0, 8).map(lambda n: n / 4)},
)
loads = st.integers(30, 400).map(lambda n: kg(n / 2))
prescriptions = st.builds(
    lambda exercise, sets, low, more, load, rest: {
        "exercise": exercise, "sets": sets, "reps": {"low": low, "high": low + more}, "load": load, **rest,
    },
    st.sampled_from(["front_squat", "deadlift_conventional", "bench_press", "barbell_row", "split_squat"]),
    st.integers(4, 6),
    st.integers(1, 8),
    st.integers(0, 3),
    loads,
    st.fixed_dictionaries({}, optional={"days_per_week": st.integers(1, 4), "reps_in_reserve": st.integers(0, 4)}),
)  # fmt: skip
courses = st.fixed_dictionaries(
    {
        "prescription": prescriptions,
        "region": st.just("elbow"),  # every one of these lifts loads it
        "sessions": st.lists(sessions | calm_sessions, min_size=1, max_size=6),
        "bar": st.just(BAR),
    },
    optional={
        "usual_pain": pains,
        "weekly_pain": st.lists(pains, max_size=4),
        "weeks_since_start": st.integers(0, 12),
        "pain_at_start": pains,
    },
)


calm_courses = st.builds(
    lambda usual, felt: {
        "prescription": FRONT_SQUAT, "region": "low_back", "bar": BAR, "usual_pain": usual,
        "sessions": [SPARE | {"pain_in_session": pain, "pain_next_morning": usual} for pain in felt],
    },
    st.integers(0, 16).map(lambda n: n / 4),
    st.lists(st.integers(0, 8).map(lambda n: n / 4), min_size=2, max_size=4),
)  # fmt: skip


@given(courses | calm_courses, pains, st.sampled_from(["muscle_size", "tendon"]))
def test_the_next_decision_changes_with_pain_where_it_was_said_to(
    course: dict[str, Any], pain: float, aim: str
) -> None:
    """With all else of the last session alike, its pain steps back, holds and goes on at the limits of would_change."""
    course = course | {"aim": aim}
    said = ask("session-review", course)
    words = {one.code: one.values for one in said.would_change}
    assume("review_would_step_back" in words)
    *earlier, last = course["sessions"]
    then = ask("session-review", course | {"sessions": [*earlier, last | {"pain_in_session": pain}]})
    back = words["review_would_step_back"]
    hurts = pain > back["pain"] or (last.get("form_lost", False) and pain > back["green"])
    assert (rank(then) >= BETTER_TO_WORSE.index("step_back")) == hurts
    if said.decision == "progress" and not hurts and then.professional_review is None:
        holds = words.get("review_would_hold") or words.get("review_would_hold_tendon") or {}
        before = (course["sessions"][0], *earlier[-1:])
        risen = max(pain - one["pain_in_session"] for one in before) >= holds.get("trend", -10)
        assert then.decision == ("hold" if pain > holds.get("green", 10) and risen else "progress")


@pytest.mark.parametrize(("usual", "limit"), [(0, 2), (1, 3), (2.5, 4.5), (4, 5), (None, 5)])
def test_the_pain_that_would_be_a_step_back_is_the_one_that_is(usual: float | None, limit: float) -> None:
    calm = SPARE | {"pain_next_morning": usual or 0}
    stated = {} if usual is None else {"usual_pain": usual}
    known = {"prescription": FRONT_SQUAT, "region": "low_back", "bar": BAR, **stated}
    now = ask("session-review", known | {"sessions": [calm, calm]})
    assert now.decision == "progress"
    assert [one.values["pain"] for one in now.would_change if one.code == "review_would_step_back"] == [limit]
    for pain, decision in ((limit, "hold" if limit > 2 else "progress"), (limit + 0.25, "step_back")):
        then = known | {"sessions": [calm, calm | {"pain_in_session": pain}]}
        assert ask("session-review", then).decision == decision


# --- what never happens -----------------------------------------------------------------------------------------------


@given(courses, st.data())
def test_more_pain_never_gives_a_better_decision(course: dict[str, Any], data: st.DataObject) -> None:
    before = ask("session-review", course)
    place = data.draw(st.integers(0, len(course["sessions"]) - 1))
    field = data.draw(st.sampled_from(["pain_in_session", "pain_next_morning", "weekly_pain"]))
    changed = {**course, "sessions": [dict(one) for one in course["sessions"]]}
    if field == "weekly_pain":
        assume(course.get("weekly_pain"))
        *earlier, last = course["weekly_pain"]
        changed["weekly_pain"] = [*earlier, data.draw(st.sampled_from([last, (last + 10) / 2, 10]))]
    else:
        now = course["sessions"][place].get(field)
        assume(now is not None)
        changed["sessions"][place][field] = data.draw(st.sampled_from([now, (now + 10) / 2, min(10, now + 1), 10]))
    assert rank(ask("session-review", changed)) >= rank(before)


@given(courses)
def test_a_missing_next_morning_never_progresses(course: dict[str, Any]) -> None:
    *earlier, last = course["sessions"]
    last = {key: value for key, value in last.items() if key != "pain_next_morning"}
    found = ask("session-review", {**course, "sessions": [*earlier, last]})
    assert found.decision != "progress"
    assert found.decision == "step_back" or set(found.changed) <= {"load"}  # as near as it can be loaded


@given(st.lists(st.sampled_from(["pain_next_morning", "reps_done"]), min_size=1, unique=True), st.integers(0, 1))
def test_what_is_missing_of_either_session_holds(missing: list[str], which: int) -> None:
    two = [dict(SPARE), dict(SPARE)]
    assert reviewed(*two).decision == "progress"
    two[which] = {key: value for key, value in SPARE.items() if key not in missing}
    assert reviewed(*two).decision == "hold"


def test_without_the_usual_pain_only_a_next_morning_of_nearly_none_counts_as_usual() -> None:
    request = {"prescription": FRONT_SQUAT, "region": "low_back", "bar": BAR}
    calm = SPARE | {"pain_next_morning": 0.5}
    assert ask("session-review", {**request, "sessions": [calm, calm]}).decision == "progress"
    found = ask("session-review", {**request, "sessions": [SPARE, SPARE]})
    assert (found.decision, found.rule.id) == ("hold", "usual_pain_missing")


@given(st.floats(0, 4), st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1))
def test_a_change_of_one_point_never_turns_hold_into_a_step_back(
    usual: float, session: float, morning: float, week: float
) -> None:
    # childs_2005: one point lies inside the error of the scale; pain that was at most 4 stays at most 5
    def course(*changes: float) -> Answered:
        felt, later, mean = (min(10.0, max(0.0, usual + change)) for change in changes)
        last = {"pain_in_session": felt, "pain_next_morning": later, "reps_done": [6, 6, 6, 6]}
        return reviewed(last, usual_pain=usual, weekly_pain=[usual, mean])

    assert course(0, 0, 0).decision == "hold"
    assert course(session, morning, week).decision == "hold"


@given(courses, st.lists(st.sampled_from(sorted(SIGNS)), min_size=1, max_size=4))
def test_signs_always_refer_and_leave_no_prescription(course: dict[str, Any], signs: list[str]) -> None:
    found = ask("session-review", {**course, "signs": signs})
    assert (found.decision, found.rule.id, found.next, found.changed) == ("refer", "red_flag", None, [])
    assert URGENCIES[found.referral.urgency].rank == min(URGENCIES[SIGNS[sign].urgency].rank for sign in signs)
    assert found.referral.what_to_do in found.why
    assert {source for sign in signs for source in SIGNS[sign].sources} <= set(found.basis.sources)


def test_signs_refer_even_where_the_rest_of_the_request_is_faulty() -> None:
    crossed = FRONT_SQUAT | {"reps": {"low": 6, "high": 5}, "load": kg(0)}
    assert reviewed(GOOD, prescription=crossed, signs=["bladder_change"]).decision == "refer"


@given(courses)
def test_every_load_can_be_loaded_and_only_what_is_named_has_changed(course: dict[str, Any]) -> None:
    found = ask("session-review", course)
    given_ = course["prescription"]
    new = found.next
    if new is None:
        assert found.decision in ("step_back", "pause_and_review")
        return
    holding = ask("bar-loading", {"target": msgspec.to_builtins(new.load), "bar": BAR, "rounding": "nearest"})
    assert holding.difference == 0
    moved = {
        "load": abs(new.load.value - given_["load"]["value"]) > 1e-9,
        "reps": (new.reps.low, new.reps.high) != (given_["reps"]["low"], given_["reps"]["high"]),
        "sets": new.sets != given_["sets"],
    }
    assert {change for change, is_moved in moved.items() if is_moved} == set(found.changed)
    if found.decision == "step_back":
        assert new.load.value <= given_["load"]["value"]
        assert found.changed
    if found.decision == "hold":
        assert set(found.changed) <= {"load"}
        assert 0 <= given_["load"]["value"] - new.load.value < 2.5
    if found.decision == "progress":
        assert found.changed
        assert new.load.value <= given_["load"]["value"] + 2.5


@given(courses)
def test_every_rule_and_source_resolves_and_every_decision_is_explained(course: dict[str, Any]) -> None:
    found = ask("session-review", course)
    assert found.rule.id in RULES
    assert {rule.id for rule in found.other_rules} <= RULES.keys() - {found.rule.id}
    assert set(found.basis.sources) | set(found.rule.sources) <= SOURCES.keys()
    assert len(found.why) >= 3
    assert found.would_change
    words = [found.rule.message, *found.why, *found.would_change]
    assert not [one for one in words if "{" in one.text or not one.text.endswith((".", "!"))]


@given(courses)
def test_pounds_and_kilograms_decide_alike(course: dict[str, Any]) -> None:
    metric = msgspec.to_builtins(ask("session-review", course))
    pounds = msgspec.to_builtins(ask("session-review", in_pounds_and_inches(course)))
    for answer in (metric, pounds):
        answer["why"] = [one["code"] for one in answer["why"]]
        answer["cautions"] = [caution["code"] for caution in answer["cautions"]]
    masses = compare(metric, pounds)
    assert masses == (0 if metric["next"] is None else 1)


# --- which rule decides -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("last", "more", "decision", "rule"),
    [
        (SPARE, {}, "progress", "done_as_prescribed"),  # baechle_earle (secondary)
        (GOOD, {}, "progress", "done_as_prescribed"),
        (GOOD | {"reps_done": [6, 6, 6]}, {}, "hold", "not_completed"),
        (GOOD | {"reps_done": [6, 6, 6, 4]}, {}, "hold", "not_completed"),
        (GOOD | {"pain_in_session": 2.5}, {}, "hold", "amber_stable"),  # thomee_1997 (memory)
        (GOOD | {"form_lost": True}, {}, "hold", "form_lost"),
        (GOOD | {"pain_next_morning": 2}, {}, "hold", "morning_up"),  # childs_2005 (abstract)
        (GOOD, {"weekly_pain": [2, 2.4]}, "progress", "done_as_prescribed"),  # a mean of few reports moves by so much
        (GOOD, {"weekly_pain": [2, 2.5]}, "hold", "weeks_rising"),  # silbernagel_2007 (memory)
        (GOOD | {"reps_in_reserve": 1}, {"prescription": TWO_LEFT}, "hold", "reserve_short"),
        (GOOD | {"reps_in_reserve": 2}, {"prescription": TWO_LEFT}, "progress", "done_as_prescribed"),
        (
            GOOD | {"reps_in_reserve": 1},
            {"prescription": TWO_LEFT | {"reps_in_reserve": 1.5}},
            "progress",
            "done_as_prescribed",
        ),
        (
            GOOD | {"reps_in_reserve": 5},
            {"prescription": TWO_LEFT | {"reps_in_reserve": 9}},
            "progress",
            "done_as_prescribed",
        ),
        (GOOD | {"reps_in_reserve": 3}, {"prescription": TWO_LEFT | {"reps_in_reserve": 9}}, "hold", "reserve_short"),
        (GOOD, {"weekly_pain": [2, 4]}, "step_back", "weeks_up"),  # childs_2005 (abstract)
        (GOOD, {"weekly_pain": [1, 2, 2.5, 3]}, "step_back", "weeks_up"),  # a creeping rise counts as a whole
        (SPARE, {"weekly_pain": [4, 2, 2]}, "progress", "done_as_prescribed"),
        (GOOD | {"pain_in_session": 5.1}, {}, "step_back", "session_red"),  # thomee_1997 (memory)
        (GOOD | {"pain_next_morning": 5.5}, {"usual_pain": 5}, "step_back", "morning_red"),  # silbernagel_2007 (memory)
        (SPARE | {"pain_next_morning": 5}, {"usual_pain": 5}, "progress", "done_as_prescribed"),  # 5 itself is not red
        (GOOD | {"pain_next_morning": 3}, {}, "step_back", "morning_rise"),  # childs_2005 (abstract)
        (GOOD | {"swelling": True}, {}, "step_back", "swelling"),  # smith_2019 (secondary)
        (GOOD | {"sleep_lost": True}, {}, "step_back", "sleep_lost"),  # smith_2019 (secondary)
        (GOOD | {"new_stiffness": True}, {}, "step_back", "new_stiffness"),  # silbernagel_2007 (memory)
        (GOOD | {"pain_in_session": 3, "form_lost": True}, {}, "step_back", "amber_form_lost"),
        (GOOD | {"pain_in_session": 3.5}, {}, "step_back", "amber_above_usual"),  # smith_2019 (secondary)
        (GOOD | {"pain_in_session": 3}, {}, "hold", "amber_stable"),  # just two above the usual pain
        (SPARE, {"weeks_since_start": 4, "pain_at_start": 2.5}, "progress", "done_as_prescribed"),  # 60 % better
    ],
)
def test_rule_that_decides(last: dict[str, Any], more: dict[str, Any], decision: str, rule: str) -> None:
    found = reviewed(SPARE, last, **more)
    assert (found.decision, found.rule.id) == (decision, rule)


def test_rise_of_exactly_two_counts_whatever_the_decimals() -> None:
    assert reviewed(GOOD | {"pain_next_morning": 4.3}, usual_pain=2.3).rule.id == "morning_rise"
    assert weekly_rise([0.1, 2.1]) == 2


def test_one_good_session_is_not_enough() -> None:
    found = reviewed(GOOD | {"pain_in_session": 4}, SPARE, usual_pain=3)
    assert (found.decision, found.rule.id, found.good_sessions_in_a_row) == ("hold", "too_few_good_sessions", 1)


@pytest.mark.parametrize(("morning", "good", "decision"), [(1.9, 2, "progress"), (2, 1, "hold")])
def test_a_morning_up_by_one_is_no_calm_one(morning: float, good: int, decision: str) -> None:
    # our own choice (morning_hold): a morning one point above the usual 1 does not count towards progress
    found = reviewed(SPARE | {"pain_next_morning": morning}, SPARE)
    assert (found.decision, found.good_sessions_in_a_row) == (decision, good)


@pytest.mark.parametrize(
    ("mornings", "good"),
    [
        ([1, 1, 1], 2),  # a report in whole points moves by no less than one (childs_2005: less than two is its error)
        ([0, 1, 0], 1),
        ([0, 1, 0, 1], 2),  # nought and one in turn: the second 1 is none that is new
        ([0, 0, 1], 0),  # new, so that it holds for once
        ([1, 1.5], 0),
        ([1.9, 1.9], 1),
        ([3, 1], 0),  # after a real rise the next morning is held against the usual pain alone
        ([1, 0, 0, 1], 0),  # too long ago
    ],
)
def test_a_green_morning_that_stays_a_point_above_the_usual_leads_on(mornings: list[float], good: int) -> None:
    found = reviewed(*(SPARE | {"pain_next_morning": one} for one in mornings), usual_pain=0)
    assert min(found.good_sessions_in_a_row, 2) == good
    assert (found.decision == "progress") == (good == 2)
    assert (found.rule.id == "morning_up") == (good == 0)


def test_a_morning_that_stays_above_the_usual_leads_on_in_the_green_alone() -> None:
    higher = reviewed(*[SPARE | {"pain_next_morning": 3}] * 3, usual_pain=2)
    assert (higher.decision, higher.rule.id) == ("hold", "morning_up")
    amber = reviewed(*[GOOD | {"pain_in_session": 3, "pain_next_morning": 1}] * 3, usual_pain=0)
    assert amber.decision != "progress"


def test_a_course_of_pain_and_mornings_of_1_where_0_is_usual_asks_for_no_professional() -> None:
    found = reviewed(*[SPARE | {"pain_in_session": 1, "pain_next_morning": 1}] * 20, usual_pain=0)
    assert (found.decision, found.professional_review) == ("progress", None)


def test_a_review_that_is_due_is_said_with_its_reasons() -> None:
    found = reviewed(*[GOOD | {"pain_in_session": 3}] * 12, weeks_since_start=12, pain_at_start=4)
    assert found.rule.id == "review_due"
    words = [one.code for one in found.why]
    assert words[2:5] == ["review_reason_no_improvement", "review_reason_unsettled", "rule_review_due"]


# --- amber pain -------------------------------------------------------------------------------------------------------

AMBER: Final = GOOD | {"pain_in_session": 4}


def test_stable_amber_pain_may_progress_in_a_tendon_and_holds_elsewhere() -> None:
    # thomee_1997, silbernagel_2007: up to 5 is acceptable if the next morning is as usual and no trend goes up
    assert reviewed(AMBER, AMBER, aim="tendon").decision == "progress"
    for aim in ("strength", "muscle_size", "maintain", None):
        found = reviewed(AMBER, AMBER, usual_pain=2, **({"aim": aim} if aim else {}))
        assert (found.decision, found.rule.id) == ("hold", "amber_stable")
        assert "for 4 weeks at most" in found.rule.message.text


@pytest.mark.parametrize(
    ("before", "last", "rule"),
    [
        (AMBER | {"pain_in_session": 3}, AMBER, "amber_rising"),
        (AMBER | {"pain_in_session": 3.5}, AMBER, "done_as_prescribed"),  # within the noise of a report
        (AMBER, AMBER | {"pain_next_morning": 2}, "morning_up"),
        (AMBER, AMBER | {"pain_in_session": 5.5}, "session_red"),
        (AMBER, AMBER | {"form_lost": True}, "amber_form_lost"),
        (AMBER, {"pain_in_session": 4, "reps_done": [6, 6, 6, 6]}, "morning_missing"),
        (GOOD, AMBER, "amber_rising"),
    ],
)
def test_amber_pain_of_a_tendon_progresses_only_while_nothing_rises(
    before: dict[str, Any], last: dict[str, Any], rule: str
) -> None:
    assert reviewed(before, last, aim="tendon").rule.id == rule


def test_a_creeping_rise_of_amber_pain_is_seen_over_the_whole_time() -> None:
    creeping = [AMBER | {"pain_in_session": pain} for pain in (2.5, 2.9, 3.3, 3.6)]
    assert reviewed(*creeping, aim="tendon").rule.id == "amber_rising"


# --- what happens to the prescription ---------------------------------------------------------------------------------


def test_a_repetition_is_added_up_to_the_top_of_the_range_and_then_load() -> None:
    low = GOOD | {"reps_done": [6, 5, 5, 5]}
    found = reviewed(low, low)
    assert (found.changed, found.next.reps.low, found.next.reps.high) == (["reps"], 6, 6)
    top = reviewed(GOOD, GOOD)
    assert (top.decision, top.changed, top.next.load.value) == ("progress", ["load"], 65)
    assert (top.next.reps.low, top.next.reps.high) == (5, 6)


def test_nobody_has_to_do_repetitions_that_were_not_prescribed() -> None:
    """With no pain and every repetition done the load rises, review after review, for as long as that is so."""
    press: dict[str, Any] = {"exercise": "bench_press", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(60)}
    good = {"pain_in_session": 0, "pain_next_morning": 0, "reps_done": [8, 8, 8]}
    loads = []
    for _ in range(8):
        found = ask("session-review", {"prescription": press, "region": "shoulder", "sessions": [good, good]})
        assert found.decision == "progress"
        press = msgspec.to_builtins(found.next)
        loads.append(press["load"]["value"])
    assert loads == [60 + 2.5 * more for more in range(1, 9)]


def test_sessions_of_an_earlier_prescription_count_for_pain_and_not_for_progress() -> None:
    before = GOOD | {"earlier_prescription": True, "reps_done": [12] * 7}
    found = reviewed(before, before, GOOD)
    assert (found.decision, found.rule.id, found.good_sessions_in_a_row) == ("hold", "too_few_good_sessions", 1)
    unreported = {"pain_in_session": 1, "pain_next_morning": 1, "earlier_prescription": True}
    assert [rule.id for rule in reviewed(unreported, GOOD).other_rules] == []
    bad = before | {"pain_in_session": 7}
    found = reviewed(bad, bad, bad, GOOD, GOOD)
    assert [one.code for one in found.professional_review.reasons] == ["review_reason_steps_back"]


def test_what_protects_the_region_stays_whatever_is_decided() -> None:
    kept: dict[str, Any] = {
        "tempo": "3-1-1-0",
        "rest": {"value": 150, "unit": "s"},
        "depth": {"thigh_below_horizontal": {"value": -35, "unit": "deg"}},
        "technique": {"heel_lift": {"value": 2, "unit": "cm"}},
        "cues": [next(iter(CUES))],
        "implement": "barbell",
        "side": "both",
        "reps_in_reserve": 3,
    }
    protected = FRONT_SQUAT | kept
    bare = FRONT_SQUAT | {"load": kg(57.5)}
    bad = GOOD | {"swelling": True}
    answers = [
        reviewed(GOOD, GOOD, prescription=protected),
        reviewed(AMBER | {"pain_in_session": 2.5}, prescription=protected),
        reviewed(bad, prescription=protected),
        reviewed(bad, prescription=protected, lifter=LIFTER),
        reviewed(bad, prescription=protected, previous=bare),
        reviewed(bad, prescription=protected, previous=bare, lifter=LIFTER),
    ]
    assert [one.decision for one in answers] == ["progress", "hold", *["step_back"] * 4]
    for answer in answers:
        new = msgspec.to_builtins(answer.next)
        assert set(answer.changed) <= {"load"}
        assert {field for field in kept if new.get(field) is None} <= {"reps_in_reserve"}
        assert new["depth"]["thigh_below_horizontal"]["value"] == pytest.approx(-35)
        assert new["technique"]["heel_lift"]["value"] == pytest.approx(0.02)
        assert (new["tempo"], new["cues"]) == (kept["tempo"], kept["cues"])


def test_a_previous_prescription_keeps_the_protection_that_it_had() -> None:
    deeper = FRONT_SQUAT | {"depth": {"thigh_below_horizontal": {"value": -20, "unit": "deg"}}}
    before = FRONT_SQUAT | {"depth": {"thigh_below_horizontal": {"value": -35, "unit": "deg"}}}
    found = reviewed(GOOD | {"swelling": True}, prescription=deeper, previous=before)
    assert found.changed == ["range_of_motion"]
    assert found.next.depth.thigh_below_horizontal.value == pytest.approx(-35)


@pytest.mark.parametrize(
    ("last", "share"),
    [
        ({"pain_in_session": 6}, 0.75),
        ({"pain_in_session": 4, "pain_next_morning": 4}, 0.75),  # amber, and a real rise the next morning
        ({"pain_in_session": 1, "pain_next_morning": 3}, 0.90),
        ({"pain_in_session": 1, "pain_next_morning": 6}, 0.75),
        ({"pain_in_session": 1, "pain_next_morning": 1, "swelling": True}, 0.90),
    ],
)
def test_a_step_back_brings_the_region_to_the_share_that_adjustments_would(last: dict[str, Any], share: float) -> None:
    found = reviewed(last)
    assert (found.changed, found.next.load.value) == (["load"], 2.5 * int((62.5 * share) / 2.5))
    assert [one.values["target"] for one in found.why if one.code == "review_less_without_lifter"] == [share]
    known = reviewed(last, lifter=LIFTER)
    assert [one.values["target"] for one in known.why if one.code == "first_step"] == [share]


@pytest.mark.parametrize(
    ("exercise", "region"), [("front_squat", "low_back"), ("bench_press", "shoulder"), ("pull_up", "elbow")]
)
@pytest.mark.parametrize("pain", [4, 6, 7])
def test_the_same_pain_leads_to_the_same_load_and_words_as_in_adjustments(
    exercise: str, region: str, pain: float
) -> None:
    lift = FRONT_SQUAT | {"exercise": exercise, "load": kg(62.5 if exercise != "pull_up" else 10)}
    complaint = {"region": region, "pain_in_session": pain, "pain_next_morning": 1, "usual_pain": 1}
    limits = {"levers": ["load"], "bar": BAR}
    adjusted = ask(
        "adjustments",
        {"lifter": LIFTER, "prescription": lift, "complaint": complaint, "aim": "strength", "constraints": limits},
    )
    session = {"pain_in_session": pain, "pain_next_morning": 1}
    found = reviewed(session, prescription=lift, region=region, lifter=LIFTER)
    [option] = adjusted.options
    assert (found.decision, found.changed[0]) == ("step_back", "load")
    assert found.next.load == option.prescription.load
    assert found.next.assistance == option.prescription.assistance
    assert {one.text for one in adjusted.why} & {one.text for one in found.why}


def test_a_step_back_returns_to_the_previous_prescription() -> None:
    before = {"exercise": "safety_bar_squat", "sets": 3, "reps": {"low": 8, "high": 8}, "load": lb(100)}
    found = reviewed(GOOD | {"swelling": True}, previous=before)
    assert "review_previous" in {one.code for one in found.why}
    assert (found.next.exercise, found.next.sets) == ("safety_bar_squat", 3)
    assert (found.next.load.value, found.next.load.unit) == (45, "kg")  # 45.36 kg
    assert "retest_variation" in {caution.code for caution in found.cautions}
    assert reviewed(SPARE, SPARE, previous=before).changed == ["load"]


def test_where_the_bar_gets_no_lighter_sets_go_then_repetitions_and_then_the_lift() -> None:
    swollen = GOOD | {"swelling": True, "reps_done": [5]}
    empty_bar = FRONT_SQUAT | {"load": kg(15)}
    found = reviewed(swollen, prescription=empty_bar)
    assert (found.changed, found.next.sets, found.next.load.value) == (["sets"], 3, 15)
    found = reviewed(swollen, prescription=empty_bar | {"sets": 1})
    assert (found.changed, found.next.reps.low, found.next.reps.high) == (["reps"], 4, 5)
    found = reviewed(swollen, prescription=empty_bar | {"sets": 1, "reps": {"low": 1, "high": 1}})
    assert (found.decision, found.next, found.changed) == ("step_back", None, [])


def test_after_red_pain_nothing_is_left_of_a_lift_that_gets_no_lighter() -> None:
    found = reviewed({"pain_in_session": 7}, prescription=FRONT_SQUAT | {"load": kg(15)})
    assert (found.decision, found.tier, found.next, found.changed) == ("step_back", "red", None, [])
    assert "chest" in {group.muscle for group in found.meanwhile}


def test_repeated_steps_back_end_in_a_review_or_leave_the_lift_out() -> None:
    """Fed back as they come, with nothing else reported than the last session, they come to an end."""
    lift: dict[str, Any] | None = FRONT_SQUAT | {"load": kg(140)}
    steps = 0
    while lift is not None and steps < 20:
        lift = msgspec.to_builtins(reviewed({"pain_in_session": 6}, prescription=lift).next)
        steps += 1
    assert lift is None
    bad = GOOD | {"pain_in_session": 6}
    assert reviewed(bad, bad, bad).professional_review is not None


def test_coarse_plates_widen_the_prescription_before_a_step_of_more_than_ten_percent() -> None:
    coarse = {"bar": kg(20), "plates": [{"plate": kg(2.5), "pairs": 10}]}
    found = reviewed(SPARE, SPARE, bar=coarse, prescription=FRONT_SQUAT | {"load": kg(60)})
    assert (found.changed, found.next.load.value) == (["load"], 65)  # 8.3 %
    light = FRONT_SQUAT | {"load": kg(40), "reps": {"low": 6, "high": 6}}
    found = reviewed(SPARE, SPARE, bar=coarse, prescription=light)
    assert (found.decision, found.changed, found.next.reps.high) == ("progress", ["reps"], 7)
    [said] = [one for one in found.why if one.code == "review_large_step_waits"]
    assert said.values == {"step": 0.125, "most": 0.10}


def test_a_large_step_is_taken_once_it_is_earned_and_nothing_is_held_for_ever() -> None:
    lift: dict[str, Any] = {"exercise": "goblet_squat", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(10)}
    said: set[str] = set()
    reviews = 0
    while lift["load"]["value"] == 10 and reviews < 20:
        good = {"pain_in_session": 0, "pain_next_morning": 0, "reps_done": [lift["reps"]["high"]] * lift["sets"]}
        found = ask("session-review", {"prescription": lift, "region": "knee", "sessions": [good, good]})
        assert found.decision == "progress"
        lift, said = msgspec.to_builtins(found.next), {one.code for one in found.why}
        reviews += 1
    assert lift["load"]["value"] == 12.5
    assert 2 * lift["reps"]["low"] >= lift["reps"]["high"]
    assert "review_large_step" in said


def test_lifts_without_a_bar_go_in_steps_and_keep_the_load_that_is_there() -> None:
    goblet = {"exercise": "goblet_squat", "sets": 4, "reps": {"low": 6, "high": 6}, "load": kg(12)}
    held = reviewed(GOOD | {"pain_in_session": 3}, prescription=goblet)
    assert (held.decision, held.next.load.value) == ("hold", 12)
    back = reviewed(GOOD | {"swelling": True}, prescription=goblet, increment=kg(2))
    assert (back.changed, back.next.load.value) == (["load"], 10)  # 10.8 kg
    up = reviewed(SPARE, SPARE, prescription=goblet | {"load": kg(24)}, increment=kg(2))
    assert up.next.load.value == 26  # 8.3 % within 10


def test_lifts_of_the_own_body_lose_assistance_and_then_gain_load() -> None:
    body = {exercise.id: exercise.regions[0] for exercise in EXERCISES.values() if exercise.assisted}
    assert body
    for exercise, region in body.items():
        lift: dict[str, Any] = FRONT_SQUAT | {"exercise": exercise, "load": kg(0), "assistance": kg(2.5)}
        seen = []
        for _ in range(3):
            found = reviewed(GOOD, GOOD, prescription=lift, region=region)
            seen.append(found.changed)
            lift = msgspec.to_builtins(found.next)
        assert seen == [["assistance"], ["load"], ["load"]]
        bare = FRONT_SQUAT | {"exercise": exercise, "load": kg(0)}
        assert reviewed(GOOD | {"swelling": True}, prescription=bare, region=region).changed == ["sets"]
        helped = reviewed(GOOD | {"swelling": True}, prescription=bare, region=region, lifter=LIFTER)
        if EXERCISES[exercise].family == "hinge":  # no number is known of what less of the body asks of the knee
            assert helped.changed == ["sets"]
            continue
        present = Prescription(exercise, 1, Reps(5, 5), 0.0)
        carried = present_demand(BODY, present)
        ratios = {off: region_ratio(carried, replace(present, load=-off), region) for off in (5.0, 7.5, 10.0)}  # kg
        least = min(off for off, ratio in ratios.items() if ratio is not None and ratio <= 0.9)
        assert (helped.changed, helped.next.assistance.value) == (["assistance"], least)
        more = reviewed(
            GOOD | {"swelling": True}, prescription=lift | {"load": kg(0), "assistance": kg(20)}, region=region
        )
        assert more.changed == ["sets"]  # never less assistance in a step back


def test_holds_get_longer_then_heavier_and_are_never_called_repetitions() -> None:
    hold: dict[str, Any] = {
        "exercise": "back_squat_high_bar", "sets": 4, "load": kg(60), "hold": {"value": 40, "unit": "s"},
        "depth": {"knee_flexion": {"value": 60, "unit": "deg"}},
    }  # fmt: skip
    good = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [1, 1, 1, 1]}
    longer = reviewed(good, good, prescription=hold, region="knee")
    assert (longer.changed, longer.next.hold.value) == (["hold"], 45)
    assert "4 × 45 s with 60 kg" in " ".join(one.text for one in longer.why)
    heavier = reviewed(good, good, prescription=msgspec.to_builtins(longer.next), region="knee")
    assert (heavier.changed, heavier.next.hold.value, heavier.next.load.value) == (["load"], 45, 62.5)
    coarse = {"bar": BAR | {"plates": [{"plate": kg(5)}, {"plate": kg(10)}, {"plate": kg(20)}]}}
    minute = hold | {"load": kg(55), "hold": {"value": 60, "unit": "s"}}
    large = reviewed(good, good, prescription=minute, region="knee", **coarse)
    assert (large.changed, large.next.hold.value, large.next.load.value) == (["load", "hold"], 30, 65)
    for answer in (longer, heavier):
        assert not any("repetition" in one.text for one in answer.why)
    short = reviewed(good | {"reps_done": [1, 1, 1]}, prescription=hold, region="knee")
    assert (short.decision, short.rule.id) == ("hold", "too_few_good_sessions")


# --- with an original -------------------------------------------------------------------------------------------------


def test_an_original_asks_for_a_lifter() -> None:
    request = {"prescription": FRONT_SQUAT, "region": "low_back", "sessions": [GOOD], "original": FRONT_SQUAT}
    assert [fault.pointer for fault in faults("session-review", request)] == ["/lifter"]


def test_with_an_original_a_step_on_is_the_first_step_of_the_return_plan() -> None:
    original = FRONT_SQUAT | {"exercise": "back_squat_high_bar", "load": kg(100)}
    adjusted = original | {"load": kg(80), "tempo": "3-1-1-0"}
    asked = {"lifter": LIFTER, "original": original, "bar": BAR, "region": "low_back"}
    step = ask("return-plan", asked | {"adjusted": adjusted}).steps[0]
    found = reviewed(GOOD, GOOD, prescription=adjusted, original=original, lifter=LIFTER)
    assert (found.decision, found.changed) == ("progress", step.changed)
    assert found.next == step.prescription
    assert "review_way_back" in {one.code for one in found.why}


def test_what_asks_no_less_than_the_original_leads_to_it_by_one_named_change() -> None:
    slower = FRONT_SQUAT | {"tempo": "5-1-1-0"}
    found = reviewed(GOOD, GOOD, prescription=slower | {"load": kg(65)}, original=slower, lifter=LIFTER)
    assert (found.decision, found.changed, found.next.load.value) == ("progress", ["load"], 62.5)


def test_at_the_original_a_good_course_ends_the_way_back() -> None:
    found = reviewed(GOOD, GOOD, prescription=FRONT_SQUAT, original=FRONT_SQUAT, lifter=LIFTER)
    assert (found.decision, found.rule.id, found.changed) == ("back_to_original", "original_reached", [])
    assert found.next.load.value == 62.5
    assert reviewed(GOOD, prescription=FRONT_SQUAT, original=FRONT_SQUAT, lifter=LIFTER).decision == "hold"


# --- review by a professional -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "now", "due"),
    [
        (5, 4.5, True),  # neither 2 points (childs_2005, abstract) nor 30 % (farrar_2001, memory)
        (8, 6, False),  # 2 points
        (4, 2.5, False),  # 37 %
        (CHOICES.adjustments.green_up_to, CHOICES.adjustments.green_up_to, False),  # began in the green band
    ],
)
def test_no_improvement_after_four_weeks_asks_for_a_professional(start: float, now: float, due: bool) -> None:  # noqa: FBT001
    course = {"pain_at_start": start, "weekly_pain": [now, now]}
    found = reviewed(SPARE, SPARE, weeks_since_start=4, **course)
    reasons = (
        []
        if found.professional_review is None
        else [one.code.removeprefix("review_reason_") for one in found.professional_review.reasons]
    )
    assert reasons == (["no_improvement"] if due else [])
    assert (found.decision, found.rule.id) == (("hold", "review_due") if due else ("progress", "done_as_prescribed"))
    assert reviewed(SPARE, SPARE, weeks_since_start=3.9, **course).professional_review is None


def test_three_steps_back_in_three_weeks_ask_for_a_professional() -> None:
    bad, good = GOOD | {"pain_in_session": 6}, GOOD
    found = reviewed(bad, good, bad, good, bad, good)
    assert [one.code.removeprefix("review_reason_") for one in found.professional_review.reasons] == ["steps_back"]
    assert (found.decision, found.professional_review.urgency) == ("hold", "hold_and_review")
    weeks_ago = reviewed(bad, good, bad, good, bad, good, good)  # twice a week: the first one is over three weeks old
    assert weeks_ago.professional_review is None


@pytest.mark.parametrize(("days", "count"), [(2, 8), (3, 12), (7, 28), (None, 4)])
def test_four_weeks_without_a_good_session_ask_for_a_professional(days: int | None, count: int) -> None:
    """Amber pain that stays is held, and not for ever (design choice; childs_2005 for the weeks)."""
    lift = {name: value for name, value in FRONT_SQUAT.items() if name != "days_per_week"}
    lift |= {} if days is None else {"days_per_week": days}
    amber = GOOD | {"pain_in_session": 2.5}
    short = reviewed(*[amber] * (count - 1), prescription=lift)
    assert (short.rule.id, short.professional_review) == ("amber_stable", None)
    found = reviewed(*[amber] * count, prescription=lift)
    assert (found.decision, found.rule.id) == ("hold", "review_due")
    assert [one.code for one in found.professional_review.reasons] == ["review_reason_unsettled"]
    once_good = [amber] * (count // 2) + [GOOD] + [amber] * (count - count // 2 - 1)
    assert reviewed(*once_good, prescription=lift).professional_review is None
    unknown = {"pain_in_session": 1, "reps_done": [6, 6, 6, 6]}  # that mornings are missing is no complaint
    assert reviewed(*[unknown] * count, prescription=lift).professional_review is None


def test_a_real_rise_of_the_weekly_mean_steps_back_and_asks_for_a_professional() -> None:
    found = reviewed(GOOD, GOOD, weekly_pain=[1, 3])
    assert (found.decision, found.changed) == ("step_back", ["load"])
    assert [one.code.removeprefix("review_reason_") for one in found.professional_review.reasons] == ["weeks_up"]


# --- faults -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "pointers"),
    [
        ({"prescription": FRONT_SQUAT | {"reps": {"low": 6, "high": 5}}}, ["/prescription/reps"]),
        ({"prescription": FRONT_SQUAT | {"load": kg(10)}}, ["/prescription/load"]),
        ({"prescription": FRONT_SQUAT | {"load": kg(900)}}, ["/prescription/load"]),
        (
            {"prescription": FRONT_SQUAT | {"exercise": "leg_press", "load": kg(0)}, "region": "knee"},
            ["/prescription/load"],
        ),
        ({"sessions": [GOOD, GOOD | {"reps_done": [6] * 5}]}, ["/sessions/1/reps_done"]),
        ({"increment": kg(0)}, ["/increment"]),
        (
            {"previous": FRONT_SQUAT | {"reps": {"low": 6, "high": 5}}, "sessions": [GOOD | {"reps_done": [6] * 5}]},
            ["/sessions/0/reps_done", "/previous/reps"],
        ),
        (
            {"sessions": [GOOD | {"pain_in_session": 10.1}], "usual_pain": -1},
            ["/sessions/0/pain_in_session", "/usual_pain"],
        ),
        ({"sessions": []}, ["/sessions"]),
    ],
)
def test_faults_are_told_together_with_what_is_allowed(more: dict[str, Any], pointers: list[str]) -> None:
    request = {"prescription": FRONT_SQUAT, "region": "knee", "sessions": [GOOD], "bar": BAR, **more}
    found = faults("session-review", request)
    assert sorted(fault.pointer for fault in found) == sorted(pointers)
    assert all(fault.allowed for fault in found)


@pytest.mark.parametrize(
    "previous",
    [FRONT_SQUAT, FRONT_SQUAT | {"load": kg(65)}, FRONT_SQUAT | {"reps_in_reserve": 4}],
)
def test_a_previous_prescription_that_asks_no_less_is_left_out_of_account(previous: dict[str, Any]) -> None:
    request = {"prescription": FRONT_SQUAT, "region": "knee", "sessions": [SORE], "usual_pain": 1, "bar": BAR}
    assert ask("session-review", request | {"previous": previous}) == ask("session-review", request)


@pytest.mark.parametrize("more", [{}, {"lifter": LIFTER}])
@pytest.mark.parametrize(
    "previous",
    [
        FRONT_SQUAT | {"load": kg(100), "reps": {"low": 1, "high": 2}},
        FRONT_SQUAT | {"load": kg(100), "sets": 1, "days_per_week": 1},
    ],
)
def test_after_a_bad_session_no_heavier_previous_prescription_is_gone_back_to(
    previous: dict[str, Any], more: dict[str, Any]
) -> None:
    found = reviewed(GOOD | {"pain_in_session": 7}, previous=previous, **more)
    assert found.decision == "step_back"
    assert found.next.load.value < FRONT_SQUAT["load"]["value"]


@pytest.mark.parametrize("bad", [{"pain_in_session": 7}, {"pain_next_morning": 6}, {"swelling": True}])
def test_after_a_bad_session_the_step_before_is_gone_back_to_though_its_load_is_the_same(bad: dict[str, Any]) -> None:
    """What was done slower, or in a shorter range, was tolerated: the lifter's answer counts before the model's."""
    slower, shorter = (
        FRONT_SQUAT | {"tempo": "4-0-1-0"},
        {**FRONT_SQUAT, "depth": {"thigh_below_horizontal": {"value": -15, "unit": "deg"}}},
    )
    for tolerated in (slower, shorter, FRONT_SQUAT | {"load": kg(50)}):
        found = msgspec.to_builtins(reviewed(GOOD | bad, previous=tolerated, lifter=LIFTER).next)
        assert {name: found[name] for name in tolerated} == tolerated


def test_what_cannot_be_loaded_is_left_out_and_the_review_goes_on() -> None:
    lift = {
        "exercise": "goblet_squat", "implement": "kettlebell", "sets": 3, "reps": {"low": 8, "high": 8}, "load": kg(20),
    }  # fmt: skip
    done = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [10, 10, 10]}
    gym = {"implements": [{"implement": "kettlebell", "step": kg(4), "heaviest": kg(24)}]}
    course = {"prescription": lift, "region": "knee", "usual_pain": 1, "gym": gym, "lifter": LIFTER}
    heavy, barbell = lift | {"load": kg(48)}, lift | {"exercise": "front_squat", "implement": "barbell"}
    for original in (heavy, barbell):
        found = ask("session-review", course | {"sessions": [done, done], "original": original})
        assert found.decision == "progress"
        assert "review_original_not_loadable" in {one.code for one in found.why}
    bad = done | {"swelling": True}
    back = ask("session-review", course | {"sessions": [bad], "previous": barbell})
    assert (back.decision, back.next.exercise) == ("step_back", "goblet_squat")
    assert "review_previous_not_loadable" in {one.code for one in back.why}


def test_a_previous_prescription_that_is_not_gone_back_to_is_said_not_to_be() -> None:
    heavier = FRONT_SQUAT | {"load": kg(65), "reps": {"low": 3, "high": 4}}
    found = reviewed(GOOD | {"swelling": True}, previous=heavier, lifter=LIFTER)
    assert found.decision == "step_back"
    assert "review_previous_asks_as_much" in {one.code for one in found.why}


def test_no_heavier_or_longer_previous_hold_is_gone_back_to() -> None:
    hold = {"exercise": "leg_extension", "sets": 4, "hold": {"value": 30, "unit": "s"}, "load": kg(30)}
    alone = reviewed(GOOD | {"pain_in_session": 7}, prescription=hold).next
    for previous in (hold | {"load": kg(60), "sets": 3}, hold | {"hold": {"value": 60, "unit": "s"}, "sets": 3}):
        assert reviewed(GOOD | {"pain_in_session": 7}, prescription=hold, previous=previous).next == alone


@pytest.mark.parametrize("more", [{}, {"lifter": LIFTER}])
def test_less_load_leaves_more_repetitions(more: dict[str, Any]) -> None:
    """By nuzzo_2024 some 90 % of the load leave two or three more, three quarters of it far more."""
    for pain, session in ((7, GOOD | {"pain_in_session": 7}), (1, GOOD | {"swelling": True})):
        found = reviewed(session, prescription=FRONT_SQUAT | {"reps_in_reserve": 1}, **more)
        assert found.next.load.value < FRONT_SQUAT["load"]["value"], pain
        assert found.next.reps_in_reserve >= (2 if pain == 1 else 10)


def test_a_load_that_falls_by_more_than_what_is_asked_says_why() -> None:
    """A tenth off the knee takes far more off the bar where the body weighs; off a machine's pad a tenth will do."""
    squat = FRONT_SQUAT | {"exercise": "back_squat_high_bar", "load": kg(72.5)}
    machine = {"exercise": "leg_extension", "sets": 4, "reps": {"low": 8, "high": 8}, "load": kg(40)}
    sore = {"pain_in_session": 4, "pain_next_morning": 1}
    known = {"region": "front_of_knee", "sessions": [sore], "usual_pain": 1, "lifter": LIFTER}
    of_squat = ask("session-review", known | {"prescription": squat, "bar": BAR})
    of_machine = ask("session-review", known | {"prescription": machine})
    assert of_squat.next.load.value < 0.85 * 72.5
    assert "review_load_falls_by_more" in {one.code for one in of_squat.why}
    assert "review_load_falls_by_more" not in {one.code for one in of_machine.why}


def test_no_previous_lift_that_asks_more_of_the_region_is_gone_back_to() -> None:
    harder = FRONT_SQUAT | {"exercise": "back_squat_high_bar", "load": kg(140)}
    found = reviewed(GOOD | {"pain_in_session": 7}, previous=harder, lifter=LIFTER)
    assert (found.next.exercise, found.next.load.value < FRONT_SQUAT["load"]["value"]) == ("front_squat", True)


def test_what_is_done_is_held_as_it_is_though_the_bar_would_hold_another_load() -> None:
    """Software that names too few plates must not be sent to and fro between the original and the load below it."""
    plates = [{"plate": kg(plate)} for plate in (5, 10, 20)]
    original = FRONT_SQUAT | {"load": kg(62.5)}
    request = {
        "prescription": original,
        "original": original,
        "lifter": LIFTER,
        "region": "knee",
        "usual_pain": 1,
        "bar": {"bar": kg(20), "plates": plates},
    }
    held = ask("session-review", request | {"sessions": [GOOD]})
    assert (held.decision, held.next.load.value, held.changed) == ("hold", 62.5, [])
    assert ask("session-review", request | {"sessions": [GOOD, GOOD]}).decision == "back_to_original"


@pytest.mark.parametrize("lifter", [{}, {"lifter": LIFTER}])
@pytest.mark.parametrize(
    "tolerated",
    [
        FRONT_SQUAT | {"load": kg(57.5), "reps": {"low": 8, "high": 9}},
        FRONT_SQUAT | {"reps": {"low": 4, "high": 5}},
        FRONT_SQUAT | {"reps": {"low": 4, "high": 6}},
        FRONT_SQUAT | {"sets": 3},
    ],
)
@pytest.mark.parametrize("pain", [5, 6, 7])
def test_a_step_back_is_to_what_was_tolerated_whatever_its_repetitions(
    pain: float, tolerated: dict[str, Any], lifter: dict[str, Any]
) -> None:
    """A lighter load that was tolerated for more repetitions, or the same for fewer: less only if that hurts too."""
    bad = SORE | {"pain_in_session": pain, "swelling": True}
    request = {"prescription": FRONT_SQUAT, "region": "knee", "sessions": [bad], "usual_pain": 1, "bar": BAR, **lifter}
    back = ask("session-review", request | {"previous": tolerated})
    assert back.decision == "step_back"
    found = msgspec.to_builtins(back.next)
    assert {name: found[name] for name in ("sets", "reps", "load")} == {
        name: tolerated[name] for name in ("sets", "reps", "load")
    }
    again = ask("session-review", request | {"prescription": tolerated})
    assert again.next is None or again.next.load.value < tolerated["load"]["value"]


def test_the_load_of_the_original_is_taken_though_the_bar_is_heavier() -> None:
    """As of a squat on one leg with a dumbbell, where software names the bar of the gym."""
    original = {"exercise": "single_leg_squat", "sets": 3, "reps": {"low": 6, "high": 7}, "load": kg(16)}
    request = {
        "prescription": original | {"sets": 2},
        "original": original,
        "lifter": LIFTER,
        "region": "hip",
        "usual_pain": 1,
        "sessions": [{"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [7, 7]}],
        "bar": BAR | {"bar": kg(20)},
    }
    held = ask("session-review", request)
    assert (held.decision, held.next.load.value) == ("hold", 16)


def test_a_step_back_is_to_a_posture_that_can_be_held() -> None:
    """With so little on the bar the lifter would tip backwards: there are fewer sets instead, after red pain none."""
    request = {
        "lifter": {"body_mass": kg(80), "stature": {"value": 178, "unit": "cm"}},
        "prescription": {
            "exercise": "back_squat_low_bar",
            "sets": 4,
            "reps": {"low": 8, "high": 10},
            "load": kg(60),
            "technique": {"shin_angle": {"value": 10, "unit": "deg"}},
        },
        "region": "knee",
        "usual_pain": 1,
        "sessions": [{"pain_in_session": 2, "pain_next_morning": 1, "swelling": True}],
        "bar": BAR,
    }
    sore = ask("session-review", request | {"sessions": [SORE]})
    assert (sore.decision, sore.next) == ("step_back", None)
    answer = ask("session-review", request)
    assert answer.decision == "step_back"
    assert answer.changed == ["sets"]
    calm = {"pain_in_session": 1, "pain_next_morning": 1}
    again = ask("session-review", request | {"prescription": msgspec.to_builtins(answer.next), "sessions": [calm]})
    assert again.decision == "hold"


def test_a_load_in_pounds_is_answered_in_pounds() -> None:
    usual = FRONT_SQUAT | {"load": lb(135)}
    request = {"prescription": usual, "region": "knee", "usual_pain": 1, "sessions": [SPARE, SPARE]}
    found = ask("session-review", request)
    assert (found.next.load.value, found.next.load.unit) == (140, "lb")
    assert SI["lb"] < 1


def test_rules_are_in_the_order_refer_pause_step_back_hold_progress() -> None:
    order = [rule.decision for rule in RULES.values()]
    assert order == sorted(
        order, key=["refer", "pause_and_review", "step_back", "hold", "progress", "back_to_original"].index
    )
    assert all(set(rule.sources) <= SOURCES.keys() for rule in RULES.values())


def test_a_pair_of_dumbbells_goes_up_by_two_steps() -> None:
    """Both dumbbells are of one size: 2.5 kg each are 5 kg together (design choice: the usual step)."""
    answer = ask(
        "session-review",
        {
            "prescription": {
                "exercise": "bench_press_dumbbell",
                "sets": 3,
                "reps": {"low": 8, "high": 8},
                "load": {"value": 60, "unit": "kg"},
            },
            "region": "shoulder",
            "usual_pain": 0,
            "sessions": [{"pain_in_session": 1, "pain_next_morning": 0, "reps_done": [8, 8, 10]}] * 2,
        },
    )
    assert (answer.decision, answer.next.load.value) == ("progress", 65)
