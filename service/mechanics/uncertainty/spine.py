"""Lumbosacral load with its uncertainty: of a solved posture, or of a trunk of which only the lean is known.

Both keep the inputs of the lifter in the order of service.mechanics.uncertainty.scopes, so that what two setups share
moves together in both; in the compression the lever arm of the extensor, which all setups share, stands before them.
"""

from __future__ import annotations

from math import cos, radians, sin
from operator import sub
from typing import Final, Literal

from msgspec import Struct

from service.intervals import Interval
from service.knowledge.catalogue import Exercise
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import GRAVITY, Body
from service.mechanics.body_variants import mass_above_range
from service.mechanics.spinal_setups import load_at_lean, load_path
from service.mechanics.spine import ARM, SpineLoad, muscle_balance
from service.mechanics.uncertainty.comparison import Comparison, at_pace, compared
from service.mechanics.uncertainty.differences import bodies_moved, opposite
from service.mechanics.uncertainty.intervals import Changes, changes_of, combined, parts_of
from service.mechanics.uncertainty.propagation import UncertainDemand, Variant
from service.mechanics.uncertainty.scopes import LIFTER, UNEVEN, Sides, changes_by_sides
from service.vocabulary import Difference, Implement

LeanFrom = Literal["stated", "computed", "assumed"]

_ERRORS: Final = {
    "stated": radians(CHOICES.spine.stated_lean_error),
    "assumed": radians(CHOICES.spine.assumed_lean_error),
}
_SCATTER: Final = radians(CHOICES.spine.repeated_lean)
_RESIDUAL: Final = POSTURES.defaults.trunk_residual.in_radians().between
_BAR: Final = POSTURES.spread.bar_anterior.value
_MASS: Final = LIFTER.index("above_mass")
_UNEVEN_MASS: Final = len(LIFTER) + UNEVEN.index("above_mass")


_IN_PROPORTION: Final = frozenset({"lumbosacral_level"})
"""Inputs of the body that move a load at a known lean in exact proportion, so that one side stands for both."""


class UncertainSpine(Struct, frozen=True, gc=False):
    """The load on the lumbosacral joint in one setup, with its uncertainty.

    Attributes:
        load: mass of the implement carried through the spine [kg]
        central: central values
        lean: trunk from the vertical at the bottom, of one standard deviation [rad]
        moment: changes of the extensor moment
        compression: changes of the force along the trunk
        shear: changes of the force across the trunk
        variant: what the lean is from, and what selects the posture rule
    """

    load: float
    central: SpineLoad
    lean: Interval
    moment: Changes
    compression: Changes
    shear: Changes
    variant: Variant


class SpineComparison(Struct, frozen=True):
    """A setup against the reference.

    Attributes:
        load: ratio of the loads through the spine, None where the reference puts none through it [1]
        moment: lumbosacral moments
        compression: compressions
    """

    load: float | None
    moment: Comparison
    compression: Comparison

    def at_pace(self, pace: Interval) -> SpineComparison:
        """The comparison of one repetition with another.

        Args:
            pace: factor of the turn over the reference's [1]
        """
        return SpineComparison(self.load, at_pace(self.moment, pace), at_pace(self.compression, pace))

    @property
    def difference(self) -> Difference:
        """The verdict on which moment and compression agree."""
        agreed = self.moment.difference == self.compression.difference
        return self.moment.difference if agreed else "no_clear_difference"


def of_posture(uncertain: UncertainDemand) -> UncertainSpine:
    """The load in a solved posture, where its moment is greatest.

    Args:
        uncertain: the setup solved

    Source: statics, single-equivalent-muscle model.
    """
    demand, moment, lean = uncertain.demand, uncertain.changes["lumbosacral"], uncertain.changes["trunk_lean"]
    peak, bottom = demand.peaks["lumbosacral"], demand.bottom
    at_peak = bottom if peak.thigh_angle == demand.setup.thigh_angle else demand.statics.at(peak.thigh_angle)
    s, c = sin(at_peak.trunk_lean), cos(at_peak.trunk_lean)
    weight = demand.weight_above
    central = muscle_balance(peak.moment, weight * c, weight * s, ARM.value)
    mass = _of_mass_above(demand.body, lean)
    compression = combined((moment, 1.0 / ARM.value), (lean, -weight * s), (mass, GRAVITY * c))
    return UncertainSpine(
        demand.load_above,
        central,
        uncertain.intervals["trunk_lean"],
        moment,
        _with_arm(compression, peak.moment),
        combined((lean, weight * c), (mass, GRAVITY * s)),
        ("computed", *uncertain.variant),
    )


