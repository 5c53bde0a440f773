"""Two feet and what rests on them."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.errors import Refusal
from service.knowledge.catalogue import STANCES
from service.mechanics.weight_distribution import matching_load, on_lead, share_from_positions

shares = st.floats(0, 1)
some_share = st.floats(0.05, 1)
loads = st.floats(0, 400)
bodies = st.floats(30, 250)
spacings = st.floats(0.05, 2)


@given(shares, loads, bodies)
def test_shares_of_the_two_feet_sum_to_everything(share: float, load: float, body: float) -> None:
    lead, trail = on_lead(share, load, body)
    assert lead + trail == pytest.approx(load + body)
    assert lead >= 0
    assert trail >= -1e-9


@given(spacings, shares)
def test_share_falls_as_the_centre_of_mass_moves_back(spacing: float, place: float) -> None:
    share = share_from_positions(spacing, place * spacing)
    assert share == pytest.approx(1 - place)
    assert share + share_from_positions(spacing, (1 - place) * spacing) == pytest.approx(1)


def test_centre_of_mass_over_one_foot_puts_everything_on_it() -> None:
    assert share_from_positions(0.8, 0) == 1
    assert share_from_positions(0.8, 0.8) == 0
    assert share_from_positions(0.8, 0.4) == 0.5


@given(spacings, st.floats(0.05, 1), st.floats(0.01, 2))
def test_moments_about_the_trail_foot_balance(spacing: float, place: float, total: float) -> None:
    lead, _ = on_lead(share_from_positions(spacing, place * spacing), total)
    assert lead * spacing == pytest.approx(total * (spacing - place * spacing), abs=1e-9)


@given(some_share, some_share, loads, bodies)
def test_matching_load_puts_the_same_on_the_lead_foot(share: float, other: float, load: float, body: float) -> None:
    matched = matching_load(share, other, load, body)
    assert on_lead(share, matched, body)[0] == pytest.approx(on_lead(other, load, body)[0])
    assume(share != other)
    assert (matched < load) == (share > other) or matched == pytest.approx(load, abs=1e-6)


@given(some_share, loads, bodies)
def test_same_stance_is_matched_by_the_same_load(share: float, load: float, body: float) -> None:
    assert matching_load(share, share, load, body) == pytest.approx(load, abs=1e-9)


def test_matching_load_is_negative_where_the_body_alone_exceeds_it() -> None:
    assert matching_load(1.0, 0.5, 20, 80) < 0


@pytest.mark.parametrize("spacing", [0, -0.1])
def test_feet_on_one_spot_are_refused(spacing: float) -> None:
    with pytest.raises(Refusal) as caught:
        share_from_positions(spacing, 0)
    assert caught.value.faults[0].pointer == "/foot_spacing"


@pytest.mark.parametrize("behind", [-0.01, 0.81])
def test_stance_that_would_topple_is_refused(behind: float) -> None:
    with pytest.raises(Refusal, match="topple") as caught:
        share_from_positions(0.8, behind)
    assert caught.value.faults[0].allowed == "0 to 0.8 m"


def test_every_stance_but_the_kickstand_has_a_share_inside_its_span() -> None:
    assert {stance.id for stance in STANCES.values() if stance.value is None} == {"kickstand"}
    for stance in STANCES.values():
        if stance.value is not None:
            assert stance.low is not None
            assert stance.high is not None
            assert 0 <= stance.low <= stance.value <= stance.high <= 1
