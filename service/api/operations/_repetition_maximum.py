"""What load-for-reps, reps-for-load and estimated-max share: the sets done, the relation or own curve, basis, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Final

import msgspec
from msgspec import UnsetType

from service.api.models import common
from service.api.models.base import stated
from service.api.models.common import Basis, Estimate, cautions, mass_estimate
from service.api.models.own_body import BODY_COUNTED, body_lifted, lifted
from service.errors import Refusal
from service.intervals import Interval, difference
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message, ready_message
from service.training.done_sets import DoneSet
from service.training.load_repetition import (
    RELATIONS,
    Relation,
    applies_to,
    check_range,
    covers,
    relation_for,
    share_of_max,
)
from service.training.own_sets import MOST_RESERVE, own_curve
from service.training.repetition_maximum import chosen_relation, spread_known_up_to
from service.training.strength_evidence import StrengthEvidence
from service.units import Mass, MassUnit, mass

PEOPLE: Final = "68 % on another day: spread between people, error of the stated reserve, differences from day to day"
"""What the interval of a load or of repetitions means by the default relation."""
_SHARE: Final = "68 % on another day: spread between people, differences from day to day"
_OF_A_TEST: Final = (
    "at least the 4.2 % by which a test of a maximum repeats, but nothing below the heaviest load lifted"
)
_MAXIMUM: Final = f"68 %: spread between people, error of the stated reserve, differences from day to day; {_OF_A_TEST}"
_OWN: Final = (
    "68 % on another day: error of the lifter's own curve and of the stated reserves, differences from day to day"
)
_OWN_SHARE: Final = "at least 68 % on another day: as between people and from day to day"
OWN_MAXIMUM: Final = f"68 %: error of the lifter's own curve and of the stated reserves; {_OF_A_TEST}"
"""What the interval of a maximum means by the lifter's own curve."""
_BORROWED: Final = "as wide as by the default relation, about this relation's value: how often it holds is not known"
DEMO_SET: Final[dict[str, Any]] = {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2}
"""The set of the demo scenario, for the examples."""
_CERTAIN: Final = ready_message("assumed_nothing_below_what_was_lifted")
ERRORS: Final = ready_message("assumed_errors_of_reserve_and_day")
SOURCES_OF_ERRORS: Final = ("mitter_2022", "helms_2017a", "refalo_2023b", "zourdos_2021", "halperin_2022")
_OF_OWN_CURVE: Final = (
    ready_message("assumed_same_lift_and_fresh"),
    ready_message("assumed_no_curve_far_from_failure", reserve=MOST_RESERVE),
    ready_message("assumed_no_curve_outside_published"),
    ERRORS,
    _CERTAIN,
)
_OF_LIFT: Final = (
    ready_message("assumed_failure_is_done_and_reserve"),
    ready_message("assumed_same_place_among_people"),
    ERRORS,
    _CERTAIN,
)
_OF_ANY_LIFT: Final = (*_OF_LIFT[:-1], ready_message("assumed_general_table"), _CERTAIN)
_METHODS: Final = {
    relation.id: ready_message("method_relation", relation=relation.id, equation=relation.equation)
    for relation in RELATIONS.values()
}
_USUAL: Final = tuple(RELATIONS[name] for name in ("epley", "brzycki", "wathan"))


class Question(msgspec.Struct, frozen=True):
    """What a request about a lifter's strength goes by.

    Attributes:
        evidence: the sets, in SI and with the body where it is lifted
        unit: of the loads in the request
        body: what of the body is lifted with the load [kg]
    """

    evidence: StrengthEvidence
    unit: MassUnit
    body: float

    @property
    def meaning(self) -> str:
        """What the interval of a load or of repetitions means."""
        return self._meaning(PEOPLE, _OWN)

    @property
    def meaning_of_share(self) -> str:
        """What the interval of a share of the maximum for some repetitions means."""
        return self._meaning(_SHARE, _OWN_SHARE)

    @property
    def meaning_of_maximum(self) -> str:
        """What the interval of the maximum means, and of a known load as a share of it."""
        return self._meaning(_MAXIMUM, OWN_MAXIMUM)

    def _meaning(self, people: str, own: str) -> str:
        evidence = self.evidence
        if evidence.curve:
            return own
        return people if evidence.relation is relation_for(evidence.exercise) else _BORROWED

    def shown(self, load: Interval, meaning: str) -> Estimate:
        """A load [kg] as it is on the implement or added to the body, in the unit of the request."""
        return mass_estimate(load.less(self.body), self.unit, meaning)

    def shown_maximum(self) -> Estimate:
        """The maximum as clients see it."""
        return self.shown(self.evidence.maximum(), self.meaning_of_maximum)

    def added(self, load: float) -> Mass:
        """A load [kg] less the body, in the unit of the request."""
        return mass(difference(load, self.body), self.unit)