def of_lean(
    body: Body,
    exercise: Exercise,
    load: float,
    lean: float,
    lean_from: LeanFrom,
    implement: Implement | None = None,
) -> UncertainSpine:
    """The load at a lean that is stated or assumed, with the load in its usual place on the trunk or hanging below it.

    Args:
        body: the lifter
        exercise: with a carry of service.mechanics.spinal_setups.CARRIES
        load: on the implement [kg]
        lean: trunk from the vertical [rad]
        lean_from: stated, which every setup has its own error of, or assumed, as lifters differ in the exercise
        implement: what is lifted, None for what the exercise is usually done with

    Source: statics, single-equivalent-muscle model; JCGM 100:2008.
    """
    error = _ERRORS[lean_from]

    def results(body: Body, *, tilt: float = 0.0, ahead: float = 0.0) -> tuple[float, float, float]:
        one = load_at_lean(exercise, body, load, lean + tilt, ahead=ahead, implement=implement)
        return one.moment, one.compression, one.shear

    central = load_at_lean(exercise, body, load, lean, implement=implement)
    nominal = central.moment, central.compression, central.shear

    def change(moved: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(map(sub, moved, nominal))

    sides: dict[str, Sides] = {}
    for name, down, up in bodies_moved(body, limbs=False):
        above = change(results(up))
        sides[name] = (opposite(above) if name in _IN_PROPORTION else change(results(down))), above
    # the trunk's line is more upright than it is seen where the spine curves forward
    for name, step in (("trunk_residual", -_RESIDUAL), ("lean", error), ("lean_again", _SCATTER)):
        sides[name] = change(results(body, tilt=-step)), change(results(body, tilt=step))
    if exercise.carry == "trunk":
        further = change(results(body, ahead=_BAR * body.stature / BAR_REFERENCE_STATURE))
        sides["bar_anterior"] = opposite(further), further
    own = ("lean", "bar_anterior") if lean_from == "assumed" else ("bar_anterior",)
    of_setup = ("lean",) if lean_from == "stated" else ()
    moment, compression, shear = changes_by_sides(sides, own, of_setup=of_setup, of_repetition=("lean_again",))
    return UncertainSpine(
        load_path(exercise, body, load, lean, implement=implement).load,
        central,
        Interval(lean, lean - error, lean + error),
        moment,
        _with_arm(compression, central.moment),
        shear,
        (lean_from, exercise.id),
    )


def _of_mass_above(body: Body, like: Changes) -> Changes:
    """Changes of the mass above the joint [kg], in the order of other changes."""
    mass = parts_of(*(end - body.above_mass for end in mass_above_range(body)))
    of_lifter = [0.0] * len(like.of_lifter)
    of_lifter[_MASS], of_lifter[_UNEVEN_MASS] = mass.even, mass.uneven
    exercise, repetition, setup = ((0.0,) * len(one) for one in (like.of_exercise, like.of_repetition, like.of_setup))
    return changes_of(tuple(of_lifter), exercise, repetition, setup, shift=mass.shift)


def _with_arm(compression: Changes, moment: float) -> Changes:
    """The changes of a compression with those that the muscle's lever arm makes at a moment [N·m]."""
    arm = parts_of(moment / ARM.low - moment / ARM.value, moment / ARM.high - moment / ARM.value)
    return changes_of(
        (arm.even, arm.uneven, *compression.of_lifter),
        compression.of_exercise,
        compression.of_repetition,
        compression.of_setup,
        shift=compression.shift + arm.shift,
    )


def against_reference(new: UncertainSpine, reference: UncertainSpine) -> SpineComparison:
    """A setup against the reference, the uncertainties that both share moved together.

    Args:
        new: to be compared
        reference: with which it is compared; of the reference itself every ratio is 1
    """
    through = round(new.load / reference.load, 6) if reference.load > 0 else None
    same = new.variant == reference.variant
    here, there = new.central, reference.central
    return SpineComparison(
        through,
        compared(here.moment, new.moment, there.moment, reference.moment, same_exercise=same),
        compared(here.compression, new.compression, there.compression, reference.compression, same_exercise=same),
    )
