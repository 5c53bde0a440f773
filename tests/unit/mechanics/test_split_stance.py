"""Split stances in equilibrium: lean, lead shin, foot spacing and share fix each other."""

from __future__ import annotations

from itertools import pairwise
from math import acos, atan2, cos, degrees, hypot, pi, radians, sin

import pytest
from hypothesis import assume, given, reject
from hypothesis import strategies as st
from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import GRAVITY, Body, build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.setups import Depth, Technique
from service.mechanics.split_stance import SplitStance, in_equilibrium
from service.mechanics.step_up import risen_of
from service.mechanics.supports import QUANTITIES, supports_of

LIFTER = build_body(80.0, 1.78, "male")
PLANTED = ("split_squat", "rear_foot_elevated_split_squat", "lunge")
SPLITS = sorted(name for name, rule in EXERCISE_RULES.items() if rule.family == "split")
bodies = st.builds(build_body, st.floats(45, 140), st.floats(1.5, 2.0), st.sampled_from(["female", "male", None]))
ratios = st.floats(0.0, 2.0)


def split_of(demand: Demand) -> SplitStance:
    assert demand.setup.split is not None
    return demand.setup.split


def values(split: SplitStance) -> tuple[float, ...]:
    return tuple(getattr(split, name) for name in QUANTITIES)


def centre_behind_lead_foot(demand: Demand) -> float:
    """Common centre of mass behind the lead foot's centre of pressure [m], summed part by part."""
    body, posture, split = demand.body, demand.posture, split_of(demand)
    hip, knee, ankle = posture.hip.x, posture.knee.x, posture.ankle.x
    rear = posture.balance_point - split.foot_spacing
    bar = demand.setup.carry.kind == "trunk"
    centre = body.upper_centre_at_bar if bar else body.upper_centre_hanging
    arms = 0.0 if bar else body.arms_mass * body.arms_centre
    length = body.thigh + body.shank
    first = (
        body.upper_mass * hip
        + (body.upper_mass * centre * body.trunk + arms) * sin(posture.trunk_lean)
        + demand.load * posture.load_point.x
        + body.thighs_mass / 2 * (hip + body.thigh_centre * (knee - hip))
        + body.shanks_mass / 2 * (knee + body.shank_centre * (ankle - knee))
        + body.feet_mass / 2 * body.feet_centre * body.foot
        + body.thighs_mass / 2 * (hip + body.thigh_centre * body.thigh / length * (rear - hip))
        + body.shanks_mass / 2 * (hip + (body.thigh + body.shank_centre * body.shank) / length * (rear - hip))
        + body.feet_mass / 2 * rear
    )
    return posture.balance_point - first / (body.mass + demand.load)


@given(body=bodies, exercise=st.sampled_from(SPLITS), ratio=ratios, dumbbells=st.booleans())
def test_the_share_is_the_place_of_the_centre_of_mass(body: Body, exercise: str, ratio: float, dumbbells: bool) -> None:  # noqa: FBT001
    demand = setup_demand(body, f"{exercise}/dumbbells" if dumbbells else exercise, ratio * body.mass)
    split = split_of(demand)
    assert centre_behind_lead_foot(demand) == pytest.approx((1 - split.lead_share) * split.foot_spacing, abs=1e-12)


@given(body=bodies, exercise=st.sampled_from(PLANTED), ratio=ratios, name=st.sampled_from(QUANTITIES))
def test_any_three_give_the_fourth(body: Body, exercise: str, ratio: float, name: str) -> None:
    usual = split_of(setup_demand(body, exercise, ratio * body.mass))
    stated = {one: getattr(usual, one) for one in QUANTITIES if one != name}
    again = split_of(setup_demand(body, exercise, ratio * body.mass, None, Technique(**stated)))
    assert again.free == (name,)
    assert values(again) == pytest.approx(values(usual), abs=1e-9)


