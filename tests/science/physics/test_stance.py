"""Postures with the legs turned out: worked cases to the printed digits, and what holds of any of them.

Source: derived (statics in three dimensions by a separate script). A worked case of a published source was not found.
"""

from __future__ import annotations

import csv
from math import asin, atan2, cos, degrees, hypot, inf, radians, sin
from pathlib import Path

import pytest
from hypothesis import assume, given, reject
from hypothesis import strategies as st
from msgspec.structs import replace

from service.errors import Refusal
from service.mechanics.balance import Carry
from service.mechanics.body import Body
from service.mechanics.frontal import Frontal, frontal_moments
from service.mechanics.posture import Posture, joint_positions, shin_shape
from service.mechanics.setups import Setup
from service.mechanics.stance import Feet, Stance, stance_at, stance_of_squat, turned_out
from service.mechanics.statics import Solution, Statics, statics_of
from tests.science.physics.test_worked_cases import LIFTER

CASES = Path(__file__).parents[1] / "reference" / "data" / "stance_check_values.csv"
BODY = replace(LIFTER, hip_centres=0.16, ankle_height=0.0)
BAR = Carry("trunk", 0.03, -0.075)
PRINTED = 0.0051  # half of the last printed digit, and a hair


def worked_cases() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def solved(body: Body, stance: Stance, shin: float, thigh: float = 0.0) -> tuple[Solution, Statics, Posture]:
    setup = Setup("squat", "squat", BAR, 100.0, 0.5, thigh, shin, inf, 0.0, stance, 0.0, shin_shape(thigh))
    statics = statics_of(body, setup)
    try:
        solution = statics.at(thigh)
    except Refusal:
        reject()  # a lifter who would tip holds nothing
    posture = joint_positions(
        body,
        BAR,
        shin,
        thigh,
        solution.trunk_lean,
        hip_x=solution.hip_x,
        balance_x=statics.balance_x,
        pitch=0.0,
        limited_by=(),
        stance=stance,
    )
    return solution, statics, posture


def worked(row: dict[str, str]) -> tuple[Solution, Frontal]:
    thigh, foot = radians(float(row["thigh_azimuth"])), radians(float(row["toe_out"]))
    solution, statics, posture = solved(BODY, stance_at(0.0, foot, foot, thigh), radians(float(row["shin"])))
    return solution, frontal_moments(BODY, statics, solution, posture)


def deviations(row: dict[str, str]) -> dict[str, float]:
    """How far each printed value of a worked case is from what is computed [deg or N·m]."""
    squat, aside = worked(row)
    pushed = row["with_lateral_force"] == "yes"
    found = {
        "lean": degrees(squat.trunk_lean),
        "hip_extensor": squat.hip,
        "hip_adductor": aside.hip_adductor if pushed else squat.hip_adductor,
        "knee": aside.knee if pushed else squat.knee,
        "ankle": squat.ankle,
        "lumbosacral": squat.lumbosacral,
        "knee_out_of_plane": 0.0 if pushed else aside.knee_out_of_plane,
        "hip_resultant": squat.hip_resultant,
    }
    return {name: abs(value - float(row[name])) for name, value in found.items() if row[name]}


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: str(row["id"]))
def test_worked_case_is_met_to_the_printed_digits(row: dict[str, str]) -> None:
    found = deviations(row)
    assert found == dict.fromkeys(found, pytest.approx(0.0, abs=PRINTED))


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: str(row["id"]))
def test_the_width_of_a_worked_case_turns_the_thigh_as_far_as_it_says(row: dict[str, str]) -> None:
    foot, width = radians(float(row["toe_out"])), float(row["ankle_width"])
    limit = radians(60.0)  # further than the worked cases go
    stance = stance_of_squat(BODY, Feet(width, foot, foot), radians(float(row["shin"])), 0.0, limit, stated=True)
    assert degrees(stance.thigh) == pytest.approx(float(row["thigh_azimuth"]), abs=0.02)


def test_the_force_of_the_worked_case_empties_the_knee() -> None:
    [row] = [row for row in worked_cases() if row["with_lateral_force"] == "yes"]
    squat, aside = worked(row)
    assert aside.lateral_force == pytest.approx(113.87, abs=PRINTED)
    assert squat.hip_adductor == pytest.approx(163.88, abs=PRINTED)


