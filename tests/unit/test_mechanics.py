"""What must hold for every lifter and setup of the planar model, whatever the figures."""

from __future__ import annotations

from math import degrees, isclose, radians

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import astuple, replace

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import Body, SegmentLengths, build_body, unusual_lengths
from service.mechanics.demand import JOINTS, Demand, setup_demand, solve
from service.mechanics.setups import Depth, StanceWidth, Technique, resolve_setup, shin_at
from service.mechanics.statics import stations_above
from service.mechanics.uncertainty.comparison import compare, difference
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.messages import message
from tests.support.reference_statics import moments_at

SOLVED_ON_THE_WAY = sorted(name for name, rule in EXERCISE_RULES.items() if rule.family not in ("pull", "split"))
SQUATS = sorted(name for name, rule in EXERCISE_RULES.items() if rule.family == "squat")
BACK_SQUAT = "back_squat_high_bar"

bodies = st.builds(
    build_body,
    st.floats(45.0, 150.0),
    st.floats(1.45, 2.05),
    st.sampled_from(["female", "male", None]),
)
load_ratios = st.floats(0.3, 2.5)
shins = st.floats(15.0, 40.0)
thighs = st.floats(-20.0, 60.0)


def balanced(
    body: Body, exercise: str, load: float, depth: Depth | None = None, technique: Technique | None = None
) -> Demand:
    """The demand, or another example where this one would tip."""
    try:
        return setup_demand(body, exercise, load, depth, technique)
    except Refusal:
        assume(False)  # noqa: FBT003
        raise


def at(thigh: float) -> Depth:
    return Depth(thigh_below_horizontal=-radians(thigh))


@given(body=bodies, ratio=load_ratios, shin=shins, thigh=thighs, longer=st.floats(1.01, 1.1))
def test_a_longer_thigh_leans_more(body: Body, ratio: float, shin: float, thigh: float, longer: float) -> None:
    technique = Technique(shin_angle=radians(shin))
    load = ratio * body.mass
    usual = balanced(body, BACK_SQUAT, load, at(thigh), technique)
    with_longer = balanced(replace(body, thigh=body.thigh * longer), BACK_SQUAT, load, at(thigh), technique)
    assert with_longer.trunk_lean > usual.trunk_lean


def _knee_about_the_hips_axis(demand: Demand) -> float:
    statics, posture = demand.statics, demand.posture
    of_shank = statics.legs.knee_per_reach * (posture.knee.x - posture.ankle.x)
    return statics.per_leg * (of_shank - statics.ankle_ahead)


@given(body=bodies, ratio=load_ratios, shin=shins, thigh=thighs, more=st.floats(0.5, 8.0))
def test_more_dorsiflexion_moves_demand_from_hip_to_knee(
    body: Body, ratio: float, shin: float, thigh: float, more: float
) -> None:
    load = ratio * body.mass
    before = balanced(body, BACK_SQUAT, load, at(thigh), Technique(shin_angle=radians(shin)))
    after = balanced(body, BACK_SQUAT, load, at(thigh), Technique(shin_angle=radians(shin + more)))
    assert after.moments.knee > before.moments.knee
    assert after.moments.hip < before.moments.hip
    turned = after.setup.stance.thigh_ahead / before.setup.stance.thigh_ahead
    both = [2 * one.moments.hip + 2 * _knee_about_the_hips_axis(one) for one in (before, after)]
    assert isclose(both[1], both[0] * turned, rel_tol=1e-9)


@given(
    body=bodies,
    exercise=st.sampled_from(SQUATS),
    thigh=thighs,
    limit=st.floats(15.0, 50.0),
    lift=st.floats(0.005, 0.08),
)
def test_a_heel_lift_raises_the_available_shin_angle(
    body: Body, exercise: str, thigh: float, limit: float, lift: float
) -> None:
    flat, lifted = (
        resolve_setup(
            body,
            exercise,
            body.mass,
            depth=at(thigh),
            technique=Technique(heel_lift=height, ankle_dorsiflexion=radians(limit)),
        )
        for height in (0.0, lift)
    )
    shins = [shin_at(setup, setup.thigh_angle) for setup in (flat, lifted)]
    if flat.shin_angle > flat.shin_limit:
        assert shins[1] > shins[0]
    else:
        assert shins[1] == shins[0]


