"""reps-for-load: how many repetitions a load allows, from sets that the lifter did."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import (
    Basis,
    DoneSet,
    Estimate,
    TargetReserve,
    estimate,
)
from service.api.models.ids import ExerciseId, RelationId
from service.api.models.operation import Example, Operation
from service.api.models.own_body import lifted
from service.api.operations._repetition_maximum import DEMO_SET, Question, basis_of, cautions_of, question_of
from service.errors import Refusal, into
from service.intervals import Interval, difference
from service.messages import Message
from service.units import Mass


class TargetLoad(RequestModel, kw_only=True, frozen=True):
    """The load wanted, and how many repetitions should be left.

    Attributes:
        load: The load, in lifts of one's own body what is added to it.
        reps_in_reserve: Repetitions to be left in reserve, 0 to 10; halves are fine.
        assistance: In lifts of one's own body, what a band or machine takes off. Left out: nothing.
    """

    load: Mass
    reps_in_reserve: TargetReserve = 0
    assistance: Mass | UnsetType = UNSET


class RepsForLoad(RequestModel, kw_only=True, frozen=True):
    """How many repetitions a load allows, given a set that was done.

    Attributes:
        set: The set that was done.
        target: What is wanted.
        exercise: Id of the exercise, see GET /v1/exercises. Left out: any lift, by the general relation.
        relation: Use this relation and not the default of the lift. Left out: the default.
        own_sets: More sets of the lifter's own, of the same lift; with two or more different loads, at most 3
            repetitions in reserve and a plausible fall their own curve is used, else they are refused.
        body_mass: Body mass, 30 to 250 kg: needed in lifts of one's own body, such as pull-ups. Left out: not needed.
    """

    set: DoneSet
    target: TargetLoad
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    own_sets: Annotated[list[DoneSet], Meta(max_length=20)] = []
    body_mass: Mass | UnsetType = UNSET


class RelationReps(ResponseModel, kw_only=True, frozen=True):
    """What one relation says.

    Attributes:
        relation: Id of the relation, see GET /v1/relations.
        estimated_max: The maximum behind the set.
        reps: The repetitions at the target load.
    """

    relation: RelationId
    estimated_max: Mass
    reps: float


class RepsForLoadAnswer(ResponseModel, kw_only=True, frozen=True):
    """The repetitions at the target effort, and what they are made of.

    Attributes:
        reps: The repetitions that leave as many in reserve as wanted.
        percent_of_max: The load in percent of the maximum; of body and load in lifts of one's own body.
        estimated_max: The one-repetition maximum behind the set.
        relations: What every published relation that covers set and target says.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    reps: Estimate
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationReps]
    basis: Basis
    cautions: list[Message]


def reps_for_load(request: RepsForLoad) -> RepsForLoadAnswer:
    """The repetitions that a load allows. Raises Refusal outside the relation's published range."""
    question = question_of(request.set, request.own_sets, request.exercise, request.relation, request.body_mass)
    load = lifted(request.target.load, request.target.assistance, question.body, "/target")
    try:
        to_failure = question.evidence.reps_at(load)
    except Refusal as refusal:
        raise refusal.at({"/load": "/target/load", "/sets": "/own_sets"}) from None
    left = request.target.reps_in_reserve
    if difference(to_failure.value, left) < 0:
        raise Refusal.one(
            "target/reps_in_reserve",
            f"At that load about {to_failure.value:.1f} repetitions to failure are expected, fewer than are to be left.",
            f"0 to {to_failure.value:.1f}",
            change=into(left, high=to_failure.value),
        )
    top = question.evidence.maximum()
    share = Interval(load / top.value, load / top.high, load / top.low)
    return RepsForLoadAnswer(
        reps=estimate(to_failure.less(left).at_least(0), question.meaning, "reps"),
        percent_of_max=estimate(share.scaled(100), question.meaning_of_maximum, "%"),
        estimated_max=question.shown_maximum(),
        relations=_reps_by_relation(question, load, left),
        basis=basis_of(question),
        cautions=cautions_of(question, to_failure.value),
    )


def _reps_by_relation(question: Question, load: float, left: float) -> list[RelationReps]:
    """Each relation's maximum and repetitions at a load [kg] with some left [count]."""
    return [
        RelationReps(
            relation=row.relation,
            estimated_max=question.added(row.maximum),
            reps=round(max(0.0, difference(row.value, left)), 3),
        )
        for row in question.evidence.reps_by_relation(load)
        if row.maximum >= question.body
    ]


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
