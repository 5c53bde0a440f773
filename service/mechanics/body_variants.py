"""How much bodies of one stature differ, and the same lifter with other masses or proportions."""

from __future__ import annotations

from msgspec.structs import replace

from service.knowledge.anthropometry import BODY, LENGTH_SPREAD, LengthSpread, Sex
from service.mechanics.body import Body, masses_of, segment_fractions

_FEMALE, _MALE = LENGTH_SPREAD["female"], LENGTH_SPREAD["male"]
_MEAN_SPREAD = LengthSpread(
    (_FEMALE.shank + _MALE.shank) / 2,
    (_FEMALE.thigh + _MALE.thigh) / 2,
    (_FEMALE.trunk + _MALE.trunk) / 2,
    (_FEMALE.foot + _MALE.foot) / 2,
)
_LIGHTEST = BODY.spread.above_lumbosacral_mass_low.value
_HEAVIEST = BODY.spread.above_lumbosacral_mass_high.value


def length_spread(sex: Sex | None) -> LengthSpread:
    """Standard deviation of each segment length between people of one stature, as a fraction of the length [1].

    Args:
        sex: None for the mean of both sexes

    Source: Gordon 2014, standard deviations of measured ratios to stature.
    """
    return _MEAN_SPREAD if sex is None else LENGTH_SPREAD[sex]


def of_sex(body: Body, sex: Sex) -> Body:
    """The same lifter with the same lengths and breadths and the segment masses of one sex."""
    return replace(body, sex=sex, **masses_of(segment_fractions(sex), body.mass, body.stature))


def proportioned(body: Body, deviations: float) -> Body:
    """A lifter of the same stature with longer thighs, and so with a shorter trunk, as far as neither was measured.

    Args:
        body: the lifter
        deviations: by how many standard deviations the thigh is longer [1]
    """
    spread, measured = length_spread(body.sex), body.measured
    longer = 0.0 if "thigh" in measured else deviations * spread.thigh
    shorter = 0.0 if "trunk" in measured else deviations * spread.trunk
    return replace(body, thigh=body.thigh * (1.0 + longer), trunk=body.trunk * (1.0 - shorter))


def mass_above_range(body: Body) -> tuple[float, float]:
    """The mass above the lumbosacral joint by the lightest and the heaviest published share [kg]."""
    return min(body.above_mass, _LIGHTEST * body.mass), _HEAVIEST * body.mass
