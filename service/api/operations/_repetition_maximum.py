"""What load-for-reps, reps-for-load and estimated-max share: the sets done, the relation or own curve, basis, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Final

import msgspec
from msgspec import UnsetType

from service.api.models import common
from service.api.models.base import stated
from service.api.models.common import Basis, Caution, Estimate, cautions, mass_estimate
from service.api.models.own_body import BODY_COUNTED, body_lifted, lifted
from service.errors import Refusal
from service.intervals import Interval, difference
from service.knowledge.design_choices import CHOICES
from service.training.done_sets import DoneSet
from service.training.load_repetition import RELATIONS, Relation, applies_to, check_range, covers, share_of_max
from service.training.own_sets import MOST_RESERVE, own_curve
from service.training.repetition_maximum import chosen_relation, spread_known_up_to
from service.training.strength_evidence import StrengthEvidence
from service.units import Mass, MassUnit, mass

PEOPLE: Final = "one standard deviation between people either side: about two thirds of them"
OWN: Final = "one standard error of the lifter's own curve below and above"
MAXIMUM: Final = "at least the 4.2 % by which a test of a maximum repeats, but nothing below the heaviest load lifted"
DEMO_SET: Final[dict[str, Any]] = {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2}
"""The set of the demo scenario, for the examples."""
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
        """What the interval of an answer means."""
        return OWN if self.evidence.curve else PEOPLE

    def shown(self, load: Interval, meaning: str) -> Estimate:
        """A load [kg] as it is on the implement or added to the body, in the unit of the request."""
        return mass_estimate(load.less(self.body), self.unit, meaning)

    def shown_maximum(self) -> Estimate:
        """The maximum as clients see it."""
        return self.shown(self.evidence.maximum(), f"{self.meaning}; {MAXIMUM}")

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
def _spread(reps: float) -> float:
    """How far the usual relations differ at a number of repetitions to failure, as a share of the least maximum."""
    shares = [share_of_max(relation, reps) for relation in _USUAL if covers(relation, reps)]
    return max(shares) / min(shares) - 1 if shares else 0.0


def cautions_of(question: Question, *more_reps: float, no_curve: str = "") -> list[Caution]:
    """The cautions of an answer; more_reps: to failure, of the request or the answer; no_curve: why no own curve was used."""
    evidence = question.evidence
    failure = evidence.done.failure
    most = max(failure, *more_reps)
    spread = _spread(failure)
    codes = ["stopped_by_pain"]
    if question.body:
        codes.append("added_to_body")
    if no_curve:
        codes.append("own_curve_not_used")
    if most > evidence.relation.careful_above:
        codes.append("low_confidence_reps")
    if spread > CHOICES.load_repetition.relations_disagree_above:
        codes.append("relations_disagree")
    if evidence.done.reserve > 0:
        codes.append("reserve_is_understated")
    if not evidence.curve and most > spread_known_up_to(evidence.exercise):
        codes.append("interval_cut")
    if evidence.curve and not evidence.curve.fewest_reps <= most <= evidence.curve.most_reps:
        codes.append("outside_own_range")
    low, high = (evidence.curve.fewest_reps, evidence.curve.most_reps) if evidence.curve else (0.0, 0.0)
    return cautions(
        *codes,
        reps=f"{evidence.relation.careful_above:g}",
        spread=f"{100 * spread:.0f} %",
        low=f"{low:g}",
        high=f"{high:g}",
        reason=no_curve,
    )


def basis_of(question: Question) -> Basis:
    """Where an answer comes from."""
    evidence = question.evidence
    certain = "No maximum is below a load that was lifted, and no load below one lifted for as many repetitions."
    counted = [BODY_COUNTED] if question.body else []
    if evidence.curve:
        return Basis(
            method=f"the lifter's own curve, load = a · e^(−b · repetitions), fitted to {evidence.curve.sets} sets",
            sources=["mitter_2023", "mitter_2022", "grgic_2020", "nuzzo_2024", "refalo_2023b", "design_choice"],
            assumptions=[
                "All sets are of the same lift, done fresh, at one range of motion and tempo.",
                f"Sets with more than {MOST_RESERVE:g} repetitions in reserve make no curve (our own choice).",
                "A curve outside the published relations and the spread between people is not used (our own choice).",
                certain,
                *counted,
            ],
            evidence="computed",
        )
    return Basis(
        method=f"{evidence.relation.id}: {evidence.relation.equation}",
        sources=list(dict.fromkeys([evidence.relation.source, "nuzzo_2024", "grgic_2020", "halperin_2022"])),
        assumptions=[
            "Repetitions to failure are the repetitions done plus those in reserve.",
            "A lifter keeps the same place among people at every load.",
            *([] if evidence.exercise else ["No exercise was named: the general table for all lifts was used."]),
            certain,
            *counted,
        ],
        evidence="published",
    )