@given(body=bodies, exercise=st.sampled_from(sorted(EXERCISE_RULES)), ratio=load_ratios, factor=st.floats(0.5, 2.0))
def test_moments_scale_with_masses(body: Body, exercise: str, ratio: float, factor: float) -> None:
    load = ratio * body.mass
    usual = balanced(body, exercise, load)
    masses = {name: getattr(body, name) * factor for name in body.__struct_fields__ if name.endswith("mass")}
    scaled = balanced(replace(body, **masses), exercise, load * factor)
    assert isclose(scaled.trunk_lean, usual.trunk_lean, rel_tol=1e-6, abs_tol=1e-8)
    for joint in JOINTS:
        assert isclose(
            getattr(scaled.moments, joint), factor * getattr(usual.moments, joint), rel_tol=1e-6, abs_tol=1e-6
        )


@given(body=bodies, ratio=load_ratios, thigh=thighs)
def test_a_belt_squat_puts_no_load_through_the_spine(body: Body, ratio: float, thigh: float) -> None:
    loaded = balanced(body, "belt_squat", ratio * body.mass, at(thigh))
    unloaded = balanced(body, "belt_squat", 0.0, at(thigh))
    assert loaded.load_above == 0.0
    assert isclose(loaded.moments.lumbosacral, unloaded.moments.lumbosacral, rel_tol=1e-9)
    assert loaded.moments.knee > unloaded.moments.knee or unloaded.moments.knee <= 0.0


@given(body=bodies, exercise=st.sampled_from(SOLVED_ON_THE_WAY), ratio=load_ratios, place=st.floats(0.0, 0.95))
def test_the_quick_solution_is_the_full_one(body: Body, exercise: str, ratio: float, place: float) -> None:
    found = balanced(body, exercise, ratio * body.mass)
    thigh = found.setup.thigh_angle + place * (radians(90.0) - found.setup.thigh_angle)
    posture, moments = moments_at(body, found.setup, thigh)
    quick = found.statics.at(thigh)
    for joint in JOINTS:
        assert getattr(quick, joint) == pytest.approx(getattr(moments, joint), rel=1e-9, abs=1e-9)
    assert (quick.trunk_lean, quick.shin_angle, quick.knee_x, quick.hip_x) == pytest.approx(
        (posture.trunk_lean, posture.shin_angle, posture.knee.x, posture.hip.x), rel=1e-9, abs=1e-9
    )


@given(body=bodies, exercise=st.sampled_from(sorted(EXERCISE_RULES)), ratio=load_ratios)
def test_a_demand_at_the_bottom_is_that_of_posture_and_moments(body: Body, exercise: str, ratio: float) -> None:
    """Moments summed from the ground up are those summed from the top down, and the joints are in the same places."""
    found = balanced(body, exercise, ratio * body.mass)
    posture, moments = moments_at(body, found.setup, found.setup.thigh_angle)
    assert astuple(found.moments) == pytest.approx(astuple(moments), rel=1e-9, abs=1e-9)
    assert found.posture.limited_by == posture.limited_by
    for name in ("ankle", "knee", "hip", "lumbosacral", "shoulder", "load_point"):
        assert astuple(getattr(found.posture, name)) == pytest.approx(astuple(getattr(posture, name)), abs=1e-9)


@given(body=bodies, exercise=st.sampled_from(sorted(EXERCISE_RULES)), ratio=load_ratios)
def test_the_peaks_alone_are_those_of_the_whole_demand(body: Body, exercise: str, ratio: float) -> None:
    found = balanced(body, exercise, ratio * body.mass)
    asked = solve(body, exercise, ratio * body.mass).peak_moments()
    assert asked == {joint: peak.moment for joint, peak in found.peaks.items()}


@given(
    body=bodies,
    exercise=st.sampled_from(SOLVED_ON_THE_WAY),
    ratio=load_ratios,
    thigh=thighs | st.none(),
    ankle=st.none() | st.floats(radians(15.0), radians(45.0)),
)
def test_no_peak_lies_beyond_where_the_way_up_is_left(
    body: Body, exercise: str, ratio: float, thigh: float | None, ankle: float | None
) -> None:
    depth = None if thigh is None else at(thigh)
    found = balanced(body, exercise, ratio * body.mass, depth, Technique(ankle_dorsiflexion=ankle))
    way_up = [found.bottom, *map(found.statics.at, stations_above(found.setup.thigh_angle).thigh_angle)]
    for joint in JOINTS:
        moments = [getattr(solution, joint) for solution in way_up]
        largest = max(moments) if max(moments) > 0.0 else min(moments)
        assert found.peaks[joint].moment == pytest.approx(largest, rel=1e-9, abs=1e-6)


