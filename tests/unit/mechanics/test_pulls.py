"""The start of a pull, closed between the feet and the hands."""

from __future__ import annotations

from math import cos, degrees, hypot, pi, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.body import Body, build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.pull_setups import pull_setup
from service.mechanics.pulls import shoulder_ahead
from service.mechanics.seen import Seen
from service.mechanics.setups import Depth, Technique
from service.mechanics.statics import Solution, statics_of

PULLS = sorted(name for name, rule in POSTURE_RULES.items() if rule.family == "pull")
BEFORE_THE_SHIN = sorted(name for name in PULLS if POSTURE_RULES[name].line is None)
STANDARD = build_body(80.0, 1.78, "male")
REFERENCE = build_body(75.0, 1.75)
bodies = st.builds(build_body, st.floats(45.0, 130.0), st.floats(1.5, 2.0), st.sampled_from(["female", "male", None]))
ratios = st.floats(0.2, 2.5)


def pulled(body: Body, exercise: str, load: float, depth: Depth | None = None) -> Demand:
    try:
        return setup_demand(body, exercise, load, depth)
    except Refusal:
        assume(False)  # noqa: FBT003
        raise


def solved_at(demand: Demand, grip_height: float) -> Solution:
    """The lift as it passes one height of the grip."""
    assert demand.setup.pull is not None
    setup = pull_setup(demand.exercise, demand.setup.pull, grip_height, demand.setup.shin_limit, demand.setup.pitch)
    return statics_of(demand.body, setup).at(setup.thigh_angle)


@given(body=bodies, exercise=st.sampled_from(PULLS), ratio=ratios)
def test_every_link_is_as_long_as_the_limb(body: Body, exercise: str, ratio: float) -> None:
    demand = pulled(body, exercise, ratio * body.mass)
    posture, rule = demand.posture, POSTURE_RULES[exercise]
    reach = (posture.arms_from.x - posture.load_point.x, posture.arms_from.y - posture.load_point.y)
    assert hypot(*reach) == pytest.approx(body.arm, abs=1e-6)
    trunk = (posture.shoulder.x - posture.hip.x, posture.shoulder.y - posture.hip.y)
    assert hypot(*trunk) == pytest.approx(body.trunk, abs=1e-9)
    across, upward = posture.knee.x - posture.hip.x, posture.hip.y - posture.knee.y
    assert hypot(across / cos(rule.abduction), upward) == pytest.approx(body.thigh, abs=1e-6)
    grip = (rule.grip_height or 0.0) + rule.block_height
    if rule.grip_shank_fraction is not None:
        grip = body.ankle_height + rule.grip_shank_fraction * body.shank
    assert posture.load_point.y == pytest.approx(grip, abs=1e-6)
    lowered = POSTURES.pull.shoulder_drop.mean * body.stature / 1.75
    assert posture.shoulder.y - posture.arms_from.y == pytest.approx(lowered)


@given(body=bodies, exercise=st.sampled_from(PULLS), ratio=ratios)
def test_the_hip_is_behind_the_knee_and_above_it(body: Body, exercise: str, ratio: float) -> None:
    posture = pulled(body, exercise, ratio * body.mass).posture
    assert posture.hip.x < posture.knee.x
    assert posture.hip.y > posture.knee.y - 0.1 * body.stature


@given(body=bodies, exercise=st.sampled_from(PULLS), ratio=ratios)
def test_trunk_less_shin_is_hip_less_knee(body: Body, exercise: str, ratio: float) -> None:
    posture = pulled(body, exercise, ratio * body.mass).posture
    assert posture.trunk_lean - posture.shin_angle == pytest.approx(posture.hip_flexion - posture.knee_flexion)


@given(body=bodies, exercise=st.sampled_from(BEFORE_THE_SHIN), ratio=ratios)
def test_the_bar_touches_the_shin(body: Body, exercise: str, ratio: float) -> None:
    demand, pull = pulled(body, exercise, ratio * body.mass), POSTURES.pull
    posture, turned = demand.posture, demand.setup.stance.shank_ahead
    ahead, above = posture.load_point.x - posture.ankle.x, posture.load_point.y - posture.ankle.y
    across_the_shank = ahead * cos(posture.shin_angle) - turned * above * sin(posture.shin_angle)
    thick = pull.shin_to_front.mean * body.stature / 1.75 + pull.bar_radius.value
    assert across_the_shank == pytest.approx(thick, abs=1e-6)


@given(body=bodies, exercise=st.sampled_from(PULLS), ratio=ratios)
def test_body_and_load_stand_over_the_foot(body: Body, exercise: str, ratio: float) -> None:
    balance, limits = pulled(body, exercise, ratio * body.mass).setup.balance, POSTURES.limits.balance
    assert limits.low - 1e-6 <= balance <= limits.high


