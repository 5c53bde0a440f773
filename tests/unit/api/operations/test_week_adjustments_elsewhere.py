"""What is said of a new week: what it costs elsewhere, what of it has still to be found, and which lifts lead."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from service.adjustment.text import week as text_of_week
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.uncertain import MEASURES
from service.adjustment.week.worked import raised
from service.api.models.lifter import DEMO_LIFTER
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.vocabulary import WEIGHTINGS, Region, Weighting
from tests.support.asking import Answered, ask
from tests.support.in_process import BY_NAME
from tests.support.weeks import lift

HINGES = {
    "lifter": DEMO_LIFTER,
    "week": [
        lift(1, "deadlift_conventional", 4, 4, 100),
        lift(3, "bench_press", 3, 8, 45),
        lift(5, "deadlift_sumo", 3, 5, 90),
    ],
    "complaint": {"region": "hip", "pain_in_session": 4},
    "aim": "strength",
    "constraints": {"levers": ["exercise", "equipment", "variation"]},
    "limit": 5,
}


def options() -> list[Answered]:
    return list(ask("week-adjustments", HINGES).options)


def said(option: Answered, code: str) -> list[dict[str, Any]]:
    return [one.values for one in option.why if one.code == code]


def test_every_other_region_that_is_asked_for_noticeably_more_is_named_with_its_figure() -> None:
    named = 0
    for option in options():
        more = {
            region: max(getattr(demand, weighting).value for weighting in WEIGHTINGS)
            for region, demand in option.demand.items()
            if region != "hip"
            and any(
                getattr(demand, weighting).value > CHOICES.adjustments.elsewhere_rise
                or getattr(demand, weighting).low > 1 + CHOICES.week.least_rise
                for weighting in WEIGHTINGS
            )
        }
        assert {one["region"]: one["share"] for one in said(option, "week_asks_more_of")} == more
        named += len(more)
    assert named


def test_a_rise_is_noticeable_where_it_is_sure_or_clear() -> None:
    rises: dict[Region, Interval] = {
        "knee": Interval(1.05, 1.0 + CHOICES.week.least_rise + 0.01, 1.07),
        "hip": Interval(1.05, 1.0, 1.1),
        "ankle": Interval(CHOICES.adjustments.elsewhere_rise + 0.01, 0.8, 1.5),
        "low_back": Interval(1.5, 1.4, 1.6),
    }
    demand = {region: {one: Interval(0.9, 0.8, 1.0) for one in MEASURES} for region in rises}
    for region, rise in rises.items():
        demand[region]["squared"] = rise
    assert raised("low_back", demand) == {"knee": "squared", "ankle": "squared"}


def test_muscles_that_lose_a_noticeable_part_of_their_sets_are_named_with_both_numbers_once() -> None:
    named = 0
    for option in options():
        short = {one["muscle"] for one in said(option, "week_stays_short")}
        fewer = {
            muscle: (round(one.before, 1), round(one.after, 1))
            for muscle, one in option.muscles.items()
            if muscle not in short and one.before - one.after >= CHOICES.week.fewer_sets_said * one.before
        }
        lists = [one["muscles"] for one in said(option, "week_fewer_sets")]
        sets = {one["values"]["muscle"]: one["values"] for these in lists for one in these}
        assert {muscle: (one["before"], one["after"]) for muscle, one in sets.items()} == fewer
        named += len(fewer)
    assert named


def test_sets_of_a_lift_whose_load_is_not_known_are_said_to_count_only_once_it_is_found() -> None:
    named = 0
    for option in options():
        new = {one.words for one in option.changes if "with at least 3 left" in one.words}
        found = [exercise for one in said(option, "week_load_to_be_found") for exercise in one["exercises"]]
        assert bool(found) == bool(new)
        named += len(found)
    assert named


def test_sets_far_from_failure_that_keep_much_of_the_effect_are_said_to_count_for_no_muscle() -> None:
    asked = copy.deepcopy(BY_NAME["week-adjustments"].examples[0].request)
    asked |= {"complaint": {"region": "hip", "pain_in_session": 3}, "aim": "strength"}
    for entry, reserve in zip(asked["week"], (1, 1, 1, 2, 5), strict=True):
        entry["prescription"]["reps_in_reserve"] = reserve
    named = 0
    for option in ask("week-adjustments", asked).options:
        kept = [one for code in ("week_keeps", "week_keeps_on_days") for one in said(option, code)]
        easy = set()
        for change in option.changes:
            lifts = [option.week[entry].prescription for entry in change.entries]
            easy |= {one.exercise for one in lifts if one.reps_in_reserve and one.reps_in_reserve > 4}
        found = {exercise for one in said(option, "week_keeps_uncounted") for exercise in one["exercises"]}
        assert found == easy & {one["exercise"] for one in kept}
        named += len(found)
    assert named


def test_what_is_added_is_said_with_a_load_that_test_sets_find() -> None:
    week = [lift(1, "romanian_deadlift", 5, 8, 70), lift(3, "bench_press", 3, 8, 45)]
    sore = HINGES | {"week": week, "complaint": {"region": "low_back", "pain_in_session": 4}, "aim": "muscle_size"}
    found = ask("week-adjustments", sore | {"constraints": {}}).options
    added = [change for option in found for change in option.changes if change.kind == "added"]
    assert added
    assert all(" with a load found by test sets from " in change.words for change in added)


def test_a_lift_that_leads_by_the_squared_sum_alone_is_named_as_the_one_in_between(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def leader(_: WeekCase, weighting: Weighting) -> str:
        return "deadlift_sumo" if weighting == "squared" else "deadlift_conventional"

    monkeypatch.setattr(text_of_week, "_leader", leader)
    [led] = [one for one in ask("week-adjustments", HINGES).why if one.code.startswith("week_led_by")]
    assert led.code == "week_led_by_between"
    assert (led.values["exercise"], led.values["between"]) == ("deadlift_conventional", "deadlift_sumo")


def test_a_referral_names_the_signs_it_is_for() -> None:
    sore = {"region": "low_back", "pain_in_session": 4, "signs": ["saddle_numbness"]}
    answer = ask("week-adjustments", HINGES | {"complaint": sore})
    assert answer.decision == "refer"
    assert answer.why == [answer.referral.signs[0].message, answer.referral.what_to_do]


def test_that_tempo_is_in_the_ratio_of_a_changed_lift_is_said() -> None:
    codes = [one.code for one in ask("week-adjustments", HINGES).basis.assumptions]
    assert "assumed_week_against_now" in codes
    assert "assumed_week_at_rest" not in codes
