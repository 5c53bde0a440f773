"""load-for-reps: which load allows a number of repetitions, from sets that the lifter did."""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel, omitted
from service.api.models.common import (
    Basis,
    DoneSet,
    Estimate,
    RepCount,
    TargetReserve,
    estimate,
)
from service.api.models.equipment import BarSetup, loaded
from service.api.models.gym import gym_of
from service.api.models.ids import ExerciseId, RelationId
from service.api.models.operation import Example, Operation
from service.api.operations._repetition_maximum import DEMO_SET, Question, basis_of, cautions_of, question_of
from service.charts.elements.layout import Sheet
from service.charts.load_repetition import BandPoint, CurvePoint, Mark, load_curve
from service.errors import Refusal
from service.intervals import Interval, difference
from service.messages import Message, message
from service.units import SI, Mass, mass


class Target(RequestModel, kw_only=True, frozen=True):
    """The repetitions wanted, and how many more should be left.

    Attributes:
        reps: Whole repetitions wanted.
        reps_in_reserve: Repetitions to be left in reserve, 0 to 10; halves are fine.
    """

    reps: RepCount
    reps_in_reserve: TargetReserve = 0


class LoadForReps(RequestModel, kw_only=True, frozen=True):
    """Which load allows the target repetitions, given a set that was done.

    Attributes:
        set: The set that was done.
        target: What is wanted.
        exercise: Id of the exercise, see GET /v1/exercises. Left out: any lift, by the general relation.
        relation: Use this relation and not the default of the lift. Left out: the default.
        own_sets: More sets of the lifter's own, of the same lift; with two or more different loads, at most 3
            repetitions in reserve and a plausible fall their own curve is used, else they are refused.
        bar: The bar and its plates, for a load that can be loaded. Left out: the usual ones.
        body_mass: Body mass, 30 to 250 kg: needed in lifts of one's own body, such as pull-ups. Left out: not needed.
    """

    set: DoneSet
    target: Target
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    own_sets: Annotated[
        list[DoneSet],
        Meta(max_length=20),
    ] = []
    bar: BarSetup | UnsetType = UNSET
    body_mass: Mass | UnsetType = UNSET


class RelationLoad(ResponseModel, kw_only=True, frozen=True):
    """What one relation says.

    Attributes:
        relation: Id of the relation, see GET /v1/relations.
        estimated_max: The maximum behind the set.
        load: The load for the target.
    """

    relation: RelationId
    estimated_max: Mass
    load: Mass


class LoadForRepsAnswer(ResponseModel, kw_only=True, frozen=True):
    """The load, what can be loaded of it, and what it is made of.

    In lifts of one's own body loads and maxima are what is added to it, less than nothing where it has to be helped.

    Attributes:
        load: The load that allows the target.
        loadable: The heaviest loadable load not above it; null where the bar alone is heavier, and where the body has
            to be helped.
        assistance: How much help a lift of one's own body needs, in whole steps, rounded up; null where it needs none.
        percent_of_max: The load in percent of the maximum; of body and load in lifts of one's own body.
        estimated_max: The one-repetition maximum behind the set.
        relations: What every published relation that covers set and target says.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    load: Estimate
    loadable: Mass | None
    assistance: Mass | None
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationLoad]
    basis: Basis
    cautions: list[Message]


def load_for_reps(request: LoadForReps) -> LoadForRepsAnswer:
    """The load for the target repetitions. Raises Refusal outside the relation's published range."""
    question = question_of(request.set, request.own_sets, request.exercise, request.relation, request.body_mass)
    target = request.target.reps + request.target.reps_in_reserve
    load = _load(question, target)
    percent = question.evidence.share_for(target, load)
    loadable, assistance = _to_load(question, load.value, request.bar)
    return LoadForRepsAnswer(
        load=question.shown(load, question.meaning),
        loadable=loadable,
        assistance=assistance,
        percent_of_max=estimate(percent.scaled(100), question.meaning_of_share, "%"),
        estimated_max=question.shown_maximum(),
        relations=_loads_by_relation(question, target),
        basis=basis_of(question),
        cautions=cautions_of(question, target)
        + ([message("bar_alone_too_heavy")] if loadable is None and assistance is None else []),
    )


