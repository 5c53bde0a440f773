"""What was seen of a posture moves it by how far it is to be believed, and no balance is lost."""

from __future__ import annotations

from math import degrees, pi, radians, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.errors import Refusal
from service.mechanics.body import SegmentLengths, build_body
from service.mechanics.inference import Spread, most_probable
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
    found = most_probable([Spread(8.0, sqrt(7.0))], [(10.0, 12.0)], lambda point: point)
    assert found.state == pytest.approx((7.71,), abs=0.01)
    assert (*found.predicted, *found.uncertain_by) == pytest.approx((0.0, sqrt(83.0)), abs=1e-9)


def test_what_each_of_two_readings_contradicts_is_what_the_other_lets_expect() -> None:
    found = most_probable([Spread(8.0, 0.0)], [(10.0, 12.0), (-10.0, 12.0)], lambda point: [point[0], point[0]])
    assert found.state == pytest.approx((0.0,), abs=1e-9)
    believed = 64.0 / 76.0
    assert found.predicted == pytest.approx((-10.0 * believed, 10.0 * believed))
    assert found.uncertain_by == pytest.approx((sqrt(64.0 * (1.0 - believed) + 12.0),) * 2)


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
        assert 0.3 < moved / wished < 0.9  # what the spine's curve looks like takes its part, and changes no balance
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


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "deadlift_trap_bar", "split_squat", "good_morning"])
@pytest.mark.parametrize(("angle", "beyond"), [("shin_angle", 4.0), ("trunk_lean", 5.0), ("thigh_angle", 4.0)])
def test_in_every_lift_an_angle_that_was_seen_is_met_in_part_and_the_more_the_better_it_is_read(
    exercise: str, angle: str, beyond: float
) -> None:
    usual = uncertain_demand(BODY, exercise, LOAD)
    there = getattr(usual.demand.posture, angle)
    depth = Depth(thigh_below_horizontal=0.0) if exercise == "split_squat" else None
    moved, spans = [], []
    for by in ("eye", "phone_video", "inclinometer"):
        seen = Seen(
            **{**dict.fromkeys(("shin_angle", "trunk_lean", "thigh_angle")), "by": by, angle: there + radians(beyond)}
        )
        found = uncertain_demand(BODY, exercise, LOAD, depth, Technique(seen=seen))
        moved.append(degrees(getattr(found.demand.posture, angle) - there) / beyond)
        spans.append(found.intervals["trunk_lean"].high - found.intervals["trunk_lean"].low)
    assert 0.0 < moved[0] < moved[1] + 1e-9 < moved[2] + 2e-9 < 1.0
    widest = usual.intervals["trunk_lean"].high - usual.intervals["trunk_lean"].low
    assert widest >= spans[0] >= spans[1] >= spans[2] > 0.0


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "split_squat"])
def test_a_lean_that_was_seen_is_less_sure_than_one_that_is_asked_for(exercise: str) -> None:
    lean = uncertain_demand(MEASURED, exercise, 40.0).demand.trunk_lean
    seen = uncertain_demand(MEASURED, exercise, 40.0, technique=Technique(seen=Seen(None, lean, None, "eye")))
    assert seen.demand.technique.trunk_lean is None
    spread = seen.intervals["trunk_lean"].high - seen.intervals["trunk_lean"].low
    assert spread > 2.0 * radians(4.0)


@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "split_squat"])
def test_a_thigh_that_was_seen_is_the_depth_where_none_is_stated(exercise: str) -> None:
    seen = Seen(None, None, radians(45.0), "phone_video")
    found = uncertain_demand(MEASURED, exercise, 40.0, technique=Technique(seen=seen))
    asked = uncertain_demand(MEASURED, exercise, 40.0, Depth(thigh_below_horizontal=radians(-45.0)))
    assert found.demand.setup.thigh_angle == pytest.approx(radians(45.0))
    assert found.values.knee == pytest.approx(asked.values.knee, rel=0.1)


def test_what_balance_overrules_is_said_with_how_far_from_two_deviations() -> None:
    near, far = squat(shin=SHIN + 5.0), squat(shin=40.0, lean=LEAN + 16.0)
    assert near.demand.of_seen == ()
    (said,) = far.demand.of_seen
    assert said.code == "seen_unlike_balance"
    assert said.values["deviations"] >= 2.0


@given(
    exercise=st.sampled_from(
        ["back_squat_high_bar", "front_squat", "good_morning", "romanian_deadlift", "split_squat"]
    ),
    lean=st.floats(0.0, 85.0),
    shin=st.none() | st.floats(-15.0, 50.0),
    thigh=st.none() | st.floats(-25.0, 75.0),
    by=st.sampled_from(["eye", "phone_video", "inclinometer"]),
)
def test_whatever_was_seen_is_taken_or_refused_where_it_stands(
    exercise: str, lean: float, shin: float | None, thigh: float | None, by: SeenBy
) -> None:
    try:
        squat(shin, lean, thigh, by, exercise)
    except Refusal as refused:
        (fault,) = refused.faults
        stated = (
            {"trunk_lean"}
            | ({"shin_angle"} if shin is not None else set())
            | ({"thigh_angle"} if thigh is not None else set())
        )
        assert fault.pointer.removeprefix("/technique/") in stated
        assert fault.allowed


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
