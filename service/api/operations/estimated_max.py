"""estimated-max: the one-repetition maximum behind sets that a lifter did."""

from __future__ import annotations

import math
from typing import Annotated, Final

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Basis, DoneSet, Estimate
from service.api.models.ids import ExerciseId, RelationId
from service.api.models.operation import Example, Operation
from service.api.models.own_body import body_lifted
from service.api.operations._repetition_maximum import (
    DEMO_SET,
    OWN_MAXIMUM,
    Question,
    basis_of,
    cautions_of,
    done_set,
    lift_of,
    requested_relation,
)
from service.errors import Refusal
from service.messages import Message
from service.training.done_sets import deciding
from service.training.load_repetition import check_range, covers
from service.training.own_estimates import own_maximum
from service.training.own_sets import own_curve
from service.training.repetition_maximum import chosen_relation
from service.training.strength_evidence import StrengthEvidence
from service.units import Mass


class EstimatedMax(RequestModel, kw_only=True, frozen=True):
    """The one-repetition maximum behind one or more sets of one lift.

    Attributes:
        sets: Sets that were done, of one lift.
        exercise: Id of the exercise, see GET /v1/exercises. Left out: any lift, by the general relation.
        relation: Use this relation and not the default of the lift. Left out: the default.
        body_mass: Body mass, 30 to 250 kg: needed in lifts of one's own body, such as pull-ups. Left out: not needed.
    """

    sets: Annotated[list[DoneSet], Meta(min_length=1, max_length=20)]
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    body_mass: Mass | UnsetType = UNSET


class RelationMax(ResponseModel, kw_only=True, frozen=True):
    """What one relation says.

    Attributes:
        relation: Id of the relation, see GET /v1/relations.
        estimated_max: The maximum behind the set.
    """

    relation: RelationId
    estimated_max: Mass


class OwnCurveAnswer(ResponseModel, kw_only=True, frozen=True):
    """The lifter's own curve through two or more sets.

    Attributes:
        estimated_max: The maximum that it gives.
        load_drop_per_rep: Fall of the load from one repetition to the next, as a share of it.
        sets: How many sets made it.
    """

    estimated_max: Estimate
    load_drop_per_rep: float
    sets: int


class EstimatedMaxAnswer(ResponseModel, kw_only=True, frozen=True):
    """The maximum, and what it is made of.

    Attributes:
        estimated_max: The one-repetition maximum, in lifts of one's own body what is added to it.
        relations: What every published relation that covers the set says.
        spread_of_relations: The largest of these maxima over the smallest, less 1: how far the relations disagree.
        own_curve: The lifter's own curve; null where the sets make none.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    estimated_max: Estimate
    relations: list[RelationMax]
    spread_of_relations: float
    own_curve: OwnCurveAnswer | None
    basis: Basis
    cautions: list[Message]


def estimated_max(request: EstimatedMax) -> EstimatedMaxAnswer:
    """The maximum behind the sets: of several by the own curve, or else by the one that decides (`done_sets.deciding`)."""
    lift = lift_of(request.exercise)
    body = body_lifted(lift, request.body_mass)
    requested = requested_relation(request.relation, lift)
    used = chosen_relation(lift, requested)
    sets = [done_set(one, body, f"/sets/{index}") for index, one in enumerate(request.sets)]
    first = deciding(sets, lambda reps: covers(used, reps))
    curve, why_not = None, None
    if len(sets) > 1:
        try:
            curve = own_curve(sets, lift)
        except Refusal as refusal:
            why_not = refusal.reason
    if curve is None or requested is not None:
        try:
            check_range(used, sets[first].failure)
        except Refusal as refusal:
            raise refusal.at({"/reps": f"/sets/{first}/reps"}) from None
    ordered = (sets[first], *sets[:first], *sets[first + 1 :])
    evidence = StrengthEvidence(ordered, lift, used, curve if requested is None else None)
    question = Question(evidence, request.sets[first].load.unit, body)
    tops = evidence.maxima_by_relation()
    own = None
    if curve:
        own = OwnCurveAnswer(
            estimated_max=question.shown(own_maximum(curve, lifted=evidence.heaviest), OWN_MAXIMUM),
            load_drop_per_rep=round(1 - math.exp(-curve.rate), 6),
            sets=curve.sets,
        )
    return EstimatedMaxAnswer(
        estimated_max=question.shown_maximum(),
        relations=[
            RelationMax(relation=relation, estimated_max=question.added(top))
            for relation, top in tops.items()
            if top >= body
        ],
        spread_of_relations=round(max(tops.values()) / min(tops.values()) - 1, 4) if tops else 0.0,
        own_curve=own,
        basis=basis_of(question),
        cautions=cautions_of(question, 1, no_curve=why_not),
    )


OPERATION: Final = Operation(
    name="estimated-max",
    tag="Load and repetitions",
    summary="One-repetition maximum behind one or more sets",
    description="The maximum (in the unit of the load) with its interval, every published relation that covers the set side by side, and the lifter's own "
    "curve if the sets define one (two or more loads at least 5 % apart, at most 3 in reserve, inside the published span). Of several sets the heaviest decides "
    "where no curve is used, and no maximum is below it. Sets with more than 4 repetitions in reserve are refused as a basis.",
    request=EstimatedMax,
    answer=EstimatedMaxAnswer,
    compute=estimated_max,
    examples=(
        Example(
            "front-squat",
            "The maximum behind 62.5 kg for 6 with 2 left",
            {"sets": [DEMO_SET], "exercise": "front_squat"},
        ),
    ),
)
