"""The one shape of a prescription, for requests and answers, and its way into SI and back."""

from __future__ import annotations

from typing import Annotated, Final, Protocol

from msgspec import Meta
from msgspec.structs import replace

from service.adjustment import prescription as domain
from service.adjustment.prescription import lifts_the_body, may_be_unloaded, total_load
from service.api.models.base import RequestModel, stated_count, stated_si
from service.api.models.common import (
    RepRange,
    SetCount,
    positive,
    reps_range,
    whole,
)
from service.api.models.ids import CueId, ExerciseId
from service.api.models.lifter import Lifter, body_of
from service.api.models.setup import Depth, Technique, depth_of, located, technique_of
from service.errors import Refusal, into
from service.knowledge.catalogue import EXERCISES
from service.knowledge.dynamics import turns
from service.mechanics import setups
from service.mechanics.demand import with_departure
from service.messages import message
from service.training.load_repetition import relation_for
from service.training.tempo import phase_seconds, seconds_per_rep
from service.training.volume import Reps
from service.units import Duration, Mass, si
from service.vocabulary import Implement, Side

LONGEST_REST: Final = 1800.0  # [s]
LONGEST_HOLD: Final = 300.0  # [s]


TempoText = Annotated[
    str,
    Meta(pattern=r"^(?:[0-9]|[1-5][0-9]|X)(?:-(?:[0-9]|[1-5][0-9]|X)){3}\Z", max_length=11, examples=["3-1-X-1"]),
]


PrescribedReserve = Annotated[float, Meta(ge=0, le=30)]
DaysAWeek = Annotated[float, whole(1, 7)]
Cues = Annotated[list[CueId], Meta(max_length=20)]
NOT_FLAT: Final = Meta(extra={"flat_name": False})
"""Marks what is taken for the sake of a whole prescription: it has no flat name in queries and tables."""


class Prescription(RequestModel, kw_only=True, frozen=True, omit_defaults=True):
    """What is done, the same in every request and every answer; null is the same as left out: not stated, or the exercise's usual way. Whatever an answer shows may be sent to any operation.

    Attributes:
        exercise: Id of the exercise, see GET /v1/exercises.
        sets: Working sets of a session.
        reps: Repetitions of a set, from the fewest to the most; with `hold`, how many are held. Left out: only with
            `hold`, where it is 1.
        load: Load on the implement: of two dumbbells their sum, of one-arm lifts that of one arm, of lifts of one's own
            body what is added to it, 0 for nothing.
        implement: What is lifted, where it is not what the exercise is usually done with.
        assistance: In lifts of one's own body, what a band or machine takes off body mass and load. Left out: nothing.
        reps_in_reserve: Repetitions that would still be possible after the top of the range, 0 (failure) to 30; halves
            are fine. RPE is 10 minus this. In an answer as expected. Above 4 the report is off by several repetitions
            (zourdos_2021, hackett_2017).
        tempo: The trade's four figures in seconds: lowering, bottom, lifting, top, such as 3-1-X-1; X is as fast as
            possible. Left out: own pace.
        hold: How long each repetition is held still, up to 5 min. Left out: repetitions move.
        rest: Rest between sets, up to 30 min. Left out: not stated.
        days_per_week: Days a week on which the lift is trained. Left out: not stated.
        depth: How deep the lift goes. Left out: the exercise's usual depth.
        technique: What is done otherwise than usual. Left out: nothing.
        cues: Ids of the changes that the lifter is told, see GET /v1/cues. Left out: none.
        side: The side that it is done on, where that is told apart. Left out: not told apart.
    """

    exercise: ExerciseId
    sets: SetCount
    reps: RepRange | None = None
    load: Mass
    implement: Implement | None = None
    assistance: Mass | None = None
    reps_in_reserve: PrescribedReserve | None = None
    tempo: TempoText | None = None
    hold: Duration | None = None
    rest: Duration | None = None
    days_per_week: DaysAWeek | None = None
    depth: Depth | None = None
    technique: Technique | None = None
    cues: Cues | None = None
    side: Side | None = None