@given(body=bodies, exercise=st.sampled_from(PLANTED), ratio=ratios, draw=st.tuples(*[st.floats(-1, 1)] * 3))
def test_no_stance_in_equilibrium_is_more_probable(
    body: Body, exercise: str, ratio: float, draw: tuple[float, float, float]
) -> None:
    """Others of the same condition, some hundredths of a standard deviation away, depart more from the usual values."""
    split = split_of(setup_demand(body, exercise, ratio * body.mass))
    inputs = split.inputs
    inside = all(one.low < value < one.high for one, value in zip(inputs.usual, values(split), strict=True))
    assume(inside)
    supports = supports_of(inputs)

    def departure(stance: tuple[float, ...] | list[float]) -> float:
        return sum(((value - one.mean) / one.sd) ** 2 for one, value in zip(inputs.usual, stance, strict=True))

    moved = list(values(split))
    for index, step in enumerate(draw):
        moved[index] += 0.05 * step * inputs.usual[index].sd
    moved[3] = supports.closed("lead_share", moved)
    assert departure(moved) >= departure(values(split)) - 2e-3


def test_what_is_stated_together_contradicts_itself_as_far_as_statics_says() -> None:
    """A share of 0.84 with a lean of 25 degrees asks for feet 2.0 to 2.5 m apart, which no lifter has."""
    stated = Technique(lead_share=0.84, trunk_lean=radians(25), shin_angle=radians(12))
    with pytest.raises(Refusal, match="topple"):
        setup_demand(LIFTER, "split_squat", 40.0, None, stated)
    alone = split_of(setup_demand(LIFTER, "split_squat", 40.0))
    apart = supports_of(alone.inputs).closed("foot_spacing", [radians(25), radians(12), 0.8, 0.84])
    assert 2.0 <= apart <= 2.5


@pytest.mark.parametrize(("share", "behind"), [(0.8436, 0.125), (0.75, 0.200)])
def test_check_values_of_the_centre_of_mass(share: float, behind: float) -> None:
    demand = setup_demand(LIFTER, "split_squat", 40.0, None, Technique(lead_share=share, foot_spacing=0.80))
    assert split_of(demand).lead_share == share
    assert centre_behind_lead_foot(demand) == pytest.approx(behind, abs=0.001)


@given(body=bodies, exercise=st.sampled_from(PLANTED), ratio=ratios)
def test_a_trail_leg_with_its_knee_bent_to_the_floor_changes_the_share_by_less_than_it_scatters(
    body: Body, exercise: str, ratio: float
) -> None:
    demand = setup_demand(body, exercise, ratio * body.mass)
    split, posture = split_of(demand), demand.posture
    rear = posture.balance_point - split.foot_spacing
    height = 0.45 if exercise.startswith("rear") else 0.12  # of the ankle, on a bench or with the heel up
    across, down = rear - posture.hip.x, height - posture.hip.y
    apart = min(hypot(across, down), body.thigh + body.shank)
    at_hip = acos((body.thigh**2 + apart**2 - body.shank**2) / (2 * body.thigh * apart))
    thigh = atan2(down, across) + at_hip  # the knee ahead of the line
    knee = body.thigh * cos(thigh)
    bent = body.thighs_mass / 2 * body.thigh_centre * knee
    bent += body.shanks_mass / 2 * (knee + body.shank_centre * (across - knee))
    length = body.thigh + body.shank
    straight = body.thighs_mass / 2 * body.thigh_centre * body.thigh / length * across
    straight += body.shanks_mass / 2 * (body.thigh + body.shank_centre * body.shank) / length * across
    change = (bent - straight) / ((body.mass + demand.load) * split.foot_spacing)
    rule = EXERCISE_RULES[exercise].lead_share
    assert rule is not None
    assert abs(change) < rule.within


