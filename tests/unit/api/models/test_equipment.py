"""What can be put together with a bar and its plates."""

from __future__ import annotations

import pytest

from service.api.models.equipment import BarSetup, PlateKind, bar_of, loaded
from service.errors import Refusal
from service.units import Mass

BAR = BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(2.5, "kg"), pairs=2)])


def test_the_bar_keeps_its_unit_and_the_answer_that_of_the_request() -> None:
    shown = loaded(BAR, 20.0, "lb")
    assert shown is not None
    assert shown.unit == "lb"
    assert shown.value == pytest.approx(20.0 / 0.45359237, rel=1e-5)
    assert loaded(BAR, 10.0, "kg") is None


@pytest.mark.parametrize(
    ("setup", "pointer"),
    [
        (BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(0.0, "kg"))]), "/bar/plates/0/plate"),
        (BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(5.0, "kg"))] * 2), "/bar/plates/1/plate"),
        (BarSetup(bar=Mass(15.0, "kg"), collars=Mass(9000.0, "kg")), "/bar/collars"),
    ],
)
def test_a_bar_that_cannot_be_is_refused(setup: BarSetup, pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        bar_of(setup, "kg")
    assert refused.value.faults[0].pointer == pointer
