"""A prescription in SI as answers show it, in the shape that requests have."""

from __future__ import annotations

from service.adjustment import prescription as domain
from service.api.models.common import as_rep_range
from service.api.models.prescription import Prescription
from service.api.models.shown_setup import shown_depth, shown_technique
from service.units import MassUnit, duration, mass


def shown(new: domain.Prescription, unit: MassUnit) -> Prescription:
    """A prescription in the unit asked about."""
    return Prescription(
        exercise=new.exercise,
        sets=new.sets,
        reps=as_rep_range(new.reps),
        load=mass(max(new.load, 0.0), unit),
        implement=new.implement,
        assistance=mass(-new.load, unit) if new.load < 0 else None,
        reps_in_reserve=None if new.reserve is None else round(new.reserve, 1),
        tempo=new.tempo,
        hold=None if new.hold is None else duration(new.hold, "s"),
        rest=None if new.rest is None else duration(new.rest, "s"),
        days_per_week=new.days,
        depth=shown_depth(new.depth),
        technique=shown_technique(new.technique, new.depth),
        cues=list(new.cues) or None,
        side=new.side,
    )