def lift_of(exercise: str | UnsetType) -> str | None:
    """The lift that a request names, if it names one."""
    return stated(exercise)


def requested_relation(relation: str | UnsetType, exercise: str | None) -> Relation | None:
    """The relation that a request asks for, if it does. Raises Refusal where it was made on other lifts."""
    name = stated(relation)
    requested = None if name is None else RELATIONS[name]
    if requested is not None and not applies_to(requested, exercise):
        raise Refusal.one(
            "relation", f"{requested.id} was made on other lifts.", f"with exercise: {', '.join(requested.exercises)}"
        )
    return requested


def done_set(done: common.DoneSet, body: float, where: str) -> DoneSet:
    """A set of a request [kg]; body: what of it is lifted with the load [kg]; where: pointer to the set."""
    return DoneSet(lifted(done.load, done.assistance, body, where), done.reps, done.reps_in_reserve)


def question_of(
    done: common.DoneSet,
    own: Sequence[common.DoneSet],
    exercise: str | UnsetType,
    relation: str | UnsetType,
    body_mass: Mass | UnsetType,
) -> Question:
    """The question behind a set and more sets of the lifter's own. Raises Refusal where they support no answer."""
    lift = lift_of(exercise)
    body = body_lifted(lift, body_mass)
    requested = requested_relation(relation, lift)
    sets = (
        done_set(done, body, "/set"),
        *(done_set(one, body, f"/own_sets/{index}") for index, one in enumerate(own)),
    )
    used = chosen_relation(lift, requested)
    curve = None
    if own and requested is None:
        try:
            curve = own_curve(sets, lift)
        except Refusal as refusal:
            raise refusal.at({"/sets": "/own_sets"}) from None
    else:
        try:
            check_range(used, sets[0].failure)
        except Refusal as refusal:
            raise refusal.at({"/reps": "/set/reps"}) from None
    return Question(StrengthEvidence(sets, lift, used, curve), done.load.unit, body)


@lru_cache(maxsize=1024)
def _disagreement(reps: float) -> float | None:
    """By how much the usual relations differ at a number of repetitions to failure, where that is much [1]."""
    shares = [share_of_max(relation, reps) for relation in _USUAL if covers(relation, reps)]
    spread = max(shares) / min(shares) - 1 if shares else 0.0
    much = spread > CHOICES.load_repetition.relations_disagree_above
    return spread if much else None


def cautions_of(question: Question, *more_reps: float, no_curve: Message | None = None) -> list[Message]:
    """The cautions of an answer; more_reps: to failure, of the request or the answer; no_curve: why no own curve was used."""
    evidence = question.evidence
    failure = evidence.done.failure
    most = max(failure, *more_reps)
    disagreement, curve = _disagreement(failure), evidence.curve
    specific: list[str | Message] = ["stopped_by_pain"]
    if question.body:
        specific.append("added_to_body")
    if no_curve is not None:
        specific.append(message("own_curve_not_used", reason=no_curve))
    if most > evidence.relation.careful_above:
        specific.append(message("low_confidence_reps", reps=evidence.relation.careful_above))
    if disagreement is not None:
        specific.append(message("relations_disagree", spread=disagreement))
    if evidence.done.reserve > 0:
        specific.append("reserve_is_understated")
    if curve is None and most > spread_known_up_to(evidence.exercise):
        specific.append("interval_carried_on")
    if curve is not None and not curve.fewest_reps <= most <= curve.most_reps:
        specific.append(message("outside_own_range", low=curve.fewest_reps, high=curve.most_reps))
    return cautions(*specific)


def basis_of(question: Question) -> Basis:
    """Where an answer comes from."""
    evidence = question.evidence
    counted = [message(BODY_COUNTED)] if question.body else []
    if evidence.curve:
        return Basis(
            method=message("method_own_curve", sets=evidence.curve.sets),
            sources=["mitter_2023", "grgic_2020", "nuzzo_2024", *SOURCES_OF_ERRORS, "design_choice"],
            assumptions=[
                *(assumed() for assumed in _OF_OWN_CURVE),
                *counted,
            ],
            evidence="computed",
        )
    return Basis(
        method=_METHODS[evidence.relation.id](),
        sources=list(
            dict.fromkeys([evidence.relation.source, "nuzzo_2024", "grgic_2020", *SOURCES_OF_ERRORS, "design_choice"])
        ),
        assumptions=[
            *(assumed() for assumed in (_OF_LIFT if evidence.exercise else _OF_ANY_LIFT)),
            *counted,
        ],
        evidence="published",
    )
