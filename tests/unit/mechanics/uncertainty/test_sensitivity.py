"""Every closed-form coefficient against the difference of two setups solved anew; pulls have none."""

from __future__ import annotations

from math import asin, cos, radians, sin
from unittest.mock import patch

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import asdict, replace

from service.errors import Refusal
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, ExerciseRule
from service.mechanics.body import Body, build_body
from service.mechanics.demand import JOINTS, Demand, setup_demand
from service.mechanics.habits import habit_with
from service.mechanics.peaks import MOMENTS
from service.mechanics.posture import shin_shape
from service.mechanics.setups import Depth, Technique, at_thigh_angle, resolve_setup
from service.mechanics.stance import STEEPEST, Stance, stance_at
from service.mechanics.statics import Solution, statics_of
from service.mechanics.uncertainty.derivatives import RESULTS
from service.mechanics.uncertainty.inputs import InputSteps
from service.mechanics.uncertainty.sensitivity import deviations

HALF_STEP = 1e-5  # m, rad, kg or 1
TOLERANCE = 5e-5  # a depth sought to 1e-9 over a difference of 2e-5
NEAR_TIPPING = 0.1  # cosine at which a lean answers so steeply that a difference is no slope
NEAR_CORNER = 1e-3  # [rad]
HABITS = ("shin_angle", "balance", "bar_anterior", "abduction")
SQUATS = sorted(name for name, rule in POSTURE_RULES.items() if rule.family == "squat")
USUAL_LIMIT = radians(POSTURES.stance.usual_azimuth_limit.value)
LEAST = radians(POSTURES.limits.thigh_azimuth.low)
KNOTS = (0.0, -10.0, -20.0, 15.0, 30.0, 45.0)  # [deg], where the usual shin angle has a kink

bodies = st.builds(
    build_body,
    st.floats(45.0, 130.0),
    st.floats(1.5, 2.0),
    st.sampled_from(["female", "male", None]),
)
techniques = st.builds(
    Technique,
    heel_lift=st.sampled_from([0.0, 0.0, 0.02, 0.04]),
    stance=st.sampled_from(["narrow", "shoulder", "wide"]),
    toe_out=st.none() | st.floats(0.0, 0.7),
    knee_over_toe=st.booleans(),
    hip_abduction=st.none() | st.floats(0.3, 0.9),
    shin_angle=st.none() | st.floats(radians(5.0), radians(20.0)),
    bar_forward_of_midfoot=st.sampled_from([0.0, 0.0, -0.02, 0.04]),
    ankle_dorsiflexion=st.none() | st.floats(radians(20.0), radians(45.0)),
)
depths = st.one_of(
    st.none(),
    st.builds(Depth, thigh_below_horizontal=st.floats(-0.6, 0.4)),
    st.builds(Depth, knee_flexion=st.floats(1.2, 2.2)),
    st.builds(Depth, box_height=st.floats(0.1, 0.5)),
)


def moved_body(body: Body, name: str, step: float) -> Body:
    """The lifter with one length, mass or level moved; ankle and ball keep their shares of a longer foot."""
    if name == "thigh_and_trunk":
        return replace(body, thigh=body.thigh + step, trunk=body.trunk - step)
    if name == "foot":
        foot = {part: getattr(body, part) * (1.0 + step) for part in ("foot", "ankle_from_heel", "ball_from_heel")}
        return replace(body, **foot)
    if name in HABITS or name in ("thigh_angle"):
        return body
    return replace(body, **{name: getattr(body, name) + step})


def raised(distribution: Distribution, step: float) -> Distribution:
    """The distribution about another mean."""
    return replace(distribution, mean=distribution.mean + step)


def moved_rule(demand: Demand, name: str, step: float) -> ExerciseRule:
    """The exercise's posture rule with one habit moved."""
    rule = POSTURE_RULES[demand.exercise]
    balance = rule.balance or POSTURES.defaults.balance
    shin_step = step / demand.setup.shape_at_bottom
    moved: dict[str, dict[str, object]] = {
        "shin_angle": {"shin_angle": raised(rule.shin_angle, shin_step)},
        "balance": {"balance": raised(balance, step)},
        "bar_anterior": {"anterior": rule.anterior + step},
    }
    return replace(rule, **moved.get(name, {}))


def moved_technique(technique: Technique, step: float) -> Technique:
    """The technique with a stated shin angle, or what the ankle allows, moved along with the habit."""
    if technique.shin_angle is not None:
        return replace(technique, shin_angle=technique.shin_angle + step)
    limit = technique.ankle_dorsiflexion or radians(POSTURES.defaults.ankle_limit.value)
    return replace(technique, ankle_dorsiflexion=limit + step)


def turned_further(demand: Demand, step: float) -> Stance:
    """The stance with the thigh turned out further, the shank following where it is the shank that does."""
    stance, body = demand.setup.stance, demand.body
    thigh, shank = stance.thigh + step, stance.shank
    if stance.follows == "shank":
        assert stance.width is not None
        reach = body.thigh * cos(min(demand.setup.thigh_angle, STEEPEST))
        aside = reach * sin(thigh) - (stance.width - body.hip_centres) / 2
        shank = asin(aside / (body.shank * sin(demand.bottom.shin_angle)))
    return stance_at(stance.width, stance.toe_out, shank, thigh)


