"""What loads are put together from: a bar with plates, or dumbbells, machines and belts in steps."""

from __future__ import annotations

from math import floor
from typing import Annotated, Final

import msgspec
from msgspec import UNSET, Meta, UnsetType
from msgspec.structs import replace

from service.api.models.base import RequestModel, or_default
from service.api.models.common import whole
from service.errors import Refusal
from service.knowledge.catalogue import BARS
from service.training.plate_loading import (
    HEAVIEST,
    MASS_TOLERANCE,
    Loading,
    Plates,
    Rounding,
    heaviest_total,
    loadable,
    loadable_total,
)
from service.units import SI, Mass, MassUnit, mass, si

HEAVIEST_PLATE: Final = 100_000  # thousandths of the unit


class PlateKind(RequestModel, kw_only=True, frozen=True):
    """One kind of plate and how many pairs of it there are.

    Attributes:
        plate: Mass of one plate, in any unit.
        pairs: Pairs of it, one plate for each side.
    """

    plate: Mass
    pairs: Annotated[float, whole(1, 10)] = 4


class BarSetup(RequestModel, kw_only=True, frozen=True):
    """A bar and its plates.

    Attributes:
        bar: Mass of the bar; answers are loadable in its unit.
        plates: The plates that are there. Left out: the usual set of the bar's unit.
        collars: Both collars together. Left out: nothing.
    """

    bar: Mass
    plates: Annotated[list[PlateKind], Meta(min_length=1, max_length=12)] | UnsetType = UNSET
    collars: Mass | UnsetType = UNSET


class Bar(msgspec.Struct, frozen=True):
    """A bar ready for computing.

    Attributes:
        plates: the bar and its plates [thousandths of the unit]
        unit: in which the plates are marked
    """

    plates: Plates
    unit: MassUnit

    @property
    def span(self) -> str:
        """The lightest and the heaviest load that it holds, in words."""
        return f"{self.plates.bar / 1000:g} to {heaviest_total(self.plates) / 1000:g} {self.unit}"

    @property
    def empty(self) -> Mass:
        """The bar without plates."""
        return Mass(self.plates.bar / 1000, self.unit)

    def no_heavier_than(self, load: float) -> Bar:
        """The bar, or a lighter one with its plates where it is heavier than a load in [kg]."""
        lightest = floor(load / SI[self.unit] * 1000 + MASS_TOLERANCE)
        return self if lightest >= self.plates.bar else replace(self, plates=replace(self.plates, bar=lightest))

    def nearest(self, load: float, rounding: Rounding) -> Mass | None:
        """The loadable load for a load in [kg], in the bar's unit."""
        total = loadable_total(self.plates, load / SI[self.unit] * 1000, rounding)
        return None if total is None else Mass(total / 1000, self.unit)

    def load(self, load: float, rounding: Rounding) -> Loading | None:
        """The loading of the bar for a load in [kg]."""
        return loadable(self.plates, load / SI[self.unit] * 1000, rounding)


def _thousandths(quantity: Mass, unit: MassUnit) -> int:
    return round((quantity.value if quantity.unit == unit else si(quantity) / SI[unit]) * 1000)


def bar_of(setup: BarSetup | UnsetType | None, unit: MassUnit, pointer: str = "/bar") -> Bar:
    """The bar of a request, or the usual bar and plates of the unit where it names none.

    Raises Refusal for a bar too heavy, a plate of no mass or the same plate listed twice.
    """
    if setup is None or isinstance(setup, UnsetType):
        usual = BARS[unit]
        return Bar(Plates(round(usual.bar * 1000), usual.kinds), unit)
    unit = setup.bar.unit
    bar = _thousandths(setup.bar, unit) + _thousandths(or_default(setup.collars, Mass(0.0, unit)), unit)
    if bar > HEAVIEST:
        raise Refusal.one(
            f"{pointer.lstrip('/')}/collars",
            "The bar with its collars is too heavy.",
            f"up to {HEAVIEST / 1000:g} {unit}",
        )
    if isinstance(setup.plates, UnsetType):
        return Bar(Plates(bar, BARS[unit].kinds), unit)
    kinds: dict[int, int] = {}
    for index, kind in enumerate(setup.plates):
        plate = _thousandths(kind.plate, unit)
        where = f"{pointer.lstrip('/')}/plates/{index}/plate"
        if plate <= 0 or plate > HEAVIEST_PLATE:
            raise Refusal.one(where, "A plate must have a mass that fits on a bar.", f"more than 0, up to 100 {unit}")
        if plate in kinds:
            raise Refusal.one(where, "This plate is listed already; give its pairs there.", "each plate once")
        kinds[plate] = int(kind.pairs)
    return Bar(Plates(bar, tuple(sorted(kinds.items()))), unit)


def loaded(bar: BarSetup | UnsetType, load: float, unit: MassUnit) -> Mass | None:
    """The heaviest loadable load not above a load in [kg], shown in `unit`; None if the bar alone is heavier."""
    held = bar_of(bar, unit)
    loadable = held.nearest(load, "down")
    return loadable if loadable is None or loadable.unit == unit else mass(si(loadable), unit)
