"""The same lifter with one thing about the body otherwise, for sweeps."""

from __future__ import annotations

from msgspec.structs import replace

from service.knowledge.mechanics_data import LENGTH_SPREAD, LengthSpread, Sex
from service.mechanics.body import Body, SegmentLengths, build_body


def length_spread(sex: Sex | None) -> LengthSpread:
    """How much each segment varies between people of one stature, as a fraction; the mean where sex is not stated.

    Source: Gordon 2014, standard deviations of measured ratios to stature.
    """
    if sex is not None:
        return LENGTH_SPREAD[sex]
    female, male = LENGTH_SPREAD["female"], LENGTH_SPREAD["male"]
    return LengthSpread(
        (female.shank + male.shank) / 2,
        (female.thigh + male.thigh) / 2,
        (female.trunk + male.trunk) / 2,
        (female.foot + male.foot) / 2,
    )


def with_foot(body: Body, factor: float) -> Body:
    """The same lifter with a longer or shorter foot; ankle and ball keep their places in proportion."""
    return replace(
        body,
        foot=body.foot * factor,
        ankle_from_heel=body.ankle_from_heel * factor,
        ball_from_heel=body.ball_from_heel * factor,
    )


def of_sex(body: Body, sex: Sex) -> Body:
    """The same lifter, measured lengths and all, with the segment masses of one sex."""
    measured = SegmentLengths(**{name: getattr(body, name) for name in body.measured})
    return build_body(body.mass, body.stature, sex, measured)