azimuths = st.floats(0.0, radians(60.0))
shins, thighs = st.floats(radians(10.0), radians(38.0)), st.floats(radians(-20.0), radians(45.0))


@given(azimuth=azimuths, shin=shins, thigh=thighs)
def test_a_leg_turned_out_as_a_whole_holds_what_it_held(azimuth: float, shin: float, thigh: float) -> None:
    """Identity E1: each leg is turned about the vertical through its hip."""
    ahead, _, _ = solved(BODY, turned_out(0.0), shin, thigh)
    out, _, _ = solved(BODY, turned_out(azimuth), shin, thigh)
    assert (out.ankle, out.knee) == pytest.approx((ahead.ankle, ahead.knee), rel=1e-9)
    assert out.hip == pytest.approx(ahead.hip * cos(azimuth), rel=1e-9, abs=1e-9)
    assert out.hip_adductor == pytest.approx(ahead.hip * sin(azimuth), rel=1e-9, abs=1e-9)
    assert abs(out.hip_resultant) == pytest.approx(abs(ahead.hip), rel=1e-9, abs=1e-9)


@given(azimuth=azimuths, shin=shins, thigh=thighs)
def test_the_lean_of_a_leg_turned_out_as_a_whole(azimuth: float, shin: float, thigh: float) -> None:
    """Identity E2."""
    ahead, _, _ = solved(BODY, turned_out(0.0), shin, thigh)
    out, _, _ = solved(BODY, turned_out(azimuth), shin, thigh)
    along, across = 48.0 * 0.72 * 0.50 + 100.0 * (0.50 + 0.03), 100.0 * -0.075
    needed = hypot(along, across) * sin(ahead.trunk_lean + atan2(across, along))
    assert out.trunk_lean == pytest.approx(
        asin(needed * cos(azimuth) / hypot(along, across)) - atan2(across, along), rel=1e-9, abs=1e-9
    )


@given(thigh=azimuths, shank=azimuths, foot=azimuths, shin=shins, depth=thighs)
def test_knee_and_hip_about_the_mediolateral_axis(
    thigh: float, shank: float, foot: float, shin: float, depth: float
) -> None:
    """Identity E3."""
    _, statics, posture = solved(BODY, stance_at(0.0, foot, shank, thigh), shin, depth)
    reach = posture.knee.x - posture.hip.x
    assert reach == pytest.approx(BODY.thigh * cos(depth) * cos(thigh), rel=1e-9)
    found = statics.legs.both_per_reach * reach
    of_thighs = BODY.thighs_mass * (1.0 - BODY.thigh_centre) * reach
    assert found == pytest.approx((BODY.upper_mass + 100.0) * reach + of_thighs, rel=1e-9)


@given(shin=shins, depth=thighs)
def test_legs_ahead_are_those_of_the_plane(shin: float, depth: float) -> None:
    """Identity E4; the worked cases of the plane are in test_worked_cases."""
    ahead, statics, posture = solved(BODY, stance_at(0.0, 0.0, 0.0, 0.0), shin, depth)
    aside = frontal_moments(BODY, statics, ahead, posture)
    assert (ahead.hip_adductor, aside.knee_out_of_plane, aside.lateral_force) == pytest.approx(
        (0.0, 0.0, 0.0), abs=1e-9
    )


@given(width=st.floats(0.15, 0.8), foot=st.floats(0.0, 0.8), shin=shins, depth=st.floats(-0.35, 0.5))
def test_feet_stay_where_they_are_said_to_be(width: float, foot: float, shin: float, depth: float) -> None:
    stance = stance_of_squat(BODY, Feet(width, foot, foot), shin, depth, None, stated=False)
    assume(stance.follows is not None)
    hip_to_ankle = BODY.thigh * cos(depth) * sin(stance.thigh) - BODY.shank * sin(shin) * sin(stance.shank)
    assert 2 * hip_to_ankle + BODY.hip_centres == pytest.approx(width, abs=1e-9)