class RestOfPrescription(RequestModel, kw_only=True, frozen=True):
    """What else a prescription holds, so that a question about a part of one takes all of it as an answer shows it.

    Each question states anew what it uses; the rest has no flat name in queries and tables.

    Attributes:
        exercise: Part of a prescription; not used here.
        load: Part of a prescription; not used here.
        implement: Part of a prescription; not used here.
        assistance: Part of a prescription; not used here.
        reps_in_reserve: Part of a prescription; not used here.
        tempo: Part of a prescription; not used here.
        hold: Part of a prescription; not used here.
        rest: Part of a prescription; not used here.
        days_per_week: Part of a prescription; not used here.
        depth: Part of a prescription; not used here.
        technique: Part of a prescription; not used here.
        cues: Part of a prescription; not used here.
        side: Part of a prescription; not used here.
    """

    exercise: Annotated[ExerciseId | None, NOT_FLAT] = None
    load: Annotated[Mass | None, NOT_FLAT] = None
    implement: Annotated[Implement | None, NOT_FLAT] = None
    assistance: Annotated[Mass | None, NOT_FLAT] = None
    reps_in_reserve: Annotated[PrescribedReserve | None, NOT_FLAT] = None
    tempo: Annotated[TempoText | None, NOT_FLAT] = None
    hold: Annotated[Duration | None, NOT_FLAT] = None
    rest: Annotated[Duration | None, NOT_FLAT] = None
    days_per_week: Annotated[DaysAWeek | None, NOT_FLAT] = None
    depth: Annotated[Depth | None, NOT_FLAT] = None
    technique: Annotated[Technique | None, NOT_FLAT] = None
    cues: Annotated[Cues | None, NOT_FLAT] = None
    side: Annotated[Side | None, NOT_FLAT] = None


def prescription_of(given: Prescription, where: str) -> domain.Prescription:
    """A prescription in SI, with all that it says.

    where: pointer to it. Raises Refusal with pointers under it for what cannot be done.
    """
    name = where.lstrip("/")
    check_implement(given, name)
    rest, hold = stated_si(given.rest), stated_si(given.hold)
    if rest is not None and rest > LONGEST_REST:
        detail, change = "A rest this long is a break between sessions.", into(rest, high=LONGEST_REST)
        raise Refusal.one(f"{name}/rest", detail, "up to 30 min", change=change)
    if hold is not None and not 0 < hold <= LONGEST_HOLD:
        detail, change = "A hold lasts some seconds.", into(hold, 1.0, LONGEST_HOLD)
        raise Refusal.one(f"{name}/hold", detail, "more than 0, up to 5 min", change=change)
    check_pace(given.exercise, given.tempo, given.technique, name)
    depth = depth_of(given.depth)
    if depth is not None and depth.stated != 1:
        raise Refusal.one(f"{name}/depth", message("depth_in_one_way"), " or ".join(Depth.__struct_fields__))
    return domain.Prescription(
        given.exercise,
        int(given.sets),
        reps_of(given.reps, given.hold, where),
        _load(given, where),
        given.reps_in_reserve,
        stated_count(given.days_per_week),
        depth,
        None if given.technique is None else technique_of(given.technique),
        given.tempo,
        rest,
        hold,
        tuple(given.cues or ()),
        given.implement,
        given.side,
    )


def check_pace(exercise: str, tempo: str | None, technique: Technique | None, name: str) -> None:
    """Raise Refusal with pointers under `name` for a repetition without time or a bounce where none is computed."""
    if tempo is not None and seconds_per_rep(phase_seconds(tempo)).value <= 0:
        raise Refusal.one(f"{name}/tempo", "A repetition takes some time.", "at least one figure above 0, or X")
    if technique is not None and technique.bounce is True and not turns(exercise):
        raise Refusal.one(
            f"{name}/technique/bounce",
            f"{EXERCISES[exercise].name}: there is no turn to bounce out of, or none whose force is known.",
            "left out, or one of: " + ", ".join(lift for lift in EXERCISES if turns(lift)),
        )


