"""A prescription as requests give it and as answers show it."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.adjustment.prescription import Prescription, lifts_the_body, may_be_unloaded
from service.api.models.base import RequestModel, ResponseModel, omitted, or_default, stated, stated_count, stated_si
from service.api.models.common import (
    BasisReserve,
    RepRange,
    SetCount,
    as_rep_range,
    positive,
    reps_range,
    whole,
)
from service.api.models.ids import CueId, ExerciseId
from service.api.models.lifter import Lifter
from service.api.models.setup import Depth, Technique, depth_of, technique_of
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics import setups
from service.training.load_repetition import relation_for
from service.units import Duration, Mass, MassUnit, angle, duration, length, mass, si

LONGEST_REST: Final = 1800.0  # [s]
LONGEST_HOLD: Final = 300.0  # [s]


class PrescriptionGiven(RequestModel, kw_only=True, frozen=True):
    """A prescription as it is now: sets a session, a range of repetitions, the load, and what else is known of it.

    load: of two dumbbells their sum, of one-arm lifts that of one arm; assistance: pull-ups and inverted rows, what a
    band or machine takes off.
    """

    exercise: ExerciseId
    sets: SetCount
    reps: RepRange
    load: Mass
    assistance: Mass | UnsetType = UNSET
    reps_in_reserve: BasisReserve | UnsetType = UNSET
    tempo: TempoText | UnsetType = UNSET
    rest: Annotated[Duration, Meta(description="Between sets, up to 30 min.")] | UnsetType = UNSET
    days_per_week: Annotated[float, whole(1, 7, "Days a week on which the lift is trained, 1 to 7.")] | UnsetType = (
        UNSET
    )
    depth: Depth | UnsetType = UNSET
    technique: Technique | UnsetType = UNSET


class AdjustedPrescription(ResponseModel, kw_only=True, frozen=True):
    """A prescription as it is to be done; null is the exercise's usual way, or what the request did not state.

    load is told as in the request: of two dumbbells their sum. reps_in_reserve is what is expected to be left after the
    top of the range; hold is the length of one static repetition; cues are ids of GET /v1/cues.
    """

    exercise: ExerciseId
    sets: int
    reps: RepRange
    load: Mass
    assistance: Mass | None
    reps_in_reserve: float
    tempo: str | None
    hold: Duration | None
    rest: Duration | None
    days_per_week: int | None
    depth: Depth | None
    technique: Technique | None
    cues: list[CueId]


class OptionGiven(RequestModel, kw_only=True, frozen=True):
    """An adjusted prescription as an answer showed it, to be sent back as it is; null is the exercise's usual way."""

    exercise: ExerciseId
    sets: SetCount
    reps: RepRange
    load: Mass
    assistance: Mass | None = None
    reps_in_reserve: Annotated[float, Meta(ge=0, le=100)] | None = None
    tempo: TempoText | None = None
    hold: Annotated[Duration, Meta(description="Of one static repetition, up to 5 min.")] | None = None
    rest: Annotated[Duration, Meta(description="Between sets, up to 30 min.")] | None = None
    days_per_week: Annotated[float, whole(1, 7, "Days a week on which the lift is trained, 1 to 7.")] | None = None
    depth: Depth | None = None
    technique: Technique | None = None
    cues: Annotated[list[CueId], Meta(max_length=20)] = []


def option_of(option: OptionGiven, lifter: Lifter, where: str) -> Prescription:
    """An adjusted prescription in SI; raises Refusal as prescription_of does.

    Repetitions in reserve are no basis of anything here, so there may be any number of them.
    """
    hold = None if option.hold is None else si(option.hold)
    if hold is not None and not 0 < hold <= LONGEST_HOLD:
        raise Refusal.one(f"{where.lstrip('/')}/hold", "A hold lasts some seconds.", "more than 0, up to 5 min")
    fields = {
        field: value
        for field in PrescriptionGiven.__struct_fields__
        if field != "reps_in_reserve" and (value := getattr(option, field)) is not None
    }
    prescription = prescription_of(PrescriptionGiven(**fields, reps_in_reserve=0), lifter, where)
    reserve = CHOICES.effort.assumed_reserve if option.reps_in_reserve is None else option.reps_in_reserve
    return msgspec.structs.replace(prescription, reserve=float(reserve), hold=hold, cues=tuple(option.cues))


