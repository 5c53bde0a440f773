"""A complaint as it is told: which rules hold, which signs are asked first, and how the order of options follows."""

from __future__ import annotations

from typing import Any, Final, get_args

import pytest
from msgspec.structs import replace

from service.adjustment.complaint import Complaint, is_one_sided
from service.adjustment.options.ranking import preference, rank_group, ranked
from service.adjustment.options.search import candidates
from service.adjustment.options.selection import select
from service.knowledge.catalogue import EXERCISES
from service.knowledge.complaint_rules import COMPLAINT_RULES
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES
from service.vocabulary import REGIONS, PainfulRange, Provocation, Region
from tests.unit.adjustment.options.test_search import SQUAT, case, options

TOLD: Final[dict[str, dict[str, Any]]] = {
    "at_the_bottom": {"painful_range": "bottom"},
    "at_the_top": {"painful_range": "top"},
    "all_the_way": {"painful_range": "middle"},
    "with_load": {"provoked_by": ("load",)},
    "with_volume": {"provoked_by": ("volume",)},
    "with_range": {"provoked_by": ("range",)},
    "with_speed": {"provoked_by": ("speed",)},
    "on_one_side": {"side": "left"},
    "suddenly": {"onset": "sudden"},
    "for_weeks": {"weeks": 6.0},
    "elsewhere_too": {"also": ("hip",)},
}


def rules(exercise: str = "back_squat_high_bar", region: Region = "knee", **told: Any) -> list[str]:  # noqa: ANN401 - any field
    return [rule.id for rule in Complaint(region, **told).rules(exercise)]


# --- which rules hold -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rule", TOLD)
def test_each_field_has_its_rule_and_nothing_else_brings_it(rule: str) -> None:
    assert rules(**TOLD[rule]) == [rule]
    others = {name: value for one in TOLD.values() for name, value in one.items() if name not in TOLD[rule]}
    assert rule not in rules(**others)


def test_every_word_but_the_gradual_and_the_two_sided_has_a_rule_with_its_sources() -> None:
    words = {word for rule in COMPLAINT_RULES.values() for word in rule.when}
    assert words == {*get_args(PainfulRange), *get_args(Provocation), "left", "right", "sudden"}
    assert all(rule.sources and rule.known for rule in COMPLAINT_RULES.values())
    assert rules(onset="gradual", side="both") == rules() == []


def test_a_swing_is_not_made_slow_but_given_up() -> None:
    assert rules("kettlebell_swing", "low_back", provoked_by=("speed",)) == ["with_the_speed_of_a_swing"]
    swing = case(present=replace(SQUAT, exercise="kettlebell_swing", load=24.0, technique=None))
    assert not [
        one for one in options(swing) if "tempo" in one.levers and one.prescription.exercise == "kettlebell_swing"
    ]


def test_the_spine_has_no_side() -> None:
    assert Complaint("low_back", side="left").sore_side is None
    assert rules("back_squat_high_bar", "low_back", side="left") == []
    assert Complaint("knee", side="left").sore_side == "left"
    assert Complaint("knee", side="both").sore_side is None


def test_weeks_count_from_the_configured_number_on() -> None:
    assert rules(weeks=CHOICES.complaint.weeks - 0.1) == []
    assert rules(weeks=CHOICES.complaint.weeks) == ["for_weeks"]
    assert CHOICES.review.no_improvement.weeks <= CHOICES.complaint.weeks  # a review, which knows more, looks sooner


# --- which signs are asked first --------------------------------------------------------------------------------------


@pytest.mark.parametrize("region", REGIONS)
def test_what_came_on_suddenly_has_signs_to_ask_everywhere_the_most_urgent_first(region: Region) -> None:
    signs = [SIGNS[sign] for sign in Complaint(region, onset="sudden").signs_to_ask()]
    assert [sign for sign in signs if region in sign.regions]
    assert all(sign.concerns(region) for sign in signs)
    ranks = [URGENCIES[sign.urgency].rank for sign in signs]
    assert ranks == sorted(ranks)
    assert Complaint(region, onset="gradual").signs_to_ask() == Complaint(region).signs_to_ask() == ()


def test_a_further_region_has_its_signs_asked_as_well() -> None:
    both = Complaint("knee", ("neck",), onset="sudden").signs_to_ask()
    assert {"ottawa_weight", "trauma_neck", "arterial_event"} <= set(both)


# --- how the order follows --------------------------------------------------------------------------------------------


def order(**told: Any) -> list[Any]:  # noqa: ANN401 - any field
    complaint = Complaint("knee", **told)
    asked = case(region="knee", rules=complaint.rules(SQUAT.exercise), also=complaint.also)
    return ranked([one for one in candidates(asked) if not hasattr(one, "reason")], asked)


