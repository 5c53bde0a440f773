"""bar-loading: the nearest load that the bar can hold, and the plates for it."""

from __future__ import annotations

from typing import Final

from msgspec import UNSET, UnsetType

from service.api.models.base import RequestModel, ResponseModel, omitted
from service.api.models.common import Basis, cautions
from service.api.models.equipment import BarSetup, bar_of
from service.api.models.operation import Example, Operation
from service.errors import Refusal
from service.messages import Message, message
from service.training.plate_loading import Rounding
from service.units import Mass, mass, si


class BarLoading(RequestModel, kw_only=True, frozen=True):
    """Which load to put on the bar for a target.

    Attributes:
        target: The load wanted, bar included.
        bar: The bar and its plates. Left out: the usual ones of the target's unit.
        rounding: Which loadable load is chosen; of two equally near the lighter one.
    """

    target: Mass
    bar: BarSetup | UnsetType = UNSET
    rounding: Rounding = "nearest"


class SidePlates(ResponseModel, kw_only=True, frozen=True):
    """How many of a plate go on each side.

    Attributes:
        plate: Mass of the plate.
        count: How many on each side.
    """

    plate: Mass
    count: int


class BarLoadingAnswer(ResponseModel, kw_only=True, frozen=True):
    """The load in the bar's unit and what goes on the bar.

    Attributes:
        load: The load that is chosen, bar included.
        per_side: Plates of one side from the inside out; empty for the bar alone.
        difference: Load less target, in the bar's unit.
        below: The next lighter loadable load; null where there is none.
        above: The next heavier loadable load; null where there is none.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    load: Mass
    per_side: list[SidePlates]
    difference: float
    below: Mass | None
    above: Mass | None
    basis: Basis
    cautions: list[Message]


def bar_loading(request: BarLoading) -> BarLoadingAnswer:
    """The loading of the bar. Raises Refusal where nothing on the bar meets the target that way."""
    bar = bar_of(request.bar, request.target.unit)
    target = si(request.target)
    loading = bar.load(target, request.rounding)
    if loading is None:
        raise Refusal.one("target", "The bar and its plates hold no such load.", bar.span, one_of=(bar.empty,))
    in_target_unit = mass(si(Mass(loading.total / 1000, bar.unit)), request.target.unit).value
    return BarLoadingAnswer(
        load=Mass(loading.total / 1000, bar.unit),
        per_side=[SidePlates(plate=Mass(plate / 1000, bar.unit), count=count) for plate, count in loading.side],
        difference=round(in_target_unit - request.target.value, 6),
        below=bar.nearest(target, "down"),
        above=bar.nearest(target, "up"),
        basis=Basis(
            method=message("method_plates"),
            sources=["common_practice", "nist_sp811"],
            assumptions=[message("assumed_usual_bar")] if omitted(request.bar) else [],
            evidence="computed",
        ),
        cautions=cautions(),
    )


OPERATION: Final = Operation(
    name="bar-loading",
    tag="Loading the bar",
    summary="Nearest loadable weight and the plates per side",
    description="The load nearest to a target (or the next below or above it) that a bar can hold with pairs of plates, in the unit of the bar (kg or lb), "
    "and the plates of each side. Up to 12 kinds of plate with 1 to 10 pairs each, and up to 2500 of the unit on the bar; without `bar` the usual bar and plates of the target's unit.",
    request=BarLoading,
    answer=BarLoadingAnswer,
    compute=bar_loading,
    examples=(
        Example(
            "light-bar",
            "57.3 kg on a 15 kg bar",
            {
                "target": {"value": 57.3, "unit": "kg"},
                "bar": {"bar": {"value": 15, "unit": "kg"}},
                "rounding": "down",
            },
        ),
    ),
)