def prescription_of(prescription: PrescriptionGiven, lifter: Lifter, where: str = "/prescription") -> Prescription:
    """The prescription in SI, reserve assumed where not stated.

    Raises Refusal with pointers under `where` for what no method covers.
    """
    name = where.lstrip("/")
    reps = reps_range(prescription.reps, f"{where}/reps")
    reserve = or_default(prescription.reps_in_reserve, CHOICES.effort.assumed_reserve)
    relation = relation_for(prescription.exercise)
    if reps.high + reserve > relation.reps[1]:
        raise Refusal.one(
            f"{name}/reps/high",
            f"{reps.high + reserve:g} repetitions to failure are outside the range of {relation.id}.",
            f"up to {relation.reps[1]:g} repetitions to failure, those in reserve included",
        )
    rest = stated_si(prescription.rest)
    if rest is not None and rest > LONGEST_REST:
        raise Refusal.one(f"{name}/rest", "A rest this long is a break between sessions.", "up to 30 min")
    modelled = prescription.exercise in EXERCISE_RULES
    for field in ("depth", "technique"):
        if not modelled and not omitted(getattr(prescription, field)):
            raise Refusal.one(f"{name}/{field}", "This exercise has no planar model that it could enter.", "left out")
    return Prescription(
        prescription.exercise,
        int(prescription.sets),
        reps,
        _load(prescription, si(lifter.body_mass), where),
        float(reserve),
        stated_count(prescription.days_per_week),
        depth_of(prescription.depth),
        technique_of(prescription.technique, lifter) if modelled else None,
        stated(prescription.tempo),
        rest,
    )


def load_on(exercise: str, load: Mass, pointer: str) -> float:
    """The load of a lift in [kg]; nothing only where the body alone is something to lift. Raises Refusal otherwise."""
    return 0.0 if load.value == 0 and may_be_unloaded(exercise) else positive(load, pointer)


def _load(prescription: PrescriptionGiven, body_mass: float, where: str) -> float:
    helped = stated_si(prescription.assistance)
    if not lifts_the_body(prescription.exercise):
        if helped is not None:
            raise Refusal.one(
                f"{where.lstrip('/')}/assistance", "Assistance belongs to lifts of one's own body.", "left out"
            )
        return load_on(prescription.exercise, prescription.load, f"{where}/load")
    load = si(prescription.load) - (helped or 0.0)
    if load + body_mass <= 0:
        raise Refusal.one(
            f"{where.lstrip('/')}/assistance", "Nothing would be left to lift.", "less than body mass and load"
        )
    return load


def shown(new: Prescription, unit: MassUnit) -> AdjustedPrescription:
    """A prescription in the unit asked about."""
    helped = new.load < 0
    return AdjustedPrescription(
        exercise=new.exercise,
        sets=new.sets,
        reps=as_rep_range(new.reps),
        load=mass(max(new.load, 0.0), unit),
        assistance=mass(-new.load, unit) if helped else None,
        reps_in_reserve=round(new.reserve, 1),
        tempo=new.tempo,
        hold=None if new.hold is None else duration(new.hold, "s"),
        rest=None if new.rest is None else duration(new.rest, "s"),
        days_per_week=new.days,
        depth=_depth(new.depth),
        technique=_technique(new.technique),
        cues=list(new.cues),
    )


def _depth(depth: setups.Depth | None) -> Depth | None:
    if depth is None:
        return None
    if depth.box_height is not None:
        return Depth(box_height=length(depth.box_height, "m"))
    if depth.knee_flexion is not None:
        return Depth(knee_flexion=angle(depth.knee_flexion, "deg"))
    return Depth(thigh_below_horizontal=angle(depth.thigh_below_horizontal or 0.0, "deg"))


def _technique(technique: setups.Technique | None) -> Technique | None:
    """What is done otherwise than usual; null where nothing is. The lifter's own limits stay with the lifter."""
    if technique is None:
        return None
    differences = Technique(
        heel_lift=length(technique.heel_lift, "m") if technique.heel_lift else UNSET,
        stance=technique.stance,
        shin_angle=UNSET if technique.shin_angle is None else angle(technique.shin_angle, "deg"),
        bar_forward_of_midfoot=length(technique.bar_forward_of_midfoot, "m")
        if technique.bar_forward_of_midfoot
        else UNSET,
    )
    return None if differences == Technique() else differences


TempoText = Annotated[
    str,
    Meta(
        pattern=r"^(?:[0-9]|[1-5][0-9]|X)(?:-(?:[0-9]|[1-5][0-9]|X)){3}\Z",
        max_length=11,
        description="The trade's four figures in seconds: lowering, bottom, lifting, top, such as 3-1-X-1; X is as fast as possible.",
    ),
]
