"""What prescriptions ask of the sore region by the service's own numbers, computed apart from what its answers say."""

from __future__ import annotations

from math import isclose

import msgspec
from msgspec.structs import replace

from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription, total_load
from service.adjustment.present import Present, present_demand
from service.api.models.lifter import Lifter, body_of
from service.api.models.prescription import Prescription as Shown
from service.api.models.prescription import lifters_prescription
from service.errors import Refusal
from service.vocabulary import Region
from tests.science.episodes.consultations import Case
from tests.science.episodes.prescribed import Json


class Demand(msgspec.Struct, frozen=True):
    """Against the original; None where neither a number nor a common scale is known.

    Attributes:
        peak: of a repetition [1]
        session: summed over the repetitions of a session [1]
    """

    peak: float | None
    session: float | None


class Scale:
    """The sore region of a consultation, against which prescriptions are held."""

    def __init__(self, case: Case) -> None:
        """Take the lifter, the region and the original from what adjustments was asked."""
        request = case.request
        self.lifter = msgspec.convert(request["lifter"], Lifter)
        self.region: Region = request["complaint"]["region"]
        self.original = self.read(request["prescription"])
        self.present: Present = present_demand(body_of(self.lifter), self.original)

    def read(self, prescription: Json) -> Prescription:
        """A prescription as the domain has it."""
        return lifters_prescription(msgspec.convert(prescription, Shown), self.lifter)

    def of(self, prescription: Json) -> Demand:
        """What a prescription asks: by the service's number, or else by what is lifted in the same lift."""
        new = self.read(prescription)
        peak = self._peak(new)
        if peak is None or new.hold is not None or self.original.hold is not None:
            return Demand(peak, None)
        return Demand(peak, peak * new.reps_a_session / self.original.reps_a_session)

    def _peak(self, new: Prescription) -> float | None:
        new = replace(new, cues=self.original.cues)  # what a cue takes off has no number
        try:
            ratio = region_ratio(self.present, new, self.region)
        except Refusal:
            return None
        if ratio is not None or new.exercise != self.original.exercise:
            return ratio
        mass = self.present.body.mass
        known = total_load(self.original, mass)
        return total_load(new, mass) / known if known else None


PROTECTS = {
    "depth": "range_of_motion",
    "technique": "technique",
    "cues": "cues",
    "tempo": "tempo",
    "hold": "hold",
    "rest": "rest",
    "assistance": "assistance",
}
DOSE = {"load": "load", "sets": "sets", "reps": "reps", "days_per_week": "days"}
LIFT = frozenset({"variation", "equipment", "exercise", "range_of_motion", "technique"})
"""Names that another exercise goes by: a block pull is a deadlift through less range of motion."""


def differences(before: Json, after: Json) -> set[str]:
    """Names of what differs between two prescriptions as an answer has to name them; `lift` for another exercise."""
    names = {name for field, name in (PROTECTS | DOSE).items() if not _alike(before.get(field), after.get(field))}
    return names | ({"lift"} if before["exercise"] != after["exercise"] else set())


def _alike(one: object, other: object) -> bool:
    if isinstance(one, dict) and isinstance(other, dict):
        stated = [{name: value for name, value in each.items() if value is not None} for each in (one, other)]
        return stated[0].keys() == stated[1].keys() and all(
            _alike(stated[0][name], stated[1][name]) for name in stated[0]
        )
    if isinstance(one, int | float) and isinstance(other, int | float):
        return isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
    return one == other or (not one and not other)
