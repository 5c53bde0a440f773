"""joint-demand through its request: comparisons, refusals that say what would help, presses and pulls."""

from __future__ import annotations

from typing import Any

import pytest

from service.mechanics.body import build_body
from tests.support.asking import ask, faults, kg

LIFTER: dict[str, Any] = {"body_mass": kg(80), "stature": {"value": 1.78, "unit": "m"}, "sex": "male"}


def deg(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "deg"}


def setup(label: str, exercise: str, load: float, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - request values
    return {"label": label, "exercise": exercise, "load": kg(load), **more}


def test_first_setup_is_the_reference_and_equals_itself() -> None:
    found = ask("joint-demand", {"lifter": LIFTER, "setups": [setup("one", "back_squat_high_bar", 100)]})
    assert found.reference == "one"
    only = found.setups[0]
    assert only.relative.knee.value == only.relative.hip.value == 1
    assert only.difference.knee == "no_clear_difference"


def test_bar_forward_of_midfoot_asks_more_of_the_hip_and_lumbosacral_joint_and_less_of_the_knee() -> None:
    drift = {"bar_forward_of_midfoot": {"value": 4, "unit": "cm"}}
    setups = [setup("over", "back_squat_high_bar", 100), setup("ahead", "back_squat_high_bar", 100, technique=drift)]
    ahead = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1].difference
    assert (ahead.knee, ahead.hip, ahead.lumbosacral) == ("lower", "higher", "higher")


def test_box_and_knee_flexion_give_the_depth_that_they_say() -> None:
    setups = [setup("bent", "front_squat", 60, depth={"knee_flexion": deg(90)})]
    assert ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[0].posture.knee_flexion.value == (
        pytest.approx(90, abs=1e-3)
    )


def test_two_ways_of_saying_the_depth_are_refused_at_the_depth() -> None:
    both = {"knee_flexion": deg(90), "thigh_below_horizontal": deg(0)}
    found = faults("joint-demand", {"lifter": LIFTER, "setups": [setup("x", "front_squat", 60, depth=both)]})
    assert [fault.pointer for fault in found] == ["/setups/0/depth"]


def test_posture_beyond_the_ankle_is_refused_with_what_would_make_it_possible() -> None:
    stiff = {**LIFTER, "ankle_dorsiflexion": deg(20)}
    steep = {"shin_angle": deg(40)}
    found = faults("joint-demand", {"lifter": stiff, "setups": [setup("x", "front_squat", 60, technique=steep)]})
    assert found[0].pointer == "/setups/0/technique/shin_angle"
    assert "heel lift" in (found[0].allowed or "")


def test_pull_up_counts_the_body_less_assistance() -> None:
    # a man of 80 kg with a maximum of 1.16 x body mass lifts 92.8 kg in all, 12.8 kg of it added; the pulldown ratio of
    # men is 0.802, of women 0.753 (Johnson 2009, abstract); the lower is used
    setups = [
        setup("added", "pull_up", 12.8),
        setup("helped", "pull_up", 0, assistance=kg(16.2)),
        setup("pulldown", "lat_pulldown", 60),
    ]
    added, helped, pulldown = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups
    assert added.total_load.value == pytest.approx(92.8)
    assert helped.total_load.value == pytest.approx(63.8)
    assert (pulldown.strength_ratio.ratio, pulldown.strength_ratio.source) == (0.753, "johnson_2009")
    assert added.posture is None
    assert added.evidence == "computed"
    assert added.moments.shoulder.value > helped.moments.shoulder.value


def test_assistance_of_the_whole_body_is_refused() -> None:
    found = faults("joint-demand", {"lifter": LIFTER, "setups": [setup("x", "pull_up", 0, assistance=kg(80))]})
    assert [fault.pointer for fault in found] == ["/setups/0/assistance"]


def test_narrow_grip_against_wide_shows_ratio_and_the_findings_on_both() -> None:
    # 109.8 and 103.7 kg: 0.944 (Larsen 2021, abstract)
    setups = [setup("wide", "bench_press_wide_grip", 60), setup("narrow", "bench_press_narrow_grip", 55)]
    narrow = ask("joint-demand", {"lifter": LIFTER, "setups": setups}).setups[1]
    assert narrow.strength_ratio.ratio == 0.944
    assert {finding.region for finding in narrow.published} >= {"shoulder"}
    assert all(finding.source == "larsen_2021a" for finding in narrow.published)


@pytest.mark.parametrize("segment", ["shank", "thigh", "trunk", "foot"])
def test_a_measured_length_is_no_longer_uncertain(segment: str) -> None:
    # measured as long as stature says: the moments stay and their spans shrink
    length = getattr(build_body(80.0, 1.78, "male"), segment)
    squat = [setup("squat", "back_squat_high_bar", 100)]
    measured = {**LIFTER, "segment_lengths": {segment: {"value": length, "unit": "m"}}}
    by_stature, by_tape = (
        ask("joint-demand", {"lifter": lifter, "setups": squat}).setups[0].moments for lifter in (LIFTER, measured)
    )
    shrunk = []
    for joint in ("ankle", "knee", "hip", "lumbosacral"):
        before, after = getattr(by_stature, joint), getattr(by_tape, joint)
        assert after.value == pytest.approx(before.value, rel=1e-4)
        width, now = before.high - before.low, after.high - after.low
        assert now <= width * (1 + 1e-4)
        shrunk.append(now < 0.999 * width)
    assert any(shrunk)
