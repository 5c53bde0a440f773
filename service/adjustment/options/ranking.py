"""Which candidates are worth showing, and in which order.

An option is dropped when another is at least as good in all of: the sore region's demand, the stimulus kept, the
number of levers; and when the same lift with a lever less does nearly as well, for the smallest change is wanted. Only
like is compared with like: an untested load with untested ones (what it keeps of the effect is not known), relief of a
session with relief of a session, a direction with a direction, a program with its own kind, what asks more of another
region or in all of a session with its like, the lift done as now with its like (that another technique keeps the whole
effect is taken, not measured). Figures are compared rounded, so that the unit of the request cannot change an order.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Final, NamedTuple

from service.adjustment.consultation import Candidate, RuledOut
from service.adjustment.demand import Effect
from service.knowledge.design_choices import CHOICES
from service.vocabulary import MeetsBy, Region

_ORDER: Final[dict[MeetsBy, int]] = {"peak": 0, "direction_only": 1, "session_exposure": 2}
_DECIMALS: Final = 4
"""Decimals to which figures are compared."""


class Merits(NamedTuple):
    """What candidates are compared by, each better the smaller it is.

    Attributes:
        demand: what the sore region has to carry, against the present [1]
        lost: index of the training effect kept, taken negative [1]
        levers: levers changed [count]
    """

    demand: float
    lost: float
    levers: int


def relief(candidate: Candidate, region: Region) -> float:
    """What the sore region has to carry, against the present [1].

    The peak of a repetition, or the session's exposure where that is what falls; where only a direction is known, the
    load is all there is to go by.
    """
    ratio = candidate.effects[region].ratio
    if candidate.meets_by == "session_exposure" and candidate.exposure is not None:
        return round(candidate.exposure, _DECIMALS)
    return round(ratio, _DECIMALS) if ratio is not None else 1.0


def _merits(candidate: Candidate, region: Region) -> Merits:
    return Merits(relief(candidate, region), -round(candidate.stimulus.kept, _DECIMALS), len(candidate.levers))


def _kind(candidate: Candidate, region: Region) -> tuple[object, ...]:
    """Candidates of one kind may be compared with each other."""
    exercise = candidate.prescription.exercise if candidate.meets_by == "direction_only" else None
    trial = candidate.trial
    elsewhere = any(_rises(effect) for name, effect in candidate.effects.items() if name != region)
    return (
        candidate.meets_by,
        trial.untested,
        trial.program,
        exercise,
        candidate.prescription.cues,
        _session_grows(candidate) or elsewhere,
        trial.likeness == "same",
    )


def _session_grows(candidate: Candidate) -> bool:
    """Whether a session asks clearly more of the sore region in all, though each repetition asks less."""
    return candidate.exposure is not None and candidate.exposure > CHOICES.adjustments.other_region_caution


def _rises(effect: Effect) -> bool:
    worth = CHOICES.adjustments.rise_worth_telling
    return effect.ratio > worth if effect.ratio is not None else effect.direction == "higher"


def pareto(candidates: list[Candidate], region: Region) -> list[Candidate]:
    """The candidates that no other one of their kind beats in everything."""
    kinds: dict[tuple[object, ...], list[Merits]] = defaultdict(list)
    for candidate in candidates:
        kinds[_kind(candidate, region)].append(_merits(candidate, region))
    return [
        candidate
        for candidate in candidates
        if not any(_beats(other, _merits(candidate, region)) for other in kinds[_kind(candidate, region)])
    ]


def _beats(other: Merits, merits: Merits) -> bool:
    return other != merits and all(theirs <= own for theirs, own in zip(other, merits, strict=True))


def smallest(candidates: list[Candidate]) -> list[Candidate]:
    """The candidates without those that the same lift with a lever less nearly equals in what it keeps.

    The one that keeps the most stays, so that a stricter target never looks better than a milder one.
    """
    worth = CHOICES.adjustments.second_lever_worth
    most_kept: dict[MeetsBy, float] = {}
    for candidate in candidates:
        most_kept[candidate.meets_by] = max(candidate.stimulus.kept, most_kept.get(candidate.meets_by, 0.0))

    def needless(candidate: Candidate) -> bool:
        keeps_most = candidate.stimulus.kept == most_kept[candidate.meets_by]
        return any(
            set(other.levers) < set(candidate.levers)
            and other.prescription.exercise == candidate.prescription.exercise
            and other.meets_by == candidate.meets_by
            and other.trial.program == candidate.trial.program
            and candidate.stimulus.kept < other.stimulus.kept + worth
            and not (keeps_most and candidate.stimulus.kept > other.stimulus.kept)
            for other in candidates
        )

    return [candidate for candidate in candidates if not needless(candidate)]


def rank_group(candidate: Candidate) -> tuple[int, bool]:
    """What comes before every merit: numbers, then directions, then sessions; those that grow the session later.

    Returns:
        The position of the kind [count], and whether the session grows.
    """
    return _ORDER[candidate.meets_by], _session_grows(candidate)


def ranked(candidates: list[Candidate], region: Region) -> list[Candidate]:
    """The candidates worth showing, the first to try first.

    Numbers before directions before sessions, sessions that do not grow first; then most stimulus kept, each further
    lever counted off; then least demand.
    """
    worth = CHOICES.adjustments.second_lever_worth

    def order(candidate: Candidate) -> tuple[object, ...]:
        demand, lost, levers = _merits(candidate, region)
        score = round(lost + worth * (levers - 1), _DECIMALS)
        return *rank_group(candidate), score, levers, demand, candidate.prescription.exercise, candidate.levers

    return sorted(smallest(pareto(candidates, region)), key=order)


def beaten(candidates: list[Candidate], kept: list[Candidate]) -> list[RuledOut]:
    """The candidates that are not among those worth showing, as ruled out."""
    return [RuledOut(one.levers, "beaten", one.prescription) for one in candidates if one not in kept]
