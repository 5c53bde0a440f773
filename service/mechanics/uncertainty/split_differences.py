"""Changes of a split stance with each uncertain input, by solving it again with the input moved down and up.

Lean, shin, foot spacing and share each differ between lifters; moved one by one about their usual values and solved
again in equilibrium, they spread the stance as far as all four together do under that condition. From one repetition to
the next the same quantities differ by less.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from operator import sub
from typing import Final

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.seen import spread_of_depth
from service.mechanics.setups import Setup
from service.mechanics.split_inputs import SplitLift, leg_length
from service.mechanics.split_stance import SplitStance, in_equilibrium
from service.mechanics.statics import statics_of
from service.mechanics.step_up import hardest, risen_of
from service.mechanics.supports import QUANTITIES, Quantity, SplitInputs
from service.mechanics.uncertainty.depth_derivatives import is_stated
from service.mechanics.uncertainty.differences import Results, bodies_moved, results_of, sided
from service.mechanics.uncertainty.scopes import Sides

AGAIN: Final = "_again"
"""Ending of an input that is stated and moved as far as one lifter's repetitions differ."""
_ABOVE: Final = ("lumbosacral_level", "above_mass")
"""Inputs that change what the spine bears and no balance."""
_BAR = POSTURES.spread.bar_anterior.value

MovedStance = tuple[str, SplitStance | None, SplitStance | None]
"""An input with the stance where it is moved down and where it is moved up, None where nothing balances."""


def split_differences(demand: Demand, moved: Iterable[MovedStance]) -> dict[str, Sides]:
    """The changes of a split stance's results with each input, moved down and up by one standard deviation.

    Args:
        demand: the setup solved, of the family split
        moved: its moved_stances

    Returns:
        by input, as of moved_stances
    """
    seen = demand.technique.seen is not None
    nominal = results_of(hardest(demand.bottom, risen_of(demand.statics)), demand.setup.thigh_angle if seen else None)
    nominal = (*nominal, demand.lead_share) if seen else nominal
    still = ((0.0,) * len(nominal),) * 2

    def change(split: SplitStance | None) -> Results | None:
        return None if split is None else tuple(map(sub, _results(demand.setup, split, seen=seen), nominal))

    return {name: sided(change(down), change(up)) or still for name, down, up in moved}


def moved_stances(demand: Demand, depth: Depth | None) -> Iterator[MovedStance]:
    """The stance solved again with each input moved down and up by one standard deviation.

    Args:
        demand: the setup solved, of the family split
        depth: as requested of service.mechanics.demand.setup_demand

    Returns:
        by input, None where nothing balances: shank, thigh_and_trunk, foot, lumbosacral_level, above_mass,
        segment_table, balance, bar_anterior, thigh_angle, and of trunk_lean, shin_angle, foot_spacing and lead_share
        those that are not stated; those that are differ from one repetition to the next and have an _again
    """
    setup = demand.setup
    lift, split = setup.lift, setup.split
    if lift is None or split is None:
        return
    fixed = is_stated(demand, depth)

    def solved(moved: SplitLift, quantity: int | None = None, deviations: float = 0.0) -> SplitStance | None:
        try:
            inputs = moved.at(setup.thigh_angle if fixed else moved.bottom(depth))
            return in_equilibrium(inputs if quantity is None else _shifted(inputs, quantity, deviations), split)
        except Refusal:
            return None

    for name, down, up in _moves(lift):
        if name in _ABOVE:
            yield name, _of_body(split, down.body), _of_body(split, up.body)
        else:
            yield name, solved(down), solved(up)
    for index, (name, stated) in enumerate(zip(QUANTITIES, split.inputs.stated, strict=True)):
        if lift.rule.steps_up and name == "foot_spacing":
            continue
        if stated is None:
            moved = lift.rule.shin_of_lifter / lift.rule.shin_angle.between if name == "shin_angle" else 1.0
            yield name, solved(lift, index, -moved), solved(lift, index, moved)
        else:
            less, more = (_stated_again(lift, name, stated, side) for side in (-1.0, 1.0))
            yield f"{name}{AGAIN}", solved(less), solved(more)
    if depth is None or depth.box_height is None:
        spread = spread_of_depth(setup.exercise, depth, demand.technique.seen)
        lower, higher = (_at(lift, setup.thigh_angle + side * spread) for side in (-1.0, 1.0))
        yield "thigh_angle", lower, higher


def _of_body(split: SplitStance, body: Body) -> SplitStance:
    """The same stance of another body that balances alike."""
    return replace(split, inputs=replace(split.inputs, body=body))


def _at(lift: SplitLift, thigh_angle: float) -> SplitStance | None:
    try:
        return in_equilibrium(lift.at(thigh_angle))
    except Refusal:
        return None


def _results(setup: Setup, split: SplitStance, *, seen: bool) -> Results:
    inputs = split.inputs
    moved = replace(
        setup,
        carry=inputs.carry,
        balance=inputs.balance,
        thigh_angle=inputs.thigh_angle,
        shin_angle=split.shin_angle,
        trunk_lean=split.trunk_lean,
        split=split,
    )
    statics = statics_of(inputs.body, moved)
    hard = hardest(statics.at(inputs.thigh_angle), risen_of(statics))
    return (*results_of(hard, inputs.thigh_angle), split.lead_share) if seen else results_of(hard)


def _shifted(inputs: SplitInputs, quantity: int, deviations: float) -> SplitInputs:
    """The same for a lifter in whom one quantity's usual value differs."""
    usual = list(inputs.usual)
    usual[quantity] = usual[quantity].moved(deviations)
    lean, shin, spacing, share = usual
    return replace(inputs, usual=(lean, shin, spacing, share))


def _moves(lift: SplitLift) -> Iterator[tuple[str, SplitLift, SplitLift]]:
    """Each input of the lifter and the load with the lift where it is moved down and where it is moved up."""
    for name, lighter, heavier in bodies_moved(lift.body):
        if name == "arm":  # no load of a split stance hangs at arm's length from a place of its own
            continue
        yield name, replace(lift, body=lighter), replace(lift, body=heavier)
    balance = lift.rule.balance or POSTURES.defaults.balance
    less, more = lift.balance - balance.between, lift.balance + balance.between
    yield "balance", replace(lift, balance=less), replace(lift, balance=more)
    carry = lift.carry
    if carry.kind == "trunk":
        behind, ahead = (replace(carry, anterior=carry.anterior + side * _BAR) for side in (-1.0, 1.0))
        yield "bar_anterior", replace(lift, carry=behind), replace(lift, carry=ahead)


def _stated_again(lift: SplitLift, name: Quantity, stated: float, side: float) -> SplitLift:
    """The lift in another repetition, a stated quantity being moved by its standard deviation within one lifter."""
    usual: Distribution | None = getattr(lift.rule, name)
    if usual is None:
        return lift
    unit = leg_length(lift.body) if name == "foot_spacing" else 1.0
    moved = stated + side * unit * usual.within
    return replace(lift, stated=replace(lift.stated, **{name: min(moved, 1.0) if name == "lead_share" else moved}))
