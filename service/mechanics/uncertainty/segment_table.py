"""What it changes that the segment masses of a lifter whose sex is not stated are those of neither table."""

from __future__ import annotations

from service.errors import Refusal
from service.mechanics.body import Body
from service.mechanics.body_variants import of_sex
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.peaks import MOMENTS
from service.mechanics.setups import resolve_setup
from service.mechanics.statics import Solution, statics_of
from service.mechanics.uncertainty.depth_derivatives import is_stated
from service.mechanics.uncertainty.derivatives import NIL, Deviation, plus, times


def of_segment_table(demand: Demand, depth: Depth | None) -> Deviation:
    """Half the difference between the male and the female segment table, of which an unstated sex takes the mean.

    Args:
        demand: the setup solved
        depth: as requested of service.mechanics.demand.setup_demand
    """
    female = _with_table(demand, depth, of_sex(demand.body, "female"))
    male = _with_table(demand, depth, of_sex(demand.body, "male"))
    if female and male:
        return times(plus(male, female, -1.0), 0.5)
    # at the edge of tipping one of the two tables has no posture, and the other one's difference stands for both
    ankle, knee, hip, adductor, resultant, spine = (demand.peaks[moment].moment for moment in MOMENTS)
    nominal = (ankle, knee, hip, adductor, resultant, spine, demand.trunk_lean)
    if male:
        return plus(male, nominal, -1.0)
    return plus(nominal, female, -1.0) if female else NIL


def _with_table(demand: Demand, depth: Depth | None, body: Body) -> Deviation | None:
    """The results for a body of other masses, at the thigh angles of the peaks; None where it would tip."""
    bottom = demand.setup.thigh_angle
    try:
        setup = demand.setup
        if not is_stated(demand, depth):
            setup = resolve_setup(body, demand.exercise, demand.load, depth=depth, technique=demand.technique)
        statics = statics_of(body, setup)
        deepest = statics.at(setup.thigh_angle)

        def at_peak(joint: str) -> Solution:
            angle = demand.peaks[joint].thigh_angle
            return deepest if angle == bottom else statics.at(angle)

        knee, hip, spine = at_peak("knee"), at_peak("hip"), at_peak("lumbosacral")
    except Refusal:
        return None
    return (
        deepest.ankle,
        knee.knee,
        hip.hip,
        hip.hip_adductor,
        hip.hip_resultant,
        spine.lumbosacral,
        deepest.trunk_lean,
    )