def lifters_prescription(
    given: Prescription, lifter: Lifter, where: str = "/prescription", *, as_basis: bool = True
) -> domain.Prescription:
    """A prescription in SI with the lifter's own limits in its technique, for computing with.

    where: pointer to it; as_basis: whether a maximum is formed of its repetitions alone. Raises Refusal with pointers under it for what cannot be done or no method covers.
    """
    name = where.lstrip("/")
    prescription = prescription_of(given, where)
    if lifts_the_body(given.exercise) and total_load(prescription, si(lifter.body_mass)) <= 0:
        raise Refusal.one(f"{name}/assistance", "Nothing would be left to lift.", "less than body mass and load")
    relation = relation_for(given.exercise)
    if as_basis and prescription.reps.high > relation.reps[1]:
        raise Refusal.one(
            f"{name}/reps/high",
            f"{prescription.reps.high} repetitions are outside the range of {relation.id}.",
            f"up to {relation.reps[1]:g} repetitions to failure",
            change=into(prescription.reps.high, high=relation.reps[1]),
        )
    return replace(prescription, technique=_as_seen(prescription, given, lifter, where))


def _as_seen(prescription: domain.Prescription, given: Prescription, lifter: Lifter, where: str) -> setups.Technique:
    """The technique with how the lifter departs from the rule, where the posture was seen: with this load and depth."""
    technique = technique_of(given.technique, lifter)
    if technique.seen is None or prescription.posture is None:
        return technique
    body = body_of(lifter)
    try:
        return with_departure(body, prescription.posture, prescription.load, prescription.depth, technique)
    except Refusal as refusal:
        raise located(refusal, where, given, lifter) from None


class _WithImplement(Protocol):
    @property
    def exercise(self) -> str: ...

    @property
    def implement(self) -> Implement | None: ...

    @property
    def load(self) -> Mass: ...


def check_implement(given: _WithImplement, name: str) -> None:
    """Raise Refusal with pointers under `name` for an implement that the exercise is not done with."""
    if given.implement is None:
        return
    lift = EXERCISES[given.exercise]
    others = ", ".join(lift.implements)
    if given.implement == "band":
        raise Refusal.one(
            f"{name}/implement",
            "A band has no load of its own; what it takes off a lift of one's own body is its assistance.",
            others,
            one_of=lift.implements,
        )
    if given.implement not in lift.implements:
        detail = f"{lift.name} is not known to be done with this."
        raise Refusal.one(f"{name}/implement", detail, others, one_of=lift.implements)
    if given.implement == "body_weight" and given.load.value > 0:
        detail, change = "With the body alone nothing is loaded.", -si(given.load)
        raise Refusal.one(f"{name}/load", detail, "0, or another implement", change=change)


def reps_of(reps: RepRange | None, hold: Duration | None, where: str = "") -> Reps:
    """The repetitions of a set, 1 where a hold states none; `where` is the pointer to what states them.

    Raises Refusal where there are none, or the ends of the range are crossed.
    """
    if reps is not None:
        return reps_range(reps, f"{where}/reps")
    if hold is None:
        raise Refusal.one(f"{where}/reps".lstrip("/"), "Only with a hold may the repetitions be left out.", "a range")
    return Reps(1, 1)


def load_on(exercise: str, load: Mass, pointer: str) -> float:
    """The load of a lift in [kg]; nothing only where the body alone is something to lift. Raises Refusal otherwise."""
    return 0.0 if load.value == 0 and may_be_unloaded(exercise) else positive(load, pointer)


def _load(given: Prescription, where: str) -> float:
    helped = stated_si(given.assistance)
    if lifts_the_body(given.exercise):
        return si(given.load) - (helped or 0.0)
    if helped is not None:
        raise Refusal.one(
            f"{where.lstrip('/')}/assistance", "Assistance belongs to lifts of one's own body.", "left out"
        )
    return load_on(given.exercise, given.load, f"{where}/load")


DEMO_SQUAT: Final = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": {"value": 62.5, "unit": "kg"},
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
"""The prescription of the demo scenario, for the examples of every operation that takes one."""
