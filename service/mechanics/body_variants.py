"""The same lifter with one thing about the body otherwise, and how much bodies of one stature differ."""

from __future__ import annotations

from service.knowledge.posture_rules import LENGTH_SPREAD, LengthSpread, Sex
from service.mechanics.body import Body, SegmentLengths, build_body

_FEMALE, _MALE = LENGTH_SPREAD["female"], LENGTH_SPREAD["male"]
_MEAN_SPREAD = LengthSpread(
    (_FEMALE.shank + _MALE.shank) / 2,
    (_FEMALE.thigh + _MALE.thigh) / 2,
    (_FEMALE.trunk + _MALE.trunk) / 2,
    (_FEMALE.foot + _MALE.foot) / 2,
)


def length_spread(sex: Sex | None) -> LengthSpread:
    """How much each segment varies between people of one stature, as a fraction; the mean where sex is not stated.

    Source: Gordon 2014, standard deviations of measured ratios to stature.
    """
    return _MEAN_SPREAD if sex is None else LENGTH_SPREAD[sex]


def of_sex(body: Body, sex: Sex) -> Body:
    """The same lifter, measured lengths and all, with the segment masses of one sex."""
    measured = SegmentLengths(**{name: getattr(body, name) for name in body.measured})
    return build_body(body.mass, body.stature, sex, measured)
