"""What comes before any option: red flags, what a professional has to confirm, and the band of the pain."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.adjustment.clearance import Circumstances, to_confirm
from service.adjustment.text.stop import what_to_do
from service.adjustment.triage import Confirmation, Pain, Referral, band, referral, stop_before_planning
from service.knowledge.catalogue import SOURCES
from service.knowledge.confirmations import CONDITIONS, Condition
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS, URGENCIES

LEVELS = ("green", "amber", "red")
scores = st.floats(0, 10)


def test_no_sign_asks_for_no_referral() -> None:
    assert referral([]) is None


def test_all_signs_are_there() -> None:
    assert len(SIGNS) == 70
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
    signs = ["ottawa_age", "child_hip", "ottawa_flexion"]
    for age, order in (
        (None, signs),
        (16, ["child_hip", "ottawa_flexion", "ottawa_age"]),
        (60, ["ottawa_age", "ottawa_flexion", "child_hip"]),
        (30, ["ottawa_flexion", "ottawa_age", "child_hip"]),
    ):
        stop = referral(signs, age)
        assert stop is not None
        assert [sign.id for sign in stop.signs] == order
    urgent = referral(["child_hip", "bladder_change"], 16)
    assert urgent is not None
    assert urgent.signs[0].id == "bladder_change"


@pytest.mark.parametrize("confirmed", [False, True])
@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_outranks_what_is_to_be_confirmed(sign: str, *, confirmed: bool) -> None:
    everything = Circumstances(16, True, True, True, 9, confirmed)  # noqa: FBT003
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
    assert names(Circumstances(pain_at_rest=limit)) == []
    assert names(Circumstances(pain_at_rest=limit + 0.1)) == ["pain_at_rest"]
    words = f"above {limit:g} of 10"
    texts = (SIGNS["nrs_high_at_rest"].text, CONDITIONS["pain_at_rest"].text, CONDITIONS["pain_at_rest"].once_confirmed)
    assert all(words in text for text in texts)


@pytest.mark.parametrize(
    ("pain", "level"), [(0, "green"), (2, "green"), (2.1, "amber"), (5, "amber"), (5.1, "red"), (10, "red")]
)
def test_bands_end_where_the_pain_monitoring_model_puts_them(pain: float, level: str) -> None:
    # thomee_1997: up to 2, up to 5, above
    assert band(Pain(pain)) == level


@pytest.mark.parametrize(
    ("pain", "level"),
    [
        (Pain(1, 3, 1), "amber"),  # childs_2005: two points are a real change
        (Pain(1, 2.9, 1), "green"),
        (Pain(4, 3, 1), "red"),
        (Pain(9, 5, 1), "red"),
        (Pain(1, 5, 5), "green"),  # silbernagel_2007 (memory): above 5 is red, 5 itself is not
        (Pain(1, 5), "green"),
        (Pain(3, 5, 4), "amber"),
        (Pain(1, 5.1, 5.1), "red"),
        (Pain(1, 3), "green"),  # without the usual pain no rise can be told
        (Pain(1, 5.1), "red"),
    ],
)
def test_worse_morning_moves_the_band_up(pain: Pain, level: str) -> None:
    assert band(pain) == level


@given(scores, scores, scores, scores)
def test_more_pain_is_never_a_milder_band(one: float, other: float, morning: float, usual: float) -> None:
    less, more = sorted((one, other))
    for rest in ((None, None), (morning, None), (morning, usual)):
        assert LEVELS.index(band(Pain(less, *rest))) <= LEVELS.index(band(Pain(more, *rest)))
    assert LEVELS.index(band(Pain(less))) <= LEVELS.index(band(Pain(less, morning, usual)))


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
        (Circumstances(pain_at_rest=5), []),
        (Circumstances(pain_at_rest=5.1), ["pain_at_rest"]),
        (
            Circumstances(age=16, pregnant=True, osteoporosis=True, post_operative=True, pain_at_rest=9),
            ["pain_at_rest", "post_operative", "pregnancy", "osteoporosis", "under_age"],
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
