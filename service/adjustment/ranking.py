"""Which candidates are worth showing, and in which order.

An option is dropped when another is at least as good in all of: the sore region's demand, the stimulus kept, the
number of levers. Figures are compared rounded, so that the unit of the request cannot change an order.
"""

from __future__ import annotations

from service.adjustment.candidates import Candidate


def relief(candidate: Candidate, region: str) -> float:
    """What the sore region has to carry.

    The peak of a repetition, or the session's exposure where that is what falls.
    """
    return round(candidate.exposure if candidate.by_exposure else candidate.demand[region].value, 4)


def _merits(candidate: Candidate, region: str) -> tuple[float, float, int]:
    return relief(candidate, region), -round(candidate.stimulus.kept, 4), len(candidate.levers)


def pareto(found: list[Candidate], region: str) -> list[Candidate]:
    """The candidates that no other one beats in everything.

    Relief of a session and of a repetition are not compared, nor is an untested load with a tested one: what it keeps
    of the effect is not known well enough to rule anything out.
    """
    kept = []
    for candidate in found:
        mine = _merits(candidate, region)
        beaten = any(
            other.by_exposure == candidate.by_exposure
            and other.tested == candidate.tested
            and (theirs := _merits(other, region)) != mine
            and all(a <= b for a, b in zip(theirs, mine, strict=True))
            for other in found
        )
        if not beaten:
            kept.append(candidate)
    return kept


def ranked(found: list[Candidate], region: str) -> list[Candidate]:
    """Most stimulus kept first, then fewest levers, then the least demand.

    Options of exposure alone after the others.
    """

    def order(candidate: Candidate) -> tuple[bool, float, int, float, str]:
        demand, lost, levers = _merits(candidate, region)
        return candidate.by_exposure, lost, levers, demand, candidate.prescription.exercise

    return sorted(pareto(found, region), key=order)
