"""What was seen of a posture moves it by how far it is to be believed, and no balance is lost."""

from __future__ import annotations

from math import degrees, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.mechanics.body import SegmentLengths, build_body
from service.mechanics.inference import most_probable
from service.mechanics.seen import Seen, SeenBy
from service.mechanics.setups import Depth, Technique
from service.mechanics.uncertainty.propagation import UncertainDemand, uncertain_demand

SQUAT, LOAD = "back_squat_high_bar", 85.0
BODY = build_body(71.0, 1.73, "male")
MEASURED = build_body(71.0, 1.73, "male", SegmentLengths(shank=0.42, thigh=0.42, trunk=0.5, foot=0.26))


def squat(
    shin: float | None = None,
    lean: float | None = None,
    thigh: float | None = None,
    by: SeenBy | None = "phone_video",
    exercise: str = SQUAT,
) -> UncertainDemand:
    """The squat with angles [deg] that were seen."""
    shin, lean, thigh = (None if angle is None else radians(angle) for angle in (shin, lean, thigh))
    technique = Technique(seen=Seen(shin, lean, thigh, by)) if by else Technique()
    return uncertain_demand(MEASURED, exercise, LOAD, technique=technique)


USUAL = squat(by=None)
SHIN, LEAN = (degrees(angle) for angle in (USUAL.demand.bottom.shin_angle, USUAL.demand.trunk_lean))


def test_a_shin_on_video_is_believed_by_two_fifths() -> None:
    # the posture's own arithmetic: 16 / (16 + 4 + 4.5²)
    moved = degrees(squat(shin=SHIN + 6.0).demand.bottom.shin_angle) - SHIN
    assert moved / 6.0 == pytest.approx(16.0 / (16.0 + 4.0 + 4.5**2), abs=0.01)


def test_a_trunk_that_varies_by_eight_degrees_is_believed_by_three_quarters_on_video() -> None:
    # spread between lifters against the scatter of a repetition and the error of reading: 64 of 83
    state, covariance, surprise, variance = most_probable(
        (0.0, 0.0, 0.0, 0.0),
        [[64.0 if row == column == 0 else 0.0 for column in range(4)] for row in range(4)],
        10.0,
        7.0 + 12.0,
        lambda point: point[0],
    )
    assert state[0] == pytest.approx(7.71, abs=0.01)
    assert covariance[0][0] == pytest.approx(64.0 * 19.0 / 83.0)
    assert (surprise, variance) == pytest.approx((10.0, 83.0))


@pytest.mark.parametrize(("by", "share"), [("inclinometer", 0.63), ("phone_video", 0.4), ("eye", 0.28)])
def test_the_better_it_is_read_the_more_it_moves(by: SeenBy, share: float) -> None:
    moved = degrees(squat(shin=SHIN - 5.0, by=by).demand.bottom.shin_angle) - SHIN
    assert moved / -5.0 == pytest.approx(share, abs=0.02)


@given(lean=st.floats(LEAN - 15.0, LEAN + 15.0))
def test_a_lean_that_was_seen_is_met_in_part_and_balance_in_full(lean: float) -> None:
    found = squat(lean=lean).demand
    moved, wished = degrees(found.trunk_lean) - LEAN, lean - LEAN
    assert abs(moved) <= abs(wished) + 1e-6
    assert moved * wished >= 0.0
    if abs(wished) > 1.0:
        assert 0.4 < moved / wished < 0.9
    posture = found.posture
    assert posture.trunk_lean - posture.shin_angle == pytest.approx(posture.hip_flexion - posture.knee_flexion)
    assert posture.knee_flexion == pytest.approx(posture.shin_angle + pi / 2 - posture.thigh_angle)


def test_what_is_seen_as_usual_changes_nothing_but_makes_it_surer() -> None:
    seen = squat(shin=SHIN, lean=LEAN)
    for joint in ("knee", "hip", "lumbosacral"):
        assert seen.demand.peaks[joint].moment == pytest.approx(USUAL.demand.peaks[joint].moment, rel=1e-3)
    for result in ("knee", "lumbosacral", "trunk_lean"):
        there, here = USUAL.intervals[result], seen.intervals[result]
        assert here.high - here.low < there.high - there.low


def test_lengths_that_were_not_measured_explain_a_part_of_a_lean() -> None:
    technique = Technique(seen=Seen(None, radians(LEAN + 12.0), None, "phone_video"))
    found = uncertain_demand(BODY, SQUAT, LEAN + LOAD, technique=technique).demand
    assert found.body.thigh > BODY.thigh
    assert squat(lean=LEAN + 12.0).demand.body == MEASURED


def test_a_box_ends_the_movement_whatever_was_seen() -> None:
    technique = Technique(seen=Seen(None, None, radians(8.0), "phone_video"))
    box = Depth(box_height=0.4)
    plain = uncertain_demand(MEASURED, SQUAT, LOAD, box).demand
    seen = uncertain_demand(MEASURED, SQUAT, LOAD, box, technique).demand
    assert seen.posture.hip.y == pytest.approx(plain.posture.hip.y)
    assert seen.technique.departure is not None
    assert seen.technique.departure.depth == 0.0


@pytest.mark.parametrize(
    ("field", "given_seen"),
    [
        ("seen_by", Seen(0.5, None, None, None)),
        ("seen_by", Seen(None, None, None, "eye")),
        ("trunk_lean", Seen(None, radians(84), None, "phone_video")),
        ("trunk_lean", Seen(None, radians(95), None, "eye")),
        ("shin_angle", Seen(radians(70), None, None, "eye")),
    ],
)
def test_angles_that_cannot_be_are_refused_with_what_could(field: str, given_seen: Seen) -> None:
    with pytest.raises(Refusal) as refused:
        uncertain_demand(MEASURED, SQUAT, LOAD, technique=Technique(seen=given_seen))
    (fault,) = refused.value.faults
    assert fault.pointer == f"/technique/{field}"
    assert fault.allowed


def test_a_thigh_seen_in_a_pull_is_refused_and_its_shin_and_lean_stand_for_the_rule() -> None:
    with pytest.raises(Refusal):
        squat(thigh=20.0, exercise="deadlift_conventional")
    seen = squat(shin=14.0, exercise="deadlift_conventional").demand
    asked = uncertain_demand(MEASURED, "deadlift_conventional", LOAD, technique=Technique(shin_angle=radians(14.0)))
    assert seen.setup == asked.demand.setup


def test_a_lean_seen_in_a_good_morning_is_refused_and_not_dropped() -> None:
    with pytest.raises(Refusal) as refused:
        squat(lean=70.0, exercise="good_morning")
    assert [fault.pointer for fault in refused.value.faults] == ["/technique/trunk_lean"]


def test_a_lean_beyond_published_ones_is_said_wider_and_gone_once_it_was_seen() -> None:
    tall = build_body(80.0, 1.95, "male", SegmentLengths(shank=0.46, thigh=0.51, trunk=0.50, foot=0.27))
    steep = uncertain_demand(tall, "back_squat_low_bar", 60.0)
    assert degrees(steep.demand.trunk_lean) > 63.0
    assert "lean_beyond_published" in steep.cautions
    assert "lean_beyond_published" not in USUAL.cautions
    technique = Technique(seen=Seen(None, radians(58.0), None, "phone_video"))
    seen = uncertain_demand(tall, "back_squat_low_bar", 60.0, technique=technique)
    assert "lean_beyond_published" not in seen.cautions
    there, here = steep.intervals["lumbosacral"], seen.intervals["lumbosacral"]
    assert (here.high - here.low) / here.value < (there.high - there.low) / there.value