@given(body=bodies, ratio=ratios, dumbbells=st.booleans())
def test_a_step_up_is_held_as_lifters_hold_it(body: Body, ratio: float, dumbbells: bool) -> None:  # noqa: FBT001
    exercise = "step_up/dumbbells" if dumbbells else "step_up"
    split = split_of(setup_demand(body, exercise, ratio * body.mass))
    assert 20.0 < degrees(split.trunk_lean) < 32.0
    assert 15.0 < degrees(split.shin_angle) < 30.0
    assert 0.4 < split.lead_share < 0.75
    assert split.free == ("trunk_lean", "shin_angle", "lead_share")
    assert split.misfit < 2.0
    inside = [one.low < value < one.high for one, value in zip(split.inputs.usual, values(split), strict=True)]
    assert [inside[index] for index in (0, 1, 3)] == [True] * 3


@given(body=bodies, ratio=st.floats(0.0, 1.5), dumbbells=st.booleans())
def test_a_higher_box_never_asks_less_of_knee_and_hip(body: Body, ratio: float, dumbbells: bool) -> None:  # noqa: FBT001
    exercise = "step_up/dumbbells" if dumbbells else "step_up"
    boxes = [part * body.stature for part in (0.06, 0.10, 0.14, 0.18, 0.22, 0.25, 0.28)]
    asked = [setup_demand(body, exercise, ratio * body.mass, Depth(box_height=box)).peaks for box in boxes]
    for lower, higher in pairwise(asked):
        for joint in ("knee", "hip", "lumbosacral"):
            assert higher[joint].moment >= lower[joint].moment


@given(body=bodies, ratio=ratios)
def test_the_lead_knee_of_a_step_up_is_asked_for_most_where_the_lead_foot_has_come_to_bear_everything(
    body: Body, ratio: float
) -> None:
    demand = setup_demand(body, "step_up", ratio * body.mass)
    risen = risen_of(demand.statics)
    assert risen is not None
    stance, start = risen.stance, split_of(demand)
    assert (stance.trunk_lean, stance.shin_angle, stance.lead_share) == (start.trunk_lean, start.shin_angle, 1.0)
    there = supports_of(stance.inputs)
    assert there.moment(stance.trunk_lean, stance.shin_angle, stance.foot_spacing, 1.0) == pytest.approx(0, abs=1e-9)
    assert demand.peaks["knee"].thigh_angle == stance.inputs.thigh_angle > start.inputs.thigh_angle
    weight = GRAVITY * (body.mass * (1 - (body.feet_mass / 2 / body.mass)) + demand.load)
    ahead = body.shank * sin(start.shin_angle) + body.ankle_from_heel - stance.inputs.balance * body.foot
    of_shank = GRAVITY * body.shanks_mass / 2 * body.shank_centre * body.shank * sin(start.shin_angle)
    of_foot = GRAVITY * body.feet_mass / 2 * (body.feet_centre - stance.inputs.balance) * body.foot
    assert demand.peaks["knee"].moment == pytest.approx(weight * ahead - of_shank + of_foot, rel=1e-9)
    assert demand.peaks["hip"].moment == pytest.approx(demand.moments.hip, rel=1e-9)


def test_without_a_push_a_step_up_leans_over_the_lead_foot_and_asks_more() -> None:
    usual = setup_demand(LIFTER, "step_up", 40.0)
    strict = setup_demand(LIFTER, "step_up", 40.0, None, Technique(lead_share=1.0))
    assert degrees(strict.trunk_lean) > 35.0
    assert strict.trunk_lean > usual.trunk_lean
    for joint in ("knee", "hip", "lumbosacral"):
        assert strict.peaks[joint].moment > usual.peaks[joint].moment


@pytest.mark.parametrize(
    ("technique", "pointer", "allowed"),
    [
        (Technique(foot_spacing=0.45, trunk_lean=radians(50), shin_angle=radians(40)), "trunk_lean", "0 to 42 deg"),
        (Technique(foot_spacing=1.39), "foot_spacing", "at most 1.2"),
        (Technique(foot_spacing=0.1), "foot_spacing", "0.25 to 1.4 m"),
    ],
)
def test_a_stance_that_cannot_be_is_refused_at_what_is_stated(technique: Technique, pointer: str, allowed: str) -> None:
    with pytest.raises(Refusal) as caught:
        setup_demand(LIFTER, "split_squat", 40.0, None, technique)
    [fault] = caught.value.faults
    assert fault.pointer == f"/technique/{pointer}"
    assert fault.allowed is not None
    assert allowed in fault.allowed


