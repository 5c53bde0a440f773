"""What comes before any option: red flags, what a professional has to confirm, and what the pain allows."""

from __future__ import annotations

from itertools import product
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.adjustment.clearance import Circumstances, to_confirm
from service.adjustment.text.pause import URGENCY, pause_rule, professional_first
from service.adjustment.text.stop import what_to_do
from service.adjustment.triage import Confirmation, Pain, Referral, first_step, judged, referral, stop_before_planning
from service.knowledge.catalogue import SOURCES
from service.knowledge.confirmations import CONDITIONS, Condition
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES
from service.vocabulary import TIERS, PauseRule, Tier

scores = st.floats(0, 10)


def test_no_sign_asks_for_no_referral() -> None:
    assert referral([]) is None


def test_all_signs_are_there() -> None:
    assert len(SIGNS) == 74
    assert sorted(urgency.rank for urgency in URGENCIES.values()) == [1, 2, 3, 4]


@given(st.lists(st.sampled_from(sorted(SIGNS)), min_size=1, max_size=8))
def test_most_urgent_sign_decides_and_every_sign_is_told_once(signs: list[str]) -> None:
    found = referral(signs)
    assert found is not None
    assert found.urgency.rank == min(URGENCIES[SIGNS[sign].urgency].rank for sign in signs)
    assert {sign.id for sign in found.signs} == set(signs)
    assert len(found.signs) == len(set(signs))
    ranks = [URGENCIES[sign.urgency].rank for sign in found.signs]
    assert ranks == sorted(ranks)


def test_of_equally_urgent_signs_those_of_the_lifters_age_come_first_and_none_is_left_out() -> None:
    signs = ["first_colic_over_55", "child_hip", "testicular_pain_sudden"]
    for age, order in (
        (None, signs),
        (16, ["child_hip", "testicular_pain_sudden", "first_colic_over_55"]),
        (60, ["first_colic_over_55", "testicular_pain_sudden", "child_hip"]),
        (30, ["testicular_pain_sudden", "first_colic_over_55", "child_hip"]),
    ):
        stop = referral(signs, age)
        assert stop is not None
        assert [sign.id for sign in stop.signs] == order
    urgent = referral(["young_extension_pain", "bladder_change"], 16)
    assert urgent is not None
    assert urgent.signs[0].id == "bladder_change"


@pytest.mark.parametrize("confirmed", [False, True])
@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_outranks_what_is_to_be_confirmed(sign: str, *, confirmed: bool) -> None:
    everything = Circumstances(16, True, True, True, confirmed)  # noqa: FBT003
    stop = stop_before_planning([sign], everything)
    assert isinstance(stop, Referral)
    assert [one.id for one in stop.signs] == [sign]


def test_what_nobody_has_confirmed_stops_without_a_referral_and_what_was_confirmed_does_not() -> None:
    stop = stop_before_planning([], Circumstances(age=16))
    assert isinstance(stop, Confirmation)
    assert [one.text for one in what_to_do(stop)] == [CONDITIONS["under_age"].what_to_do]
    assert stop_before_planning([], Circumstances(age=16, confirmed=True)) is None
    assert stop_before_planning([], Circumstances()) is None


def test_the_limit_of_pain_at_rest_is_one_number() -> None:
    limit = CHOICES.adjustments.at_rest_up_to
    assert judged(Pain(0, at_rest=limit)).tier == "amber"
    found = judged(Pain(0, at_rest=limit + 0.1))
    assert (found.tier, found.rule) == ("pause", "pain_at_rest")
    words = f"above {limit:g}"
    said = pause_rule(found, "knee").text, SIGNS["nrs_high_at_rest"].text.lower()
    assert all(words in text for text in said)


def test_a_pause_for_pain_at_rest_asks_for_a_professional_as_soon_as_its_sign_does() -> None:
    assert SIGNS["nrs_high_at_rest"].urgency == URGENCY
    assert professional_first(judged(Pain(0, at_rest=6)))


@pytest.mark.parametrize(
    ("pain", "tier"),
    [
        (0, "green"),
        (2, "green"),
        (2.1, "amber"),
        (5, "amber"),
        (5.1, "red"),
        (7, "red"),  # our own choice
        (7.1, "pause"),
        (10, "pause"),
    ],
)
def test_tiers_end_where_the_pain_monitoring_model_puts_them_and_the_last_begins_above_7(
    pain: float, tier: str
) -> None:
    # thomee_1997: up to 2, up to 5, above
    assert judged(Pain(pain)).tier == tier
    assert judged(Pain(0, next_morning=pain)).tier == tier


@pytest.mark.parametrize(
    ("pain", "level"),
    [
        (Pain(1, 2, 0), "amber"),  # childs_2005: two points are a real change
        (Pain(1, 2, 0.1), "green"),
        (Pain(1, 3, 1), "amber"),  # and amber by its score: what it shows counts once
        (Pain(4, 3, 1), "red"),
        (Pain(6, 5, 1), "red"),  # a rise alone pauses nothing
        (Pain(9, 5, 1), "pause"),
        (Pain(1, 5, 5), "amber"),  # silbernagel_2007 (memory): above 5 is red, 5 itself is not
        (Pain(1, 5), "amber"),
        (Pain(3, 5, 4), "amber"),
        (Pain(1, 5.1, 5.1), "red"),
        (Pain(1, 2), "green"),  # without the usual pain no rise can be told
        (Pain(1, 3), "amber"),
        (Pain(1, 5.1), "red"),
    ],
)
def test_worse_morning_moves_the_tier_up(pain: Pain, level: str) -> None:
    assert judged(pain).tier == level


