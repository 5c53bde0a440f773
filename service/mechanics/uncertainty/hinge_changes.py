"""Changes of a hinge's results with the uncertain inputs, by solving it again with each moved down and up.

What a lifter does differently is the lean and how far the knee bends, of which a part is the shin's habit in every lift
and a part the depth; the legs tip for each until it balances.
"""

from __future__ import annotations

from collections.abc import Iterator
from operator import sub

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, SHIN_OF_EXERCISE
from service.mechanics.body import Body
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.hinges import legs_of_hinge
from service.mechanics.peaks import MOMENTS, largest_moments
from service.mechanics.posture import shin_shape
from service.mechanics.seen import departing_in
from service.mechanics.setups import Setup
from service.mechanics.statics import statics_of
from service.mechanics.uncertainty.differences import Results, bodies_moved, sided
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.scopes import changes_by_sides

_BAR = POSTURES.spread.bar_anterior.value
_DEPTH = POSTURES.defaults.depth_error.in_radians()
_OF_EXERCISE = ("bar_anterior", "trunk_lean")
_AGAIN = "again_shin_angle"


class _Moved:
    """A hinge whose inputs are moved and that is solved again.

    Args:
        demand: the setup solved, of the family hinge
        depth: as requested of service.mechanics.demand.setup_demand
    """

    def __init__(self, demand: Demand, depth: Depth | None) -> None:
        """Keep what is solved, at the depth where a limit of the hip ends it."""
        self.demand, self.depth = demand, depth
        if "hip_flexion" in demand.limited_by:
            self.depth = Depth(thigh_below_horizontal=-demand.setup.thigh_angle)

    def setup(
        self,
        body: Body,
        *,
        lean: float = 0.0,
        knee: float = 0.0,
        thigh: float = 0.0,
        shin: float = 0.0,
        balance: float = 0.0,
        anterior: float = 0.0,
    ) -> Setup:
        """The hinge of another body and with other habits.

        Args:
            body: the lifter
            lean: further that the trunk leans [rad]
            knee: further that the knee is bent [rad]
            thigh: thigh above the one at a stated depth [rad]
            shin: further forward that a stated shin is [rad]
            balance: balance point further ahead, in foot lengths [1]
            anterior: bar further in front of the shoulder [m]

        Raises:
            Refusal: where nothing balances
        """
        demand, setup = self.demand, self.demand.setup
        carry = replace(setup.carry, anterior=setup.carry.anterior + anterior)
        stated = demand.technique.shin_angle
        departure = departing_in(demand.exercise, demand.technique.departure)
        shin_angle, thigh_angle = legs_of_hinge(
            body,
            POSTURE_RULES[demand.exercise],
            demand.load,
            setup.balance + balance,
            carry,
            shin_angle=None if stated is None else stated + shin,
            shin_limit=setup.shin_limit,
            depth=self.depth,
            further=(departure.trunk_lean + lean, departure.shin_angle + knee, departure.depth + thigh),
        )
        return replace(
            setup,
            carry=carry,
            balance=setup.balance + balance,
            shin_angle=shin_angle,
            thigh_angle=thigh_angle,
            shape_at_bottom=shin_shape(thigh_angle),
        )

    def results(self, body: Body, **moved: float) -> Results | None:
        """The results of such a hinge, None where nothing balances.

        Args:
            body: the lifter
            moved: as of setup
        """
        try:
            setup = self.setup(body, **moved)
            statics = statics_of(body, setup)
            bottom = statics.at(setup.thigh_angle)
            largest = largest_moments(statics, bottom)
        except Refusal:
            return None
        results = (*(largest[moment] for moment in MOMENTS), bottom.trunk_lean)
        return results if self.demand.technique.seen is None else (*results, bottom.shin_angle, setup.thigh_angle)


def changes_of_hinge(demand: Demand, depth: Depth | None) -> list[Changes]:
    """The changes of a hinge's results with the uncertain inputs, in the order of Results.

    Args:
        demand: the setup solved, of the family hinge
        depth: as requested of service.mechanics.demand.setup_demand
    """
    moved, rule = _Moved(demand, depth), POSTURE_RULES[demand.exercise]
    nominal = moved.results(demand.body) or ()
    sides = {}
    for name, down, up in _both(moved):
        below, above = (None if one is None else tuple(map(sub, one, nominal)) for one in (down, up))
        if (both := sided(below, above)) is not None:
            sides[name] = both
    lean, balance = rule.trunk_lean, rule.balance or POSTURES.defaults.balance
    repeated = {
        "shin_angle": rule.shin_angle.within / rule.shin_of_lifter,
        "thigh_angle": _DEPTH.within / _DEPTH.between,
        "balance": balance.within / balance.between,
        "trunk_lean": 0.0 if lean is None else lean.within / lean.between,
    }
    own = {"shin_angle": SHIN_OF_EXERCISE / rule.shin_of_lifter}
    return changes_by_sides(
        sides,
        _OF_EXERCISE,
        {name: part for name, part in own.items() if name in sides},
        {name: part for name, part in repeated.items() if name in sides},
        of_repetition=[name for name in sides if name == _AGAIN],
    )


def _both(moved: _Moved) -> Iterator[tuple[str, Results | None, Results | None]]:
    """Each input with the results where it is moved down and where it is moved up."""
    demand, depth = moved.demand, moved.depth
    body, rule, stated = demand.body, POSTURE_RULES[demand.exercise], demand.technique.shin_angle
    for name, lighter, heavier in bodies_moved(body):
        if name != "arm":  # no load of a hinge hangs from it
            yield name, moved.results(lighter), moved.results(heavier)
    steps = {"balance": ("balance", (rule.balance or POSTURES.defaults.balance).between)}
    if demand.setup.carry.kind == "trunk":
        steps["bar_anterior"] = ("anterior", _BAR)
    if rule.trunk_lean is not None:
        steps["trunk_lean"] = ("lean", rule.trunk_lean.between)
    if stated is not None:
        steps[_AGAIN] = ("shin", rule.shin_angle.within)
    elif depth is None or depth.knee_flexion is None:
        steps["shin_angle"] = ("knee", rule.shin_of_lifter)
    if stated is None or depth is not None:
        steps["thigh_angle"] = ("thigh", _DEPTH.between)
    for name, (what, step) in steps.items():
        yield name, moved.results(body, **{what: -step}), moved.results(body, **{what: step})
