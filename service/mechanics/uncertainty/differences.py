"""Changes of a pull with each uncertain input, by solving it again with the input moved down and up.

A pull closes between floor and hands, where derivatives would be long and the curvature counts: both sides are kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import acos, cos, radians, sqrt
from operator import neg, sub

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.anthropometry import BODY
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body
from service.mechanics.body_variants import length_spread, of_sex
from service.mechanics.closure import Pull
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.peaks import MOMENTS
from service.mechanics.pulls import for_body
from service.mechanics.setups import pull_setup
from service.mechanics.statics import Solution, statics_of
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.scopes import Sides, changes_by_sides

_PULL = POSTURES.pull
_LEAN_ERROR = radians(CHOICES.spine.stated_lean_error)
_ABDUCTION = radians(POSTURES.spread.abduction.value)
_SHIN_OWN = radians(POSTURES.spread.shin_angle_own.value)
_HABIT = {
    name: sqrt(rule.shin_angle.between**2 - _SHIN_OWN**2)
    for name, rule in POSTURE_RULES.items()
    if rule.family == "pull"
}
"""What a lifter does with the shin in every exercise, one standard deviation [rad]."""
_OF_EXERCISE = {
    "shoulder_ahead": _PULL.shoulder_ahead,
    "shoulder_drop": _PULL.shoulder_drop,
    "shin_to_front": _PULL.shin_to_front,
    "turning_height": _PULL.turning_height,
}
_REPEATED = {name: found.within / found.between for name, found in _OF_EXERCISE.items()} | {
    "trunk_lean": CHOICES.spine.repeated_lean / CHOICES.spine.stated_lean_error
}
"""Scatter from one repetition to the next, in the steps by which the inputs are moved [1]."""

Results = tuple[float, ...]
"""Moments in the order of service.mechanics.peaks.MOMENTS [N·m], and the trunk lean [rad]."""

_IN_PLACE = frozenset({"lumbosacral_level", "above_mass"})
"""What leaves the posture as it is."""
_EVEN = frozenset({"shank", "foot", "arm", "lumbosacral_level"})
"""What moves the results so nearly in proportion that one side stands for both."""

_NIL: Results = (0.0,) * (len(MOMENTS) + 1)


def changes_of_pull(demand: Demand, depth: Depth | None) -> list[Changes]:
    """The changes of a pull's results with the uncertain inputs, in the order of Results.

    Args:
        demand: the setup solved, of the family pull
        depth: as requested of service.mechanics.demand.setup_demand
    """
    sides, habit = pull_differences(demand, depth), _HABIT[demand.exercise]
    return changes_by_sides(
        sides,
        (*_OF_EXERCISE, "abduction"),
        {"shin_angle": _SHIN_OWN / habit},
        {"shin_angle": POSTURE_RULES[demand.exercise].shin_angle.within / habit, **_REPEATED},
        of_setup=("trunk_lean",),
    )


def pull_differences(demand: Demand, depth: Depth | None) -> dict[str, Sides]:
    """The changes of a pull's results with each input, moved down and up by one standard deviation.

    An input whose move would tip the lifter, or take the bar out of reach, is taken to do on that side the opposite of
    what it does on the other.

    Args:
        demand: the setup solved, of the family pull
        depth: as requested of service.mechanics.demand.setup_demand

    Returns:
        by input: shank, thigh_and_trunk, foot, arm, lumbosacral_level, above_mass, segment_table, shin_angle,
        abduction, shoulder_ahead, shoulder_drop, shin_to_front, turning_height, trunk_lean where it is stated; only
        those that enter
    """
    pull, setup = demand.setup.pull, demand.setup
    if pull is None or setup.closed is None:
        return {}
    grip_height = setup.closed.grip_height
    usual = grip_height if "hip_flexion" in demand.limited_by else depth
    nominal = results_of(demand.bottom)

    def change(moved: Pull, at: Depth | float | None = usual, *, in_place: bool = False) -> Results | None:
        try:
            there = setup if in_place else pull_setup(setup.exercise, moved, at, setup.shin_limit, setup.pitch)
        except Refusal:
            return None
        solution = statics_of(moved.body, there).at(there.thigh_angle)
        return tuple(map(sub, results_of(solution), nominal))

    by_input = {}
    for name, down, up in _moves(demand, pull):
        in_place = name in _IN_PLACE
        above = change(up, in_place=in_place)
        below = None if above is not None and name in _EVEN else change(down, in_place=in_place)
        by_input[name] = sided(below, above)
    if turns_in_the_air(demand, depth):
        further = _PULL.turning_height.between * demand.body.stature / BAR_REFERENCE_STATURE
        by_input["turning_height"] = sided(change(pull, grip_height - further), change(pull, grip_height + further))
    return by_input


def results_of(solution: Solution) -> Results:
    """The results of one solution."""
    return (*(getattr(solution, moment) for moment in MOMENTS), solution.trunk_lean)


def turns_in_the_air(demand: Demand, depth: Depth | None) -> bool:
    """Whether neither floor nor block nor the lifter's hips end the way down."""
    on_something = POSTURE_RULES[demand.exercise].grip_height is not None and (
        depth is None or depth.box_height is not None
    )
    return not on_something and "hip_flexion" not in demand.limited_by


