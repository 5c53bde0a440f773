"""A prescription and what it asks of the joints."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.prescription import JOINTS, Prescription, demand, ratios
from service.mechanics.body import build_body
from service.training.volume import Reps

BODY = build_body(70.0, 1.72, "female")
PRESENT = Prescription("back_squat_high_bar", 4, Reps(5, 8), 60.0, 2.0, 3)


def test_sets_and_repetitions_add_up() -> None:
    assert PRESENT.reps_a_session == 26
    assert PRESENT.weekly_sets == 12
    assert replace(PRESENT, days=None).weekly_sets == 4


def test_prescription_against_itself_asks_the_same_of_every_region() -> None:
    swept = demand(BODY, PRESENT)
    found = ratios(swept, swept)
    assert set(found) == set(JOINTS)
    for ratio in found.values():
        assert (ratio.low, ratio.value, ratio.high) == pytest.approx((1, 1, 1))


@settings(max_examples=25)
@given(st.floats(20, 90), st.floats(2, 40))
def test_lighter_load_asks_less_of_back_and_hip_and_knee(load: float, less: float) -> None:
    heavy = replace(PRESENT, load=load + less)
    found = ratios(demand(BODY, replace(PRESENT, load=load)), demand(BODY, heavy))
    for region in ("low_back", "hip", "knee"):
        assert found[region].low <= found[region].value <= found[region].high
        assert found[region].value < 1