def place(found: list[Any], *levers: str) -> int:
    """Position of the first option of the same lift that changes one of some levers."""
    return next(
        number
        for number, one in enumerate(found)
        if set(levers) & set(one.levers) and one.prescription.exercise == SQUAT.exercise
    )


def test_pain_at_the_bottom_brings_range_and_tempo_forward_and_pain_at_the_top_puts_them_off() -> None:
    bottom, usual, top = order(painful_range="bottom"), order(), order(painful_range="top")
    assert {"range_of_motion", "tempo"} & set(bottom[0].levers)
    range_of_motion = [place(found, "range_of_motion") for found in (bottom, usual, top)]
    assert range_of_motion[0] <= range_of_motion[1] <= range_of_motion[2]
    assert range_of_motion[0] < range_of_motion[2]
    assert top[0].prescription.load < SQUAT.load
    assert not {"range_of_motion", "tempo"} & set(top[0].levers)


def test_pain_in_the_middle_puts_a_cut_range_off() -> None:
    assert place(order(painful_range="middle"), "range_of_motion") >= place(order(), "range_of_motion")
    assert "range_of_motion" not in order(painful_range="whole")[0].levers


def test_pain_with_the_amount_brings_smaller_sessions_first() -> None:
    first = order(provoked_by=("volume",))[0]
    assert {"sets", "days"} & set(first.levers)
    assert first.exposure <= 0.9
    assert order()[0].meets_by == "peak"


def test_pain_with_load_speaks_for_less_of_it_and_for_other_lifts() -> None:
    asked = case(region="knee", rules=Complaint("knee", provoked_by=("load",)).rules(SQUAT.exercise))
    found = {one.levers[0]: preference(one, asked) for one in options(asked) if len(one.levers) == 1}
    assert (found["load"], found["equipment"], found["exercise"]) == (1, 0.5, 0.5)
    assert (found["sets"], found["range_of_motion"]) == (0, 0)
    assert place(order(provoked_by=("load",)), "load") <= place(order(), "load")


def test_pain_with_range_or_speed_brings_its_lever_forward() -> None:
    assert "range_of_motion" in order(provoked_by=("range",))[0].levers
    assert "tempo" in order(provoked_by=("speed",))[0].levers


def test_a_sudden_onset_keeps_the_lift_that_is_known() -> None:
    assert order(onset="sudden")[0].prescription.exercise == SQUAT.exercise
    asked = case(region="knee", rules=Complaint("knee", onset="sudden").rules(SQUAT.exercise))
    assert {preference(one, asked) for one in options(asked) if one.prescription.exercise != SQUAT.exercise} == {-1}
    peaks = [one.candidate for one in select(asked, 20).outcomes if one.candidate.meets_by == "peak"]
    groups = [rank_group(one, asked) for one in peaks]
    known = [one.prescription.exercise == SQUAT.exercise for one in peaks if rank_group(one, asked) == groups[0]]
    assert known == sorted(known, reverse=True)
    assert set(known) == {True, False}


@pytest.mark.parametrize("rule", [*TOLD, "with_load"])
def test_no_rule_goes_over_what_comes_before_every_merit(rule: str) -> None:
    complaint = Complaint("knee", **TOLD[rule])
    asked = case(region="knee", rules=complaint.rules(SQUAT.exercise), also=complaint.also)
    groups = [rank_group(one, asked) for one in ranked(options(asked), asked)]
    assert groups == sorted(groups)
    if rule != "with_volume":
        usual = case(region="knee")
        assert groups == sorted(rank_group(one, usual) for one in ranked(options(asked), asked))


def test_what_one_rule_speaks_against_no_other_brings_forward() -> None:
    complaint = Complaint("knee", ("low_back",), painful_range="top", provoked_by=("range", "load"))
    asked = case(region="knee", rules=complaint.rules(SQUAT.exercise), also=complaint.also)
    cut = [preference(one, asked) for one in options(asked) if "range_of_motion" in one.levers]
    assert set(cut) == {-1}


def test_less_range_of_another_lift_is_not_brought_forward() -> None:
    rule = COMPLAINT_RULES["at_the_bottom"]
    assert rule.weighs(("range_of_motion", "load")) == 1
    assert rule.weighs(("equipment", "range_of_motion")) == 0
    assert COMPLAINT_RULES["at_the_top"].weighs(("equipment", "load")) == 0.5
    assert COMPLAINT_RULES["at_the_top"].weighs(("range_of_motion",)) == -1


def test_lifts_done_one_side_at_a_time() -> None:
    found = {exercise for exercise in EXERCISES if is_one_sided(exercise)}
    assert {"split_squat", "lunge", "step_up", "single_leg_squat", "dumbbell_row", "one_arm_cable_row"} <= found
    assert not {"back_squat_high_bar", "bench_press_dumbbell", "leg_press"} & found
