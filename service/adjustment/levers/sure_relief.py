"""Whether other techniques of the present lift are sure to ask the sore region for less."""

from __future__ import annotations

from collections.abc import Sequence

from service.adjustment.consultation import Case
from service.adjustment.pace import moment_of
from service.errors import Refusal
from service.mechanics.demand import Demand, demand_of, solve
from service.mechanics.setups import Technique
from service.mechanics.uncertainty.comparison import difference
from service.mechanics.uncertainty.propagation import with_uncertainty


def relief_is_sure(case: Case, demand: Demand, techniques: Sequence[Technique], *, without: str | None = None) -> bool:
    """Whether the region is asked for less with each of them, whatever is uncertain of the postures.

    Args:
        case: the consultation
        demand: of the present lift
        techniques: of that lift, at its depth
        without: code of a caution with which none is to be offered, whatever it relieves
    """
    joint, before = moment_of(case.region), case.present.uncertain
    if joint is None or before is None:
        return False
    body, lift, load, depth = demand.body, demand.exercise, demand.load, case.now.depth
    try:
        solved = [solve(body, lift, load, depth, one) for one in techniques]
        if max(one.peak_moments()[joint] for one in solved) >= demand.peaks[joint].moment:
            return False
        uncertain = (with_uncertainty(demand_of(one), depth) for one in solved)
        return all(without not in one.cautions and difference(one, before, joint) == "lower" for one in uncertain)
    except Refusal:
        return False
