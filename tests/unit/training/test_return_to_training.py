"""The first weeks of training after weeks off."""

from __future__ import annotations

import pytest

from service.training.return_to_training import after_weeks_off, judged


def test_return_rises_to_the_normal_volume() -> None:
    shares = [week.volume_share for week in after_weeks_off(2)]
    assert shares == sorted(shares)
    assert shares[-1] == 1
    assert after_weeks_off(2) == after_weeks_off(30)


@pytest.mark.parametrize("weeks_off", [0, 1, 1.9])
def test_less_than_two_weeks_off_need_no_transition(weeks_off: float) -> None:
    assert after_weeks_off(weeks_off) == ()


@pytest.mark.parametrize(("volume", "judgement"), [(10.9, "low"), (11, "within"), (30, "within"), (30.1, "high")])
def test_span_of_relative_volume_includes_its_ends(volume: float, judgement: str) -> None:
    # caterisano_2019 (secondary): 11 to 30
    assert judged(volume) == judgement