def sided(down: Results | None, up: Results | None) -> Sides:
    """Both changes; one that cannot be had is taken to be the opposite of the other.

    Args:
        down: with the input moved down, None where nothing balances
        up: with the input moved up, None where nothing balances
    """
    if down is None:
        return (_NIL, _NIL) if up is None else (_opposite(up), up)
    return (down, _opposite(down)) if up is None else (down, up)


def _opposite(results: Results) -> Results:
    return tuple(map(neg, results))


def _moves(demand: Demand, pull: Pull) -> Iterator[tuple[str, Pull, Pull]]:
    """Each input with the pull where it is moved down and where it is moved up."""
    body, technique = demand.body, demand.technique
    for name, down, up in bodies_moved(body):
        yield name, for_body(pull, demand.exercise, down), for_body(pull, demand.exercise, up)
    scale = body.stature / BAR_REFERENCE_STATURE
    if technique.shin_angle is None:
        back, forth = pull.shin_angle - _HABIT[demand.exercise], pull.shin_angle + _HABIT[demand.exercise]
        if technique.ankle_dorsiflexion is not None:
            forth = max(pull.shin_angle, min(forth, demand.setup.shin_limit))
        yield "shin_angle", replace(pull, shin_angle=back), replace(pull, shin_angle=forth)
    if pull.lean is None:
        yield "shoulder_ahead", *_both_ways(pull, "ahead", _PULL.shoulder_ahead.between * scale)
    else:
        yield "trunk_lean", *_both_ways(pull, "lean", _LEAN_ERROR)
    yield "shoulder_drop", *_both_ways(pull, "lowered", _PULL.shoulder_drop.between * scale)
    if pull.line_x is None:
        yield "shin_to_front", *_both_ways(pull, "shin_to_bar", _PULL.shin_to_front.between * scale)
    if pull.leg_projection < 1.0:
        turned = acos(pull.leg_projection)
        less, more = cos(max(0.0, turned - _ABDUCTION)), cos(turned + _ABDUCTION)
        yield "abduction", replace(pull, leg_projection=less), replace(pull, leg_projection=more)


def _both_ways(pull: Pull, field: str, step: float) -> tuple[Pull, Pull]:
    value: float = getattr(pull, field)
    return replace(pull, **{field: value - step}), replace(pull, **{field: value + step})


def bodies_moved(body: Body) -> Iterator[tuple[str, Body, Body]]:
    """Each input of the body with the lifter in whom it is moved down and up by its standard deviation."""
    spread, measured = length_spread(body.sex), body.measured
    if "shank" not in measured:
        yield "shank", *_scaled(body, lambda side: {"shank": body.shank * (1.0 + side * spread.shank)})
    thigh = 0.0 if "thigh" in measured else spread.thigh
    trunk = 0.0 if "trunk" in measured else spread.trunk
    if thigh or trunk:
        # at one stature a longer measured thigh goes with a shorter trunk
        yield (
            "thigh_and_trunk",
            *_scaled(
                body,
                lambda side: {
                    "thigh": body.thigh * (1.0 + side * thigh),
                    "trunk": body.trunk * (1.0 - side * trunk),
                },
            ),
        )
    if "foot" not in measured:
        parts = ("foot", "ankle_from_heel", "ball_from_heel")
        yield (
            "foot",
            *_scaled(body, lambda side: {part: getattr(body, part) * (1.0 + side * spread.foot) for part in parts}),
        )
    yield "arm", *_scaled(body, lambda side: {"arm": body.arm * (1.0 + side * _PULL.arm_spread.value)})
    level = BODY.spread.lumbosacral_level.value
    yield "lumbosacral_level", *_scaled(body, lambda side: {"lumbosacral_level": body.lumbosacral_level + side * level})
    lightest = min(body.above_mass, BODY.spread.above_lumbosacral_mass_low.value * body.mass)
    heaviest = BODY.spread.above_lumbosacral_mass_high.value * body.mass
    yield "above_mass", replace(body, above_mass=lightest), replace(body, above_mass=heaviest)
    if body.sex is None:
        yield "segment_table", of_sex(body, "female"), of_sex(body, "male")


def _scaled(body: Body, moved: Callable[[float], dict[str, float]]) -> tuple[Body, Body]:
    return replace(body, **moved(-1.0)), replace(body, **moved(1.0))
