"""How much bodies of one stature differ, and the same lifter with the segment masses of one sex."""

from __future__ import annotations

from msgspec.structs import replace

from service.knowledge.anthropometry import LENGTH_SPREAD, LengthSpread, Sex
from service.mechanics.body import Body, SegmentLengths, build_body

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
    measured = SegmentLengths(**{name: getattr(body, name) for name in body.measured})
    return replace(
        build_body(body.mass, body.stature, sex, measured),
        hip_centres=body.hip_centres,
        hip_breadth=body.hip_breadth,
        shoulder_breadth=body.shoulder_breadth,
    )
