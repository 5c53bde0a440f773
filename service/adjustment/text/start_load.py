"""How much of the relief of another lift or implement is that of the light load with which it starts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Candidate, Case
from service.adjustment.demand import region_ratio
from service.adjustment.prescription import body_moved, total_load
from service.errors import Refusal
from service.messages import Message, message
from service.units import MassUnit, mass

_WORTH_SAYING: Final = 0.05
"""Of the load and of the demand [1]: where the start takes off less than this, it is the change that relieves."""


def start_load_relieves(one: Candidate, case: Case, unit: MassUnit) -> Iterator[Message]:
    """What a repetition would ask with the load that stands for the present one, where the option starts with less.

    Args:
        one: the option, of which a number is known for the sore region
        case: the consultation
        unit: of the loads
    """
    new = one.prescription
    equal = _standing_for_the_present(one, case)
    if equal is None or equal <= new.load * (1 + _WORTH_SAYING):
        return
    try:
        ratio = region_ratio(case.present, replace(new, load=equal), case.region)
        with_start = region_ratio(case.present, new, case.region)
    except Refusal:  # with so much the posture cannot be had: nothing is said of it
        return
    if ratio is not None and with_start is not None and ratio > with_start + _WORTH_SAYING:
        code = "start_load_relieves_alone" if round(ratio, 2) >= 1.0 else "start_load_relieves_in_part"
        yield message(code, load=mass(equal, unit), share=ratio)


def _standing_for_the_present(one: Candidate, case: Case) -> float | None:
    """The load of another lift or implement that stands for the present one [kg], None where nothing says so."""
    new, now, body = one.prescription, case.now, case.present.body.mass
    if (new.exercise, new.held) == (now.exercise, now.held) or new.hold is not None:
        return None
    if one.trial.intended is not None:
        return case.round_down(new.exercise, one.trial.intended, new.implement)
    if one.trial.strength is None or new.exercise == now.exercise:
        return None
    whole = one.trial.strength * total_load(now, body) - body_moved(new.exercise, body)
    return case.round_down(new.exercise, whole, new.implement)