def _load(question: Question, target: float) -> Interval:
    """The load [kg] for repetitions to failure [count]."""
    evidence = question.evidence
    try:
        evidence.check_target(target)
        return evidence.load_for(target)
    except Refusal as refusal:
        raise refusal.at({"/reps": "/target/reps", "/sets": "/own_sets"}) from None


def _to_load(question: Question, load: float, bar: BarSetup | UnsetType) -> tuple[Mass | None, Mass | None]:
    """What can be put on the implement of a load [kg], rounded down; in a lift of one's own body also the assistance."""
    exercise = question.evidence.exercise
    if not question.body or exercise is None:
        return loaded(bar, load, question.unit), None
    if not omitted(bar):
        raise Refusal.one("bar", "A lift of one's own body takes no bar.", "left out")
    added = gym_of(None, question.unit, "").down(exercise, difference(load, question.body)) or 0.0
    return (mass(added, question.unit), None) if added >= 0 else (None, mass(-added, question.unit))


def _loads_by_relation(question: Question, target: float) -> list[RelationLoad]:
    """Each relation's maximum and load; one by which not even the body alone could be lifted is left out."""
    return [
        RelationLoad(relation=row.relation, estimated_max=question.added(row.maximum), load=question.added(row.value))
        for row in question.evidence.loads_by_relation(target)
        if row.value >= question.body
    ]


def load_for_reps_chart(request: LoadForReps) -> list[Sheet]:
    """Load against repetitions to failure with the band of its intervals, the set done and the target."""
    question = question_of(request.set, request.own_sets, request.exercise, request.relation, request.body_mass)
    target = request.target.reps + request.target.reps_in_reserve
    load = _load(question, target)
    _to_load(question, load.value, request.bar)  # a bar that the answer refuses is refused here too
    evidence = question.evidence
    low, high = evidence.reps_range
    counts = [low + (high - low) * step / 40 for step in range(41)]
    scale = 1 / SI[question.unit]
    wanted = load.less(question.body).scaled(scale)
    drawn = [(reps, evidence.load_for(reps).less(question.body).scaled(scale)) for reps in counts]
    return load_curve(
        [CurvePoint(reps, one.value) for reps, one in drawn],
        [BandPoint(reps, one.low, one.high) for reps, one in drawn],
        [
            Mark(
                "done",
                evidence.done.failure,
                difference(evidence.done.load, question.body) * scale,
                reserve=evidence.done.reserve,
            ),
            Mark("wanted", target, wanted.value, "target", wanted, request.target.reps_in_reserve),
        ],
        question.unit,
    )


OPERATION: Final = Operation(
    name="load-for-reps",
    leading="set",
    tag="Load and repetitions",
    summary="Load that allows a number of repetitions",
    description="Given one set that was done (load in kg or lb, repetitions, 0 to 4 in reserve), the load that allows the target repetitions at "
    "the target effort, with the interval of two times in three on another day. Default: the 2024 meta-regression, 1 to 19.5 repetitions to failure (60 to 100 % of the "
    "maximum); outside a relation's range the answer is a refusal. One repetition with none in reserve returns the load itself. With own sets near failure at "
    "two or more loads the lifter's own curve is used, unless it leaves the published span. `loadable` is what the bar can hold, rounded down. "
    "Pull-ups need body_mass: their loads are what is added to it.",
    request=LoadForReps,
    answer=LoadForRepsAnswer,
    compute=load_for_reps,
    picture_cost=20,
    picture=load_for_reps_chart,
    examples=(
        Example(
            "front-squat",
            "A front squat of 62.5 kg for 6 with 2 left: which load for 9 with 2 left?",
            {"set": DEMO_SET, "target": {"reps": 9, "reps_in_reserve": 2}, "exercise": "front_squat"},
        ),
        Example(
            "own-curve",
            "The same from the lifter's own sets",
            {
                "set": DEMO_SET,
                "target": {"reps": 9, "reps_in_reserve": 2},
                "exercise": "front_squat",
                "own_sets": [
                    {"load": {"value": 70, "unit": "kg"}, "reps": 4, "reps_in_reserve": 1},
                    {"load": {"value": 55, "unit": "kg"}, "reps": 10, "reps_in_reserve": 1},
                ],
                "bar": {"bar": {"value": 15, "unit": "kg"}},
            },
        ),
    ),
)
