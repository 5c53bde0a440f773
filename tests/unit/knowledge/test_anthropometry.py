"""The figures of the body fit each other."""

from __future__ import annotations

from typing import Final

import pytest

from service.knowledge.anthropometry import BODY, LENGTH_SPREAD, MEASURED_LENGTHS, Sex

SEXES: Final[tuple[Sex, ...]] = ("female", "male")


def test_spread_of_a_length_is_a_fraction_of_that_length() -> None:
    assert len(MEASURED_LENGTHS) == 8
    assert LENGTH_SPREAD["male"].shank == pytest.approx(0.0083 / 0.2384)
    assert LENGTH_SPREAD["female"].trunk == pytest.approx(0.0142 / 0.3008)


@pytest.mark.parametrize("sex", SEXES)
def test_legs_and_what_is_above_the_lumbosacral_joint_leave_something_for_the_pelvis(sex: Sex) -> None:
    segments = BODY.female if sex == "female" else BODY.male
    legs = segments.thighs_mass.value + segments.shanks_mass.value + segments.feet_mass.value
    assert 0.1 < 1 - legs - segments.above_lumbosacral_mass.value < 0.2
    assert segments.above_lumbosacral_mass.value < BODY.spread.above_lumbosacral_mass_high.value


@pytest.mark.parametrize("sex", SEXES)
def test_measured_lengths_are_within_what_passes_for_usual(sex: Sex) -> None:
    usual = BODY.ranges.usual_length_ratio
    for row in MEASURED_LENGTHS:
        if row.sex == sex:
            expected = getattr(BODY.lengths, row.segment).value
            assert usual.low <= row.mean / expected <= usual.high, row.segment