def test_pain_above_5_again_after_an_adjustment_pauses_whenever_it_was_felt() -> None:
    for pain in (Pain(5.1), Pain(0, 5.1), Pain(6, 0, 0)):
        assert judged(pain).tier == "red"
        again = judged(pain, after_adjustment=True)
        assert (again.tier, again.rule) == ("pause", "above_again")
    assert judged(Pain(5, 5, 1), after_adjustment=True).tier == "red"  # a rise, and nothing above 5
    assert judged(Pain(1), after_adjustment=True).tier == "green"


GRID = (0, 1, 2, 2.5, 3, 5, 5.5, 6, 7, 7.5, 8, 10)
STATED = (None, *GRID)


def next_after(score: float | None) -> tuple[float, ...]:
    """The next score of the grid, nothing after the last; after none stated the first."""
    return GRID[:1] if score is None else GRID[GRID.index(score) + 1 :][:1]


def strictness(tier: Tier) -> int:
    return TIERS.index(tier)


def expected(pain: Pain, *, after_adjustment: bool) -> tuple[str, str]:
    """The rules of the tiers once more, with their limits keyed in anew: the tier and the rule that decides."""
    scores = [score for score in (pain.in_session, pain.at_rest, pain.next_morning) if score is not None]
    highest = max(scores)
    if pain.at_rest is not None and pain.at_rest > 5:
        return "pause", "pain_at_rest"
    if highest > 5 and after_adjustment:
        return "pause", "above_again"
    if highest > 7:
        return "pause", "severe_pain"
    tier = "green" if highest <= 2 else "amber" if highest <= 5 else "red"
    if pain.next_morning is not None and pain.usual is not None and pain.next_morning - pain.usual >= 2:
        before = max(pain.in_session, pain.at_rest or 0)
        if before <= 2 and tier == "green":
            return "amber", "morning_rise"
        if before > 2 and tier == "amber":
            return "red", "morning_rise"
    return tier, "highest_score"


@pytest.mark.parametrize("after_adjustment", [False, True])
def test_every_combination_of_scores_is_of_exactly_one_tier_by_one_rule_and_score(*, after_adjustment: bool) -> None:
    for session, morning, usual, rest in product(GRID, STATED, (None, 0, 1, 3, 5), STATED):
        pain = Pain(session, morning, usual, rest)
        found = judged(pain, after_adjustment=after_adjustment)
        assert (found.tier, found.rule) == expected(pain, after_adjustment=after_adjustment), pain
        scores = {"in_session": session, "at_rest": rest, "next_morning": morning}
        assert scores[found.moment] == found.pain
        assert (found.tier == "pause") == (found.pause_rule is not None) == (found.rule in get_args(PauseRule))


@pytest.mark.parametrize("after_adjustment", [False, True])
def test_more_pain_never_allows_more_over_the_whole_grid(*, after_adjustment: bool) -> None:
    """Each score raised by one place of the grid, or stated at all, with the others as they are."""
    tiers = {
        scores: strictness(judged(Pain(*scores), after_adjustment=after_adjustment).tier)
        for scores in product(GRID, STATED, (None, 0, 1, 3, 5), STATED)
    }
    for (session, morning, usual, rest), tier in tiers.items():
        assert all(tiers[more, morning, usual, rest] >= tier for more in next_after(session))
        assert all(tiers[session, more, usual, rest] >= tier for more in next_after(morning))
        assert all(tiers[session, morning, usual, more] >= tier for more in next_after(rest))
        if not after_adjustment:
            again = judged(Pain(session, morning, usual, rest), after_adjustment=True).tier
            assert strictness(again) >= tier


@given(scores, scores, scores, scores)
def test_more_pain_never_allows_more(one: float, other: float, morning: float, usual: float) -> None:
    less, more = sorted((one, other))
    for rest in ((None, None), (morning, None), (morning, usual)):
        assert strictness(judged(Pain(less, *rest)).tier) <= strictness(judged(Pain(more, *rest)).tier)
    assert strictness(judged(Pain(less)).tier) <= strictness(judged(Pain(less, morning, usual)).tier)


def test_a_first_step_is_never_smaller_for_more_pain() -> None:
    steps = [first_step(tier) for tier in TIERS]
    assert steps == sorted(steps, reverse=True)


def names(circumstances: Circumstances) -> list[str]:
    return [one.id for one in to_confirm(circumstances)]


def test_nothing_stated_needs_no_confirmation() -> None:
    assert names(Circumstances()) == []


@pytest.mark.parametrize(
    ("circumstances", "found"),
    [  # our own rule
        (Circumstances(age=17), ["under_age"]),
        (Circumstances(age=18), []),
        (Circumstances(pregnant=True), ["pregnancy"]),
        (Circumstances(post_operative=True), ["post_operative"]),
        (Circumstances(osteoporosis=True), ["osteoporosis"]),
        (Circumstances(age=80), []),  # age alone asks for nothing (acsm_guidelines)
        (
            Circumstances(age=16, pregnant=True, osteoporosis=True, post_operative=True),
            ["post_operative", "pregnancy", "osteoporosis", "under_age"],
        ),
    ],
)
def test_what_needs_a_professional_first(circumstances: Circumstances, found: list[str]) -> None:
    assert names(circumstances) == found


@pytest.mark.parametrize("condition", CONDITIONS.values(), ids=lambda condition: str(condition.id))
def test_every_condition_says_what_to_do_before_and_after_with_its_sources(condition: Condition) -> None:
    assert condition.what_to_do.endswith(".")
    assert condition.once_confirmed.endswith(".")
    assert set(condition.sources) <= set(SOURCES)
