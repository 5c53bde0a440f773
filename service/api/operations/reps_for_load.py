"""reps-for-load: how many repetitions a load allows, from sets that the lifter did."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import (
    Assistance,
    Basis,
    BodyMass,
    Caution,
    DoneSet,
    Estimate,
    TargetReserve,
    estimate,
)
from service.api.models.ids import ExerciseId, RelationId
from service.api.models.operation import Example, Operation
from service.api.models.own_body import lifted
from service.api.operations._repetition_maximum import DEMO_SET, Question, basis_of, cautions_of, question_of
from service.errors import Refusal
from service.intervals import Interval, difference
from service.training import repetition_maximum as estimates
from service.training.done_sets import most_with
from service.training.load_repetition import RELATIONS, reps_at_share, shares_at
from service.training.own_sets import check_reps, check_span
from service.units import Mass, mass


class TargetLoad(RequestModel, kw_only=True, frozen=True):
    """The load wanted, and how many repetitions should be left."""

    load: Mass
    reps_in_reserve: TargetReserve = 0
    assistance: Assistance | UnsetType = UNSET


class RepsForLoad(RequestModel, kw_only=True, frozen=True):
    """How many repetitions a load allows, given a set that was done."""

    set: DoneSet
    target: TargetLoad
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    own_sets: Annotated[list[DoneSet], Meta(max_length=20)] = []
    body_mass: BodyMass | UnsetType = UNSET


class RelationReps(ResponseModel, kw_only=True, frozen=True):
    """What one relation says: the maximum behind the set and the repetitions at the target load."""

    relation: RelationId
    estimated_max: Mass
    reps: float


class RepsForLoadAnswer(ResponseModel, kw_only=True, frozen=True):
    """The repetitions at the target effort, and what they are made of."""

    reps: Estimate
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationReps]
    basis: Basis
    cautions: list[Caution]


def reps_for_load(request: RepsForLoad) -> RepsForLoadAnswer:
    """The repetitions that a load allows. Raises Refusal outside the relation's published range."""
    question = question_of(request.set, request.own_sets, request.exercise, request.relation, request.body_mass)
    load = lifted(request.target.load, request.target.assistance, question.body, "/target")
    to_failure = _reps(question, load)
    left = request.target.reps_in_reserve
    if difference(to_failure.value, left) < 0:
        raise Refusal.one(
            "target/reps_in_reserve",
            f"At that load about {to_failure.value:.1f} repetitions to failure are expected, fewer than are to be left.",
            f"0 to {to_failure.value:.1f}",
        )
    top = question.maximum()
    share = Interval(load / top.value, load / top.high, load / top.low)
    return RepsForLoadAnswer(
        reps=estimate(to_failure.less(left).at_least(0), question.meaning, "reps"),
        percent_of_max=estimate(share.scaled(100), question.meaning, "%"),
        estimated_max=question.shown_maximum(),
        relations=_reps_by_relation(question, load, left),
        basis=basis_of(question),
        cautions=cautions_of(question, to_failure.value),
    )


def _reps(question: Question, load: float) -> Interval:
    """Repetitions to failure [count] at a load [kg]: at least as many as were done with it."""
    try:
        if question.curve:
            to_failure = estimates.own_reps(question.curve, load, lifted=question.heaviest)
            check_reps(to_failure.value, "load")
            check_span(question.curve, question.exercise, round(2 * to_failure.value) / 2)
        else:
            done = question.done
            to_failure = estimates.estimate_reps(
                question.relation, question.exercise, done.load, done.failure, load, lifted=question.heaviest
            )
    except Refusal as refusal:
        raise refusal.at({"/load": "/target/load", "/sets": "/own_sets"}) from None
    return to_failure.at_least(most_with(question.sets, load))


def _reps_by_relation(question: Question, load: float, left: float) -> list[RelationReps]:
    """Each relation's maximum and repetitions at a load [kg] with some left; one that does not cover it is left out."""
    rows = []
    done, certain = question.done, most_with(question.sets, load)
    for relation, share in shares_at(question.exercise, done.failure).items():
        top = max(done.load / share, question.heaviest)
        try:
            at_load = max(certain, reps_at_share(RELATIONS[relation], load / top))
        except Refusal:
            continue
        if top >= question.body:
            added = mass(difference(top, question.body), question.unit)
            reps = round(max(0.0, difference(at_load, left)), 3)
            rows.append(RelationReps(relation=relation, estimated_max=added, reps=reps))
    return rows


OPERATION: Final = Operation(
    name="reps-for-load",
    leading="set",
    tag="Load and repetitions",
    summary="Repetitions that a load allows",
    description="Given one set that was done, how many repetitions another load (kg or lb) allows with a stated number in reserve. The load must lie in "
    "the range that the relation covers, by default 60 to 100 % of the estimated maximum.",
    request=RepsForLoad,
    answer=RepsForLoadAnswer,
    compute=reps_for_load,
    examples=(
        Example(
            "front-squat",
            "How many at 55 kg with 2 left?",
            {
                "set": DEMO_SET,
                "target": {"load": {"value": 55, "unit": "kg"}, "reps_in_reserve": 2},
                "exercise": "front_squat",
            },
        ),
    ),
)
