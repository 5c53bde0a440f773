"""How much bodies of one stature differ, and the same lifter with the segment masses of one sex."""

from __future__ import annotations

from msgspec.structs import replace

from service.knowledge.anthropometry import LENGTH_SPREAD, LengthSpread, Sex
from service.mechanics.body import Body, segment_fractions

_FEMALE, _MALE = LENGTH_SPREAD["female"], LENGTH_SPREAD["male"]
_MEAN_SPREAD = LengthSpread(
    (_FEMALE.shank + _MALE.shank) / 2,
    (_FEMALE.thigh + _MALE.thigh) / 2,
    (_FEMALE.trunk + _MALE.trunk) / 2,
    (_FEMALE.foot + _MALE.foot) / 2,
)


def length_spread(sex: Sex | None) -> LengthSpread:
    """Standard deviation of each segment length between people of one stature, as a fraction of the length [1].

    Args:
        sex: None for the mean of both sexes

    Source: Gordon 2014, standard deviations of measured ratios to stature.
    """
    return _MEAN_SPREAD if sex is None else LENGTH_SPREAD[sex]


def of_sex(body: Body, sex: Sex) -> Body:
    """The same lifter with the same lengths and breadths and the segment masses of one sex."""
    fractions, mass = segment_fractions(sex), body.mass
    return replace(
        body,
        sex=sex,
        seat_to_hip=fractions.seat_to_hip * body.stature,
        feet_mass=fractions.feet_mass * mass,
        shanks_mass=fractions.shanks_mass * mass,
        thighs_mass=fractions.thighs_mass * mass,
        upper_mass=fractions.upper_mass * mass,
        arms_mass=fractions.arms_mass * mass,
        feet_centre=fractions.feet_centre,
        shank_centre=fractions.shank_centre,
        thigh_centre=fractions.thigh_centre,
        upper_centre_at_bar=fractions.upper_centre_at_bar,
        upper_centre_hanging=fractions.upper_centre_hanging,
        arms_centre=fractions.arms_centre * body.stature,
        lumbosacral_level=fractions.lumbosacral_level,
        above_mass=fractions.above_mass * mass,
        above_centre_at_bar=fractions.above_centre_at_bar,
        above_centre_hanging=fractions.above_centre_hanging,
    )