def results(demand: Demand, depth: Depth | None, name: str, step: float) -> tuple[float, ...]:
    """The peaks' moments and the lean at the bottom, solved anew with one input moved."""
    body, is_shin = moved_body(demand.body, name, step), name == "shin_angle"
    technique = moved_technique(demand.technique, step) if is_shin else demand.technique
    # how habits go with the load is held: that it changes a little with every input is of second order
    held = habit_with(demand.body, POSTURE_RULES[demand.exercise], demand.load)
    with (
        patch("service.mechanics.setups.habit_with", lambda *_: held),
        patch.dict(POSTURE_RULES, {demand.exercise: moved_rule(demand, name, step)}),
    ):
        setup = resolve_setup(body, demand.exercise, demand.load, depth=depth, technique=technique)
    if name == "thigh_angle":
        deeper = Depth(thigh_below_horizontal=-demand.setup.thigh_angle - step)
        setup = resolve_setup(body, demand.exercise, demand.load, depth=deeper, technique=technique)
    if name == "abduction":
        setup = replace(setup, stance=turned_further(demand, step))

    def solution(angle: float) -> Solution:
        if angle == demand.setup.thigh_angle:
            return statics_of(body, setup).at(setup.thigh_angle)
        # on the way to the bottom the habit, and the limit that moves with it, count by the share of the shin's way
        unused = step * (1.0 - shin_shape(angle) / setup.shape_at_bottom) if is_shin else 0.0
        return statics_of(body, replace(setup, shin_limit=setup.shin_limit - unused)).at(angle)

    moments = [getattr(solution(demand.peaks[moment].thigh_angle), moment) for moment in MOMENTS]
    return (*moments, solution(demand.setup.thigh_angle).trunk_lean)


def steps_for(demand: Demand) -> InputSteps:
    """One unit of every input that the setup has."""
    stance = demand.setup.stance
    return InputSteps(
        shank=1.0,
        thigh=1.0,
        trunk=-1.0,
        foot=1.0,
        shin_angle=1.0,
        balance=1.0,
        bar_anterior=1.0 if demand.setup.carry.kind == "trunk" else 0.0,
        hip_centres=1.0 if stance.follows else 0.0,
        abduction=1.0 if stance.follows else 0.0,
        lumbosacral_level=1.0,
        above_mass=1.0,
        thigh_angle=1.0,
    )


def to_corner(demand: Demand) -> float:
    """How far the setup is from where its posture rule has a corner and no derivative [rad]."""
    setup = demand.setup
    angles = {demand.peaks[joint].thigh_angle for joint in JOINTS}
    preferred = [setup.shin_angle * shin_shape(angle) / setup.shape_at_bottom for angle in angles]
    stance, limit = setup.stance, demand.technique.hip_abduction or USUAL_LIMIT
    turned = min(abs(stance.thigh - limit), abs(stance.thigh - LEAST)) if stance.follows == "thigh" else 1.0
    return min(
        turned,
        abs(stance.shank) if stance.follows == "shank" else 1.0,
        abs(stance.toe_out - stance.shank) if stance.follows == "shank" else 1.0,
        *(abs(setup.thigh_angle - radians(knot)) for knot in KNOTS),
        *(abs(angle - setup.shin_limit) for angle in preferred),
    )


def to_tipping(demand: Demand) -> float:
    """Cosine of the angle by which the upper body's weight could still move forward; 0 at the edge of tipping."""
    return cos(demand.trunk_lean + demand.statics.upper.offset)


@settings(max_examples=300)
@given(
    body=bodies,
    exercise=st.sampled_from(SQUATS),
    ratio=st.floats(0.2, 2.0),
    depth=depths,
    technique=techniques,
)
def test_every_coefficient_is_the_slope_of_setups_solved_anew(
    body: Body, exercise: str, ratio: float, depth: Depth | None, technique: Technique
) -> None:
    try:
        demand = setup_demand(body, exercise, ratio * body.mass, depth, technique)
    except Refusal:
        assume(False)  # noqa: FBT003
        raise
    thigh_is_stated = depth is not None and depth.thigh_below_horizontal is not None
    at_corner = to_corner(demand) <= NEAR_CORNER
    assume(thigh_is_stated or not at_corner)
    assume(to_tipping(demand) > NEAR_TIPPING)
    largest = max(abs(peak.moment) for peak in demand.peaks.values())
    rows = deviations(demand, steps_for(demand), depth)
    assert {name for name, step in asdict(steps_for(demand)).items() if step} - {"thigh", "trunk"} <= set(rows)
    for name, row in rows.items():
        if name == "thigh_angle" and at_corner:
            continue
        low, high = (results(demand, depth, name, sign * HALF_STEP) for sign in (-1, 1))
        for index, (before, after) in enumerate(zip(low, high, strict=True)):
            slope = (after - before) / (2 * HALF_STEP)
            scale = abs(slope) + (largest if index < len(MOMENTS) else 1.0)
            assert row[index] == pytest.approx(slope, abs=TOLERANCE * scale), (name, index)


@given(body=bodies, exercise=st.sampled_from(["back_squat_high_bar", "front_squat"]), limit=st.floats(95.0, 125.0))
def test_a_bottom_at_the_hip_limit_stays_where_it_is(body: Body, exercise: str, limit: float) -> None:
    demand = setup_demand(body, exercise, body.mass, None, Technique(hip_flexion=radians(limit)))
    assume("hip_flexion" in demand.limited_by)
    bottom = demand.setup.thigh_angle
    rows = deviations(demand, InputSteps(shank=1.0, lumbosacral_level=1.0), None)
    for name in ("shank", "lumbosacral_level"):
        moved = [moved_body(demand.body, name, sign * HALF_STEP) for sign in (-1, 1)]
        low, high = (
            statics_of(one, at_thigh_angle(one, demand.setup, demand.technique, bottom)).at(bottom) for one in moved
        )
        slopes = [(getattr(high, field) - getattr(low, field)) / (2 * HALF_STEP) for field in ("ankle", "trunk_lean")]
        assert [rows[name][RESULTS.index(result)] for result in ("ankle", "trunk_lean")] == pytest.approx(
            slopes, rel=TOLERANCE, abs=TOLERANCE
        )