def test_a_foot_spacing_belongs_to_split_stances_on_two_feet() -> None:
    for exercise in ("front_squat", "step_up"):
        with pytest.raises(Refusal) as caught:
            setup_demand(LIFTER, exercise, 40.0, None, Technique(foot_spacing=0.8))
        assert caught.value.faults[0].pointer == "/technique/foot_spacing"


@pytest.mark.parametrize("exercise", PLANTED)
def test_a_longer_stance_keeps_the_trunk_and_the_lead_shin_more_upright(exercise: str) -> None:
    apart = [split_of(setup_demand(LIFTER, exercise, 40.0, None, Technique(foot_spacing=one))) for one in (0.7, 0.9)]
    assert apart[1].trunk_lean < apart[0].trunk_lean
    assert apart[1].shin_angle < apart[0].shin_angle


@given(body=bodies, exercise=st.sampled_from(SPLITS), ratio=ratios, knee=st.floats(75.0, 110.0))
def test_a_knee_angle_and_its_thigh_angle_are_one_bottom(body: Body, exercise: str, ratio: float, knee: float) -> None:
    try:
        by_knee = setup_demand(body, exercise, ratio * body.mass, Depth(knee_flexion=radians(knee)))
    except Refusal:
        reject()
    assert degrees(by_knee.posture.knee_flexion) == pytest.approx(knee, abs=1e-5)
    again = setup_demand(body, exercise, ratio * body.mass, Depth(thigh_below_horizontal=-by_knee.posture.thigh_angle))
    assert values(split_of(again)) == pytest.approx(values(split_of(by_knee)), abs=1e-6)


@pytest.mark.parametrize("exercise", PLANTED)
def test_on_the_way_up_the_bottom_asks_most(exercise: str) -> None:
    """Feet, share and lean as they are, the hip stays on its plumb line, so hip and spine are asked for the same."""
    demand = setup_demand(LIFTER, exercise, 40.0)
    split = split_of(demand)
    supports = supports_of(split.inputs)
    hips = []
    for thigh in (split.inputs.thigh_angle, radians(20), radians(40), radians(55)):
        above = supports_of(replace(split.inputs, thigh_angle=thigh))
        shin = above.closed("shin_angle", list(values(split)))
        assert above.moment(split.trunk_lean, shin, split.foot_spacing, split.lead_share) == pytest.approx(0, abs=1e-9)
        hips.append(above.straight - above.shank * sin(shin))
        assert shin <= split.shin_angle + 1e-9
    assert max(hips) / min(hips) < 1.05
    assert supports.straight > 0.0


def test_a_trunk_to_thigh_limit_ends_the_depth_of_a_split_stance() -> None:
    limit = radians(95.0)
    demand = setup_demand(LIFTER, "rear_foot_elevated_split_squat", 40.0, None, Technique(hip_flexion=limit))
    assert demand.limited_by == ("hip_flexion",)
    assert demand.posture.trunk_lean + pi / 2 - demand.posture.thigh_angle == pytest.approx(limit, abs=1e-6)


@given(body=bodies, exercise=st.sampled_from(SPLITS), ratio=ratios, moves=st.tuples(*[st.sampled_from([-1, 1])] * 4))
def test_from_a_near_stance_the_same_one_is_found(
    body: Body, exercise: str, ratio: float, moves: tuple[int, ...]
) -> None:
    split = split_of(setup_demand(body, exercise, ratio * body.mass))
    usual = [one.moved(move) for one, move in zip(split.inputs.usual, moves, strict=True)]
    moved = replace(split.inputs, usual=tuple(usual))
    exact, quick = in_equilibrium(moved), in_equilibrium(moved, split)
    for one, there, here in zip(moved.usual, values(exact), values(quick), strict=True):
        assert here == pytest.approx(there, abs=0.05 * one.sd)