def test_a_light_load_takes_the_shoulder_further_ahead_and_says_so() -> None:
    light, heavy = (setup_demand(STANDARD, "deadlift_conventional", load) for load in (20.0, 120.0))
    assert "light_pull_leans_further" in light.cautions
    assert "light_pull_leans_further" not in heavy.cautions
    assert light.setup.balance == pytest.approx(POSTURES.limits.balance.low, abs=1e-6)
    assert light.trunk_lean > heavy.trunk_lean
    assert light.setup.carry.ahead > heavy.setup.carry.ahead == pytest.approx(0.07 * 1.78 / 1.75)


@pytest.mark.parametrize("exercise", PULLS)
def test_a_usual_lean_is_met_in_the_lifter_of_reference(exercise: str) -> None:
    rule = POSTURE_RULES[exercise]
    lean = setup_demand(REFERENCE, exercise, 120.0).trunk_lean
    if rule.trunk_lean is not None:
        assert degrees(lean) == pytest.approx(degrees(rule.trunk_lean.mean), abs=1e-4)
        assert shoulder_ahead(exercise) > POSTURES.pull.shoulder_ahead.mean
    else:
        assert shoulder_ahead(exercise) == POSTURES.pull.shoulder_ahead.mean


def test_the_conventional_start_is_the_published_one() -> None:
    """Trunk 61 (SD 8), knee 73 (12), from grip height, arms and bar; trunk less shin 53.4 (7.6) in competition."""
    posture = setup_demand(REFERENCE, "deadlift_conventional", 150.0).posture
    assert degrees(posture.trunk_lean) == pytest.approx(61.0, abs=8.0)
    assert degrees(posture.knee_flexion) == pytest.approx(73.0, abs=12.0)
    assert degrees(posture.trunk_lean - posture.shin_angle) == pytest.approx(53.4, abs=7.6)
    assert 0.5 < posture.load_point.x / REFERENCE.foot < 0.6  # about over mid-foot


def test_a_stated_lean_is_kept_and_the_shoulder_follows() -> None:
    usual = setup_demand(STANDARD, "deadlift_conventional", 100.0)
    stated = setup_demand(STANDARD, "deadlift_conventional", 100.0, None, Technique(trunk_lean=radians(55.0)))
    assert degrees(stated.trunk_lean) == pytest.approx(55.0)
    assert stated.setup.carry.ahead < usual.setup.carry.ahead
    same = setup_demand(STANDARD, "deadlift_conventional", 100.0, None, Technique(trunk_lean=usual.trunk_lean))
    assert same.moments.lumbosacral == pytest.approx(usual.moments.lumbosacral, rel=1e-6)


@given(body=bodies, exercise=st.sampled_from(PULLS), ratio=ratios, bent=st.floats(0.4, 1.1))
def test_a_depth_of_the_knee_is_met_by_the_height_of_the_grip(
    body: Body, exercise: str, ratio: float, bent: float
) -> None:
    demand = pulled(body, exercise, ratio * body.mass, Depth(knee_flexion=bent))
    assume("light_pull_leans_further" not in demand.cautions)
    assert demand.posture.knee_flexion == pytest.approx(bent, abs=1e-6)


def test_the_deepest_that_is_modelled_is_said_on_its_side_of_level() -> None:
    with pytest.raises(Refusal, match=r"no deeper than to thighs \d+ degrees above the horizontal"):
        setup_demand(STANDARD, "romanian_deadlift", 60.0, Depth(knee_flexion=radians(140.0)))
    with pytest.raises(Refusal, match=r"no deeper than \d+ degrees below the horizontal"):
        setup_demand(STANDARD, "back_squat_high_bar", 60.0, Depth(knee_flexion=radians(165.0)))


@pytest.mark.parametrize("exercise", ["deadlift_conventional", "deadlift_sumo", "deadlift_trap_bar"])
def test_hip_and_lower_back_are_hardest_at_the_start(exercise: str) -> None:
    demand = setup_demand(STANDARD, exercise, 120.0)
    assert demand.setup.closed is not None
    start = demand.setup.closed.grip_height
    way_up = [solved_at(demand, start + rise / 100) for rise in range(0, 40, 4)]
    for joint in ("hip", "lumbosacral"):
        moments = [getattr(solution, joint) for solution in way_up]
        assert max(moments) <= moments[0] * 1.01
        assert moments[-1] < 0.8 * moments[0]


def test_the_trunk_keeps_its_lean_until_the_bar_nears_the_knee() -> None:
    """The knees open first, the trunk after the bar has passed them."""
    demand = setup_demand(STANDARD, "deadlift_conventional", 120.0)
    start, higher, past = (degrees(solved_at(demand, grip).trunk_lean) for grip in (0.225, 0.30, 0.60))
    assert start - higher < 5.0
    assert start - past > 25.0


def test_arms_that_do_not_reach_are_refused_with_what_to_change() -> None:
    with pytest.raises(Refusal, match="straight arms"):
        setup_demand(STANDARD, "block_pull", 100.0, Depth(box_height=0.7))