@given(body=bodies, ratio=load_ratios, thigh=thighs, exercise=st.sampled_from(SQUATS))
def test_every_way_of_stating_a_depth_leads_to_the_same_bottom(
    body: Body, ratio: float, thigh: float, exercise: str
) -> None:
    load = ratio * body.mass
    by_thigh = balanced(body, exercise, load, at(thigh))
    by_knee = balanced(body, exercise, load, Depth(knee_flexion=by_thigh.posture.knee_flexion))
    box = by_thigh.posture.hip.y - body.seat_to_hip
    assume(0.05 < box < 0.8)
    by_box = balanced(body, exercise, load, Depth(box_height=box))
    assert degrees(by_knee.posture.thigh_angle) == pytest.approx(thigh, abs=1e-5)
    assert degrees(by_box.posture.thigh_angle) == pytest.approx(thigh, abs=1e-5)


@given(body=bodies, exercise=st.sampled_from(sorted(EXERCISE_RULES)), ratio=load_ratios)
def test_an_interval_holds_its_value_and_a_setup_does_not_differ_from_itself(
    body: Body, exercise: str, ratio: float
) -> None:
    balanced(body, exercise, ratio * body.mass)
    uncertain = uncertain_demand(body, exercise, ratio * body.mass)
    for name, interval in uncertain.intervals.items():
        assert interval.low <= interval.value <= interval.high
        if name != "trunk_lean":
            assert isclose(interval.value, uncertain.demand.peaks[name].moment, rel_tol=1e-9, abs_tol=1e-9)
    assert {found.difference for found in compare(uncertain, uncertain).values()} == {"no_clear_difference"}


@given(body=bodies, exercise=st.sampled_from(SQUATS), ratio=load_ratios)
def test_a_heavier_load_on_the_same_setup_is_clearly_more(body: Body, exercise: str, ratio: float) -> None:
    load = ratio * body.mass
    lighter = balanced(body, exercise, load)
    assume(lighter.peaks["knee"].moment > 0.0)
    assert (
        difference(uncertain_demand(body, exercise, load * 1.2), uncertain_demand(body, exercise, load), "hip")
        == "higher"
    )


@given(body=bodies, ratio=load_ratios)
def test_measured_lengths_narrow_the_interval(body: Body, ratio: float) -> None:
    load = ratio * body.mass
    balanced(body, BACK_SQUAT, load)
    lengths = SegmentLengths(shank=body.shank, thigh=body.thigh, trunk=body.trunk, foot=body.foot)
    measured = build_body(body.mass, body.stature, body.sex, lengths)
    wide, narrow = (uncertain_demand(lifter, BACK_SQUAT, load).intervals["hip"] for lifter in (body, measured))
    assert narrow.value == wide.value
    assert narrow.high - narrow.low < wide.high - wide.low


def test_a_hip_limit_cuts_the_usual_depth_and_refuses_an_asked_one() -> None:
    body = build_body(80.0, 1.75, "male")
    technique = Technique(hip_flexion=radians(115.0))
    cut = setup_demand(body, BACK_SQUAT, 80.0, None, technique)
    assert "hip_flexion" in cut.limited_by
    assert degrees(cut.posture.hip_flexion) == pytest.approx(115.0, abs=1e-6)
    with pytest.raises(Refusal, match="stated hip flexion") as refused:
        setup_demand(body, BACK_SQUAT, 80.0, at(0.0), technique)
    assert refused.value.faults[0].pointer == "/depth"
    assert refused.value.faults[0].allowed is not None


def test_an_ankle_limit_binds_and_is_named() -> None:
    body = build_body(80.0, 1.75, "male")
    found = setup_demand(body, BACK_SQUAT, 80.0, at(0.0), Technique(ankle_dorsiflexion=radians(25.0)))
    assert found.limited_by == ("ankle_dorsiflexion",)
    assert degrees(found.posture.ankle_dorsiflexion) == pytest.approx(25.0)


