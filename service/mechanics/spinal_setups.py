"""Setups of one lifter as the spine model takes them: the load path of an exercise, and one setup against another."""

from __future__ import annotations

from typing import Final

import msgspec

from service.intervals import Interval, exactly
from service.knowledge.catalogue import Exercise
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body
from service.mechanics.spine import FRACTION, Extremes, SpineSetup, UpperBody, relative
from service.vocabulary import Difference

CARRIES: Final = ("trunk", "hands", "pelvis")
"""How a load may be carried that has a modelled path through a standing spine, or, at the pelvis, none through it."""


class SpineComparison(msgspec.Struct, frozen=True):
    """A setup against the reference.

    Attributes:
        load: ratio of the loads through the spine, None where the reference puts none through it [1]
        moment: ratio of the lumbosacral moments, None where the reference's is nil [1]
        compression: ratio of the compressions, None where the reference's is nil [1]
    """

    load: float | None
    moment: Interval | None
    compression: Interval | None

    @property
    def difference(self) -> Difference:
        """The verdict of moment and compression together; a span across 1 is no clear difference."""
        ratios = [ratio for ratio in (self.moment, self.compression) if ratio is not None]
        if ratios and all(ratio.high < 1 for ratio in ratios):
            return "lower"
        if ratios and all(ratio.low > 1 for ratio in ratios):
            return "higher"
        return "no_clear_difference"


def upper_body(body: Body, *, hanging: bool) -> UpperBody:
    """The body above the lumbosacral joint, up to the heaviest published share of body mass.

    Args:
        body: of the lifter
        hanging: whether the arms hang with the load in the hands, and are not at a bar

    Source: dumas_wojtusch_2018.
    """
    centre = body.above_centre_hanging if hanging else body.above_centre_at_bar
    mass = Interval(body.above_mass, min(body.above_mass, FRACTION.low * body.mass), FRACTION.high * body.mass)
    return UpperBody(mass, (centre - body.lumbosacral_level) * body.trunk)


def load_path(exercise: Exercise, body: Body, load: float, lean: float, own_error: float) -> SpineSetup:
    """Where the load of an exercise acts on the trunk.

    Args:
        exercise: with a carry of CARRIES
        body: of the lifter
        load: on the implement [kg]
        lean: trunk from the vertical [rad]
        own_error: of a lean that is computed or assumed [rad]
    """
    along, anterior = body.trunk * (1 - body.lumbosacral_level), 0.0
    rule = EXERCISE_RULES.get(exercise.id)
    if exercise.carry == "trunk" and rule is not None:
        scale = body.stature / BAR_REFERENCE_STATURE
        along, anterior = along + rule.along * scale, rule.anterior * scale
    return SpineSetup(0.0 if exercise.carry == "pelvis" else load, along, anterior, lean, own_error)


def against_reference(
    setup: SpineSetup, reached: Extremes, reference: SpineSetup, reference_reached: Extremes
) -> SpineComparison:
    """A setup against the reference, the uncertainties that both share moved together.

    Args:
        setup: to be compared
        reached: its values over the uncertainties
        reference: with which it is compared; of the reference itself every ratio is 1
        reference_reached: the reference's values over the uncertainties
    """
    through = round(setup.load / reference.load, 6) if reference.load > 0 else None
    if setup is reference:
        return SpineComparison(through, exactly(1.0), exactly(1.0))
    here, there = reached.central, reference_reached.central
    return SpineComparison(
        through,
        relative(
            here.moment,
            reached.least_moment,
            reached.greatest_moment,
            there.moment,
            reference_reached.least_moment,
            reference_reached.greatest_moment,
        ),
        relative(
            here.compression,
            reached.least_compression,
            reached.greatest_compression,
            there.compression,
            reference_reached.least_compression,
            reference_reached.greatest_compression,
        ),
    )