def test_hands_further_away_than_an_arm_is_long_are_refused() -> None:
    upright_over_bent_knees = Technique(heel_lift=0.0048, shin_angle=radians(50.0), trunk_lean=0.0)
    with pytest.raises(Refusal, match="straight arms"):
        setup_demand(build_body(36.3, 2.291), "block_pull", 0.1, Depth(box_height=0.693), upright_over_bent_knees)


def test_a_stated_shin_that_tips_the_lifter_is_the_one_refused() -> None:
    with pytest.raises(Refusal) as refusal:
        setup_demand(STANDARD, "deadlift_sumo", 100.0, None, Technique(shin_angle=radians(50.0)))
    assert [fault.pointer for fault in refusal.value.faults] == ["/technique/shin_angle"]


def test_a_bar_that_drifts_leaves_the_shoulder_where_it_is() -> None:
    usual = setup_demand(STANDARD, "deadlift_conventional", 100.0)
    drifted = setup_demand(STANDARD, "deadlift_conventional", 100.0, None, Technique(bar_forward_of_midfoot=0.05))
    assert drifted.posture.shoulder.x == pytest.approx(usual.posture.shoulder.x)
    assert drifted.posture.load_point.x - usual.posture.load_point.x == pytest.approx(0.05)
    assert drifted.moments.lumbosacral > usual.moments.lumbosacral + 40.0


def test_the_hip_limit_of_a_lifter_raises_the_grip() -> None:
    free = setup_demand(STANDARD, "romanian_deadlift", 100.0)
    limited = setup_demand(STANDARD, "romanian_deadlift", 100.0, None, Technique(hip_flexion=radians(80.0)))
    assert "hip_flexion" in limited.limited_by
    assert degrees(limited.posture.hip_flexion) == pytest.approx(80.0, abs=1e-4)
    assert limited.posture.load_point.y > free.posture.load_point.y
    assert free.posture.thigh_angle < pi / 2


people = st.builds(
    lambda stature, index, sex: build_body(index * stature**2, stature, sex),
    st.floats(1.5, 2.0),
    st.floats(18.0, 35.0),
    st.sampled_from(["female", "male", None]),
)
"""Of a body mass index of 18 to 35 kg/m²."""
IN_THE_AIR = sorted(name for name in PULLS if POSTURE_RULES[name].grip_height is None)


@given(body=people, exercise=st.sampled_from(IN_THE_AIR), ratio=st.floats(0.2, 2.0))
def test_a_hinge_that_is_more_upright_turns_higher_and_spares_back_and_hip(
    body: Body, exercise: str, ratio: float
) -> None:
    """The knee stays bent as it is; the thigh does not go down for the hands to come as low as ever."""
    usual = pulled(body, exercise, ratio * body.mass)
    before = usual
    for degrees_less in (0.0, 8.0, 16.0, 24.0):
        lean = Technique(trunk_lean=usual.trunk_lean - radians(degrees_less))
        upright = setup_demand(body, exercise, ratio * body.mass, None, lean)
        assert upright.posture.knee_flexion == pytest.approx(usual.posture.knee_flexion, abs=1e-6)
        assert upright.setup.balance == pytest.approx(usual.setup.balance, abs=1e-6)
        if degrees_less:
            assert upright.posture.load_point.y > before.posture.load_point.y
            for joint in ("hip", "lumbosacral"):
                assert upright.peaks[joint].moment < before.peaks[joint].moment
        else:
            assert upright.posture.load_point.y == pytest.approx(usual.posture.load_point.y, abs=1e-6)
        before = upright


def test_a_hinge_turns_no_higher_than_its_stated_depth_or_hip_limit_says() -> None:
    stated = Technique(trunk_lean=radians(50.0))
    deep = setup_demand(STANDARD, "romanian_deadlift", 60.0, Depth(thigh_below_horizontal=radians(-60.0)), stated)
    assert degrees(deep.posture.thigh_angle) == pytest.approx(60.0, abs=1e-6)
    limited = Technique(trunk_lean=radians(60.0), hip_flexion=radians(75.0))
    high = setup_demand(STANDARD, "romanian_deadlift", 60.0, None, limited)
    assert high.limited_by == ("hip_flexion",)
    assert degrees(high.posture.hip_flexion) == pytest.approx(75.0, abs=1e-6)


@pytest.mark.parametrize("exercise", ["romanian_deadlift", "good_morning"])
def test_a_hinge_seen_more_upright_asks_less_of_back_and_hip(exercise: str) -> None:
    usual = setup_demand(STANDARD, exercise, 60.0)
    before = usual
    for less in (6.0, 12.0, 18.0):
        seen = Seen(shin_angle=None, trunk_lean=usual.trunk_lean - radians(less), thigh_angle=None, by="phone_video")
        upright = setup_demand(STANDARD, exercise, 60.0, None, Technique(seen=seen))
        assert upright.trunk_lean < before.trunk_lean
        assert upright.posture.knee_flexion == pytest.approx(usual.posture.knee_flexion, abs=radians(3.0))
        for joint in ("hip", "lumbosacral"):
            assert upright.peaks[joint].moment < before.peaks[joint].moment
        before = upright