def test_an_impossible_posture_says_what_would_make_it_possible() -> None:
    body = build_body(80.0, 1.75, "male", SegmentLengths(thigh=0.49, shank=0.38))
    with pytest.raises(Refusal, match="would tip") as refused:
        setup_demand(body, BACK_SQUAT, 20.0, at(0.0), Technique(ankle_dorsiflexion=radians(15.0)))
    assert "technique/heel_lift" in str(refused.value.faults[0].allowed)


@pytest.mark.parametrize(
    ("mass", "stature", "sex", "lengths", "pointer"),
    [
        (29.0, 1.75, "male", None, "/mass"),
        (80.0, 2.4, None, None, "/stature"),
        (80.0, 1.75, "female", SegmentLengths(thigh=0.6), "/lengths/thigh"),
        (80.0, 1.75, "female", SegmentLengths(shank=0.3), "/lengths/shank"),
    ],
)
def test_an_unlikely_lifter_is_refused_by_name(
    mass: float, stature: float, sex: Sex | None, lengths: SegmentLengths | None, pointer: str
) -> None:
    with pytest.raises(Refusal) as refused:
        build_body(mass, stature, sex, lengths)
    assert refused.value.faults[0].pointer == pointer


def test_an_unusual_but_possible_length_is_accepted_with_a_caution() -> None:
    body = build_body(80.0, 1.75, "male", SegmentLengths(thigh=0.429 * 1.15))
    assert unusual_lengths(body) == ("thigh",)
    assert "unusual_segment_length" in setup_demand(body, BACK_SQUAT, 80.0).cautions


@pytest.mark.parametrize("sex", ["female", "male", None])
def test_the_parts_of_a_body_weigh_what_it_weighs(sex: Sex | None) -> None:
    body = build_body(80.0, 1.75, sex)
    assert body.upper_mass + body.thighs_mass + body.shanks_mass + body.feet_mass == pytest.approx(80.0)
    tabulated = {"female": 0.5823, "male": 0.6028, None: (0.5823 + 0.6028) / 2}  # de Leva 1996, head, arms and trunk
    assert body.upper_mass / 80.0 == pytest.approx(tabulated[sex], abs=2e-4)


@pytest.mark.parametrize(
    ("depth", "technique", "pointer"),
    [
        (Depth(), None, "/depth"),
        (Depth(thigh_below_horizontal=0.1, knee_flexion=1.0), None, "/depth"),
        (Depth(thigh_below_horizontal=radians(40.0)), None, "/depth/thigh_below_horizontal"),
        (Depth(box_height=0.9), None, "/depth/box_height"),
        (Depth(knee_flexion=radians(175.0)), None, "/depth/knee_flexion"),
        (None, Technique(heel_lift=0.2), "/technique/heel_lift"),
        (None, Technique(shin_angle=radians(70.0)), "/technique/shin_angle"),
        (None, Technique(shin_angle=radians(40.0), ankle_dorsiflexion=radians(30.0)), "/technique/shin_angle"),
        (None, Technique(trunk_lean=0.3), "/technique/trunk_lean"),
        (None, Technique(bar_forward_of_midfoot=0.15), "/technique/bar_forward_of_midfoot"),
    ],
)
def test_a_setup_out_of_range_is_refused_by_name(
    depth: Depth | None, technique: Technique | None, pointer: str
) -> None:
    body = build_body(80.0, 1.75, "male")
    with pytest.raises(Refusal) as refused:
        setup_demand(body, BACK_SQUAT, 150.0, depth, technique)
    assert refused.value.faults[0].pointer == pointer


def test_higher_blocks_need_less_lean() -> None:
    body = build_body(80.0, 1.75, "male")
    leans = [
        setup_demand(body, "block_pull", 100.0, Depth(box_height=height)).trunk_lean for height in (0.05, 0.1, 0.2)
    ]
    assert leans == sorted(leans, reverse=True)


def test_a_higher_step_bends_the_lead_leg_more() -> None:
    body = build_body(80.0, 1.75, "male")
    thighs = [
        setup_demand(body, "step_up", 20.0, Depth(box_height=box)).posture.thigh_angle for box in (0.2, 0.3, 0.45)
    ]
    assert thighs == sorted(thighs, reverse=True)


