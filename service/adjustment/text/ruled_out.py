"""Why what was tried gave no option."""

from __future__ import annotations

from service.adjustment.consultation import RuledOut
from service.adjustment.text.prescription import prescription_value
from service.messages import Message, message
from service.units import MassUnit, duration, mass


def reason_message(ruled_out: RuledOut, unit: MassUnit) -> Message:
    """Why a trial gave no option; a load is said in the unit asked about."""
    values: dict[str, object] = dict(ruled_out.facts)
    if isinstance(load := values.get("load"), float):
        values["load"] = mass(load, unit)
    if isinstance(rest := values.get("rest"), float):
        values["rest"] = duration(rest, "s")
    return message(f"ruled_out_{ruled_out.reason}", **values)


def tried_message(ruled_out: RuledOut, unit: MassUnit) -> Message | None:
    """The prescription that was tried, None where it came to none."""
    tried = ruled_out.prescription
    return None if tried is None else message("tried", prescription=prescription_value(tried, unit))
