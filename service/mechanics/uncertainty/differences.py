"""Changes of a pull with each uncertain input, by solving it again with the input moved down and up.

A pull closes between floor and hands, where derivatives would be long and the curvature counts: both sides are kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, cos, radians
from operator import attrgetter, neg, sub
from typing import Final

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.anthropometry import BODY
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, SHIN_OF_EXERCISE
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body
from service.mechanics.body_variants import length_spread, mass_above_range, of_sex, proportioned
from service.mechanics.closure import Pull
from service.mechanics.demand import Demand
from service.mechanics.depth import Depth
from service.mechanics.pull_setups import pull_setup
from service.mechanics.pulls import for_body, posture_of_pull
from service.mechanics.setups import Setup
from service.mechanics.statics import Solution, statics_of
from service.mechanics.uncertainty.derivatives import RESULTS
from service.mechanics.uncertainty.intervals import Changes
from service.mechanics.uncertainty.leaning_further import AGAIN, leaning_further
from service.mechanics.uncertainty.scopes import Sides, changes_by_columns, columns_of

_PULL = POSTURES.pull
_LEAN_ERROR = radians(CHOICES.spine.stated_lean_error)
_LEAN_SCATTER = radians(CHOICES.spine.repeated_lean)
_ABDUCTION = radians(POSTURES.spread.abduction.value)
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

SEEN_ANGLES: Final = ("shin_angle", "thigh_angle")
"""Angles that are results, after the lean, where some were seen."""

Results = tuple[float, ...]
"""Values in the order of RESULTS, where angles were seen those of SEEN_ANGLES too, and last of pulls the balance point
in foot lengths, of split stances then the lead leg's share [1]."""

_OF_SOLUTION = attrgetter(*RESULTS)

_IN_PLACE = frozenset({"lumbosacral_level", "above_mass"})
"""What leaves the posture as it is."""
_EVEN = frozenset({"shank", "foot", "arm", "lumbosacral_level"})
"""What moves the results so nearly in proportion that one side stands for both."""


def changes_of_pull(demand: Demand, depth: Depth | None) -> list[Changes]:
    """The changes of a pull's results with the uncertain inputs, in the order of Results.

    Args:
        demand: the setup solved, of the family pull
        depth: as requested of service.mechanics.demand.setup_demand
    """
    rule = POSTURE_RULES[demand.exercise]
    own = {"shin_angle": SHIN_OF_EXERCISE / rule.shin_of_lifter}
    repeated = {"shin_angle": rule.shin_angle.within / rule.shin_of_lifter, **_REPEATED}
    columns = {name: columns_of(down, up) for name, (down, up) in pull_differences(demand, depth).items()}
    if "shoulder_ahead" in columns:
        columns = leaning_further(columns, _balance_of(demand), own, repeated)
    if "leaning_further" in columns:
        repeated = {}
    changes = changes_by_columns(
        columns,
        (*_OF_EXERCISE, "abduction", "leaning_further"),
        own,
        repeated,
        of_repetition=[name for name in columns if name.startswith(AGAIN)],
        of_setup=("trunk_lean",),
    )
    return changes[:-1]  # the last are those of the balance point


def pull_differences(demand: Demand, depth: Depth | None) -> dict[str, Sides]:
    """The changes of a pull's results with each input, moved down and up by one standard deviation.

    An input whose move would take the bar out of reach is taken to do on that side the opposite of what it does on the
    other. A lifter who would tip backward does not lean further, unless the lean is stated.

    Args:
        demand: the setup solved, of the family pull
        depth: as requested of service.mechanics.demand.setup_demand

    Returns:
        changes of the results and of the balance point by input: shank, thigh_and_trunk, foot, arm, lumbosacral_level,
        above_mass, segment_table, shin_angle, abduction, shoulder_ahead, shoulder_drop, shin_to_front, turning_height;
        trunk_lean where it is stated; only those that enter
    """
    pull, setup = demand.setup.pull, demand.setup
    if pull is None or setup.closed is None:
        return {}
    grip_height = setup.closed.grip_height
    usual = grip_height if "hip_flexion" in demand.limited_by else depth
    free = pull.lean is None
    unmoved = (
        pull_setup(setup.exercise, pull, grip_height, setup.shin_limit, setup.pitch, unbalanced=True) if free else setup
    )
    seen = demand.technique.seen is not None
    nominal = _results(pull.body, unmoved, seen=seen)

    def change(moved: Pull, at: Depth | float | None = usual, *, in_place: bool = False) -> Results | None:
        try:
            there = unmoved
            if not in_place:
                there = pull_setup(setup.exercise, moved, at, setup.shin_limit, setup.pitch, unbalanced=free)
        except Refusal:
            return None
        return tuple(map(sub, _results(moved.body, there, seen=seen), nominal))

    by_input: dict[str, Sides | None] = {}
    for name, down, up in _moves(demand, pull):
        in_place = name in _IN_PLACE
        above = change(up, in_place=in_place)
        below = None if above is not None and name in _EVEN else change(down, in_place=in_place)
        by_input[name] = sided(below, above)
    if turns_in_the_air(demand, depth):
        further = _PULL.turning_height.between * demand.body.stature / BAR_REFERENCE_STATURE
        below, above = change(pull, grip_height - further), change(pull, grip_height + further)
        by_input["turning_height"] = sided(below, above)
    return {name: sides for name, sides in by_input.items() if sides is not None}


