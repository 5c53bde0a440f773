"""The bar that is taken where a request states none: said among what was assumed, and where it decides the answer."""

from __future__ import annotations

from collections.abc import Iterable

from service.api.models.gym import GymLoads, Lifted, is_on_bar
from service.api.models.prescription import Prescription
from service.messages import Message, message
from service.units import Mass


def assumed_bar(loads: GymLoads, lifts: Iterable[Lifted | None]) -> list[Message]:
    """That a bar was taken, and which; nothing where one is stated, and where nothing is lifted with one.

    Args:
        loads: what can be loaded
        lifts: what is lifted now and what is offered, None for what there is not
    """
    if not _is_assumed(loads, lifts):
        return []
    bar = loads.bar
    smallest = min(plate for plate, _ in bar.plates.kinds) / 1000
    return [message("assumed_bar_not_stated", bar=bar.empty, plate=Mass(smallest, bar.unit))]


def lighter_bar(loads: GymLoads, lift: Prescription) -> list[Message]:
    """That a lighter bar may allow less of a lift that is left out; nothing where one is stated, or none is lifted."""
    lifted = lift.load.value > 0 and _is_assumed(loads, [lift])
    return [message("lighter_bar_may_do", bar=loads.bar.empty)] if lifted else []


def _is_assumed(loads: GymLoads, lifts: Iterable[Lifted | None]) -> bool:
    return loads.bar_assumed and any(one is not None and is_on_bar(one) for one in lifts)