def test_straight_arms_reach_the_bar_at_the_start_of_a_deadlift() -> None:
    body = build_body(80.0, 1.75, "male")
    start = setup_demand(body, "deadlift_conventional", 100.0).posture
    reach = ((start.arms_from.x - start.load_point.x) ** 2 + (start.arms_from.y - start.load_point.y) ** 2) ** 0.5
    assert start.load_point.y == pytest.approx(0.225, abs=1e-6)  # radius of a standard disc, common practice
    assert reach == pytest.approx(body.arm, abs=1e-9)


def test_a_bar_that_drifts_forward_loads_hip_and_lower_back() -> None:
    body = build_body(80.0, 1.75, "male")
    drifted = uncertain_demand(body, "deadlift_conventional", 100.0, None, Technique(bar_forward_of_midfoot=0.05))
    usual = uncertain_demand(body, "deadlift_conventional", 100.0)
    assert difference(drifted, usual, "lumbosacral") == "higher"


def test_a_wide_stance_moves_the_hips_moment_to_the_adductors_and_takes_nothing_off_the_joint() -> None:
    body = build_body(80.0, 1.75, "male")
    wide = uncertain_demand(body, BACK_SQUAT, 100.0, None, Technique(stance="wide"))
    found = compare(wide, uncertain_demand(body, BACK_SQUAT, 100.0))
    assert found["hip_adductor"].difference == "higher"
    assert found["hip_resultant"].difference != "lower"
    assert {"thighs_far_out", "hip_abduction_not_stated"} <= set(wide.cautions)


@pytest.mark.parametrize("shin", [None, radians(25.0)])
def test_the_knee_is_told_no_relief_by_width_alone(shin: float | None) -> None:
    """Escamilla 2001b measured larger knee moments in wide stances, a study within lifters (larsen_2021b) less."""
    body = build_body(80.0, 1.75, "male")
    narrow, wide = (
        uncertain_demand(body, BACK_SQUAT, 100.0, None, Technique(stance=stance, shin_angle=shin))
        for stance in ("narrow", "wide")
    )
    assert difference(wide, narrow, "knee") == difference(narrow, wide, "knee") == "no_clear_difference"


@pytest.mark.parametrize("stated", [0.75, None])
def test_a_stated_limit_of_the_hip_limits(stated: float | None) -> None:
    body = build_body(80.0, 1.75, "male")
    limit = radians(20.0)
    technique = Technique(stance_width=stated, hip_abduction=limit, hip_external_rotation=radians(5.0))
    if stated is not None:
        with pytest.raises(Refusal) as refused:
            setup_demand(body, BACK_SQUAT, 100.0, None, technique)
        assert refused.value.faults[0].pointer == "/technique/stance_width"
        return
    demand = setup_demand(body, BACK_SQUAT, 100.0, None, technique)
    assert demand.setup.stance.thigh <= limit
    assert demand.setup.stance.toe_out == radians(5.0)
    assert {"hip_abduction", "hip_external_rotation"} <= set(demand.limited_by)


def test_a_toe_out_beyond_the_stated_rotation_is_refused() -> None:
    technique = Technique(toe_out=radians(30.0), hip_external_rotation=radians(20.0))
    with pytest.raises(Refusal) as refused:
        setup_demand(build_body(80.0, 1.75, "male"), BACK_SQUAT, 100.0, None, technique)
    assert refused.value.faults[0].pointer == "/technique/toe_out"


def test_a_width_that_no_leg_reaches_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        setup_demand(build_body(80.0, 1.75, "male"), BACK_SQUAT, 100.0, None, Technique(stance_width=1.2))
    assert refused.value.faults[0].pointer == "/technique/stance_width"
    assert "1." in str(refused.value.faults[0].allowed) or "0." in str(refused.value.faults[0].allowed)


@pytest.mark.parametrize(("exercise", "stance"), [("deadlift_conventional", "wide")])
def test_a_stance_that_the_model_does_not_tell_apart_is_said(exercise: str, stance: StanceWidth) -> None:
    body = build_body(80.0, 1.75, "male")
    usual, asked = (
        setup_demand(body, exercise, 100.0, None, technique) for technique in (None, Technique(stance=stance))
    )
    assert asked.peaks == usual.peaks
    assert [one for one in asked.assumptions if one not in usual.assumptions] == [message("assumed_stance_as_usual")]


def test_an_exercise_without_a_posture_rule_is_refused() -> None:
    with pytest.raises(Refusal, match="no posture rule"):
        setup_demand(build_body(80.0, 1.75), "bench_press", 80.0)