def results_of(solution: Solution, seen_thigh: float | None = None) -> Results:
    """The results of one solution but for the last.

    Args:
        solution: of the statics
        seen_thigh: its thigh above the horizontal where angles of the setup were seen; None elsewhere [rad]
    """
    results: Results = _OF_SOLUTION(solution)
    return results if seen_thigh is None else (*results, solution.shin_angle, seen_thigh)


def _results(body: Body, setup: Setup, *, seen: bool) -> Results:
    thigh_angle = setup.thigh_angle
    return (*results_of(statics_of(body, setup).at(thigh_angle), thigh_angle if seen else None), setup.balance)


def _balance_of(demand: Demand) -> float:
    """The balance point of a pull without leaning further, in foot lengths [1]."""
    pull, closed = demand.setup.pull, demand.setup.closed
    if pull is None or closed is None:
        return demand.setup.balance
    posture = posture_of_pull(pull, closed.grip_height, unbalanced=True)
    return posture.balance_x / (pull.body.foot * pull.leg_projection)


def turns_in_the_air(demand: Demand, depth: Depth | None) -> bool:
    """Whether neither floor nor block nor the lifter's hips end the way down."""
    on_something = POSTURE_RULES[demand.exercise].grip_height is not None and (
        depth is None or depth.box_height is not None
    )
    return not on_something and "hip_flexion" not in demand.limited_by


def sided(down: Results | None, up: Results | None) -> Sides | None:
    """Both changes; one that cannot be had is taken to be the opposite of the other.

    Args:
        down: with the input moved down, None where nothing balances
        up: with the input moved up, None where nothing balances

    Returns:
        None where neither can be had
    """
    if down is None:
        return None if up is None else (opposite(up), up)
    return (down, opposite(down)) if up is None else (down, up)


def opposite(results: Results) -> Results:
    """The changes of an input moved the other way by which it does the opposite."""
    return tuple(map(neg, results))


def _moves(demand: Demand, pull: Pull) -> Iterator[tuple[str, Pull, Pull]]:
    """Each input with the pull where it is moved down and where it is moved up."""
    body, technique = demand.body, demand.technique
    for name, down, up in bodies_moved(body):
        yield name, for_body(pull, demand.exercise, down), for_body(pull, demand.exercise, up)
    scale = body.stature / BAR_REFERENCE_STATURE
    if technique.shin_angle is None:
        habit = POSTURE_RULES[demand.exercise].shin_of_lifter
        back, forth = pull.shin_angle - habit, pull.shin_angle + habit
        if technique.ankle_dorsiflexion is not None:
            forth = max(pull.shin_angle, min(forth, demand.setup.shin_limit))
        yield "shin_angle", replace(pull, shin_angle=back), replace(pull, shin_angle=forth)
    else:
        within = POSTURE_RULES[demand.exercise].shin_angle.within
        yield f"{AGAIN}shin_angle", *_both_ways(pull, "shin_angle", within)
    if pull.lean is None:
        yield "shoulder_ahead", *_both_ways(pull, "ahead", _PULL.shoulder_ahead.between * scale)
    else:
        yield "trunk_lean", *_both_ways(pull, "lean", _LEAN_ERROR)
        yield f"{AGAIN}trunk_lean", *_both_ways(pull, "lean", _LEAN_SCATTER)
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


def bodies_moved(body: Body, *, limbs: bool = True) -> Iterator[tuple[str, Body, Body]]:
    """Each input of the body with the lifter in whom it is moved down and up by its standard deviation.

    Args:
        body: the lifter
        limbs: whether also those that bear on legs and arms alone, and on no trunk of which the lean is known
    """
    spread, measured = length_spread(body.sex), body.measured
    if limbs and "shank" not in measured:
        yield "shank", *_scaled(body, spread.shank, "shank")
    if not {"thigh", "trunk"} <= {*measured}:
        yield "thigh_and_trunk", proportioned(body, -1.0), proportioned(body, 1.0)
    if limbs and "foot" not in measured:
        yield "foot", *_scaled(body, spread.foot, "foot", "ankle_from_heel", "ball_from_heel")
    if limbs:
        yield "arm", *_scaled(body, _PULL.arm_spread.value, "arm")
    level, step = body.lumbosacral_level, BODY.spread.lumbosacral_level.value
    yield (
        "lumbosacral_level",
        replace(body, lumbosacral_level=level - step),
        replace(body, lumbosacral_level=level + step),
    )
    lightest, heaviest = mass_above_range(body)
    yield "above_mass", replace(body, above_mass=lightest), replace(body, above_mass=heaviest)
    if body.sex is None:
        yield "segment_table", of_sex(body, "female"), of_sex(body, "male")


def _scaled(body: Body, spread: float, *lengths: str) -> tuple[Body, Body]:
    """The lifter with some lengths shorter and longer by a part of them [1]."""
    shorter, longer = (
        replace(body, **{name: (1.0 + part) * getattr(body, name) for name in lengths}) for part in (-spread, spread)
    )
    return shorter, longer
