"""Fourteen postures worked out beforehand, to the printed digits, and the identities that any balanced posture obeys.

Source: derived (statics, worked by hand and by a separate script); no textbook prints such a case with all its inputs.
"""

from __future__ import annotations

import csv
from math import cos, degrees, inf, pi, radians
from pathlib import Path
from typing import Final

import pytest
from msgspec.structs import replace

from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.balance import Carry, supported_moments
from service.mechanics.body import GRAVITY, Body, build_body
from service.mechanics.posture import shin_shape
from service.mechanics.setups import Setup
from service.mechanics.stance import SAGITTAL
from service.mechanics.statics import Solution, statics_of
from tests.science.physics.lifters import Case, random_cases
from tests.support.reference_statics import bilateral_moments

CASES = Path(__file__).parents[1] / "reference" / "data" / "squat_model_cases.csv"
PRINTED = 0.00051  # half of the last printed digit, and a hair

# The lifter of the worked cases: lengths [m], masses [kg], centres as fractions.
LIFTER = replace(
    build_body(77.0, 1.75, "male"),
    shank=0.43,
    thigh=0.43,
    trunk=0.50,
    foot=0.26,
    ankle_from_heel=0.065,
    upper_mass=48.0,
    upper_centre_at_bar=0.72,
    thighs_mass=20.0,
    thigh_centre=0.40,
    shanks_mass=7.0,
    shank_centre=0.44,
    feet_mass=2.0,
    feet_centre=0.5,
    above_mass=39.0,
    above_centre_at_bar=0.85,
    lumbosacral_level=0.18,
)
OTHER_LENGTHS = {"W-femur+5%": {"thigh": 0.43 * 1.05}, "W-trunk+7%": {"trunk": 0.50 * 1.07}}


def worked_cases() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_there_are_fourteen_worked_cases() -> None:
    assert len(worked_cases()) == 14


def solved(body: Body, load: float, carry: Carry, shin: float, thigh: float, balance: float) -> Solution:
    """The service's statics of a squat whose shin and thigh angles [rad] and balance point [1] are stated."""
    setup = Setup("squat", "squat", carry, load, balance, thigh, shin, inf, 0.0, SAGITTAL, 0.0, shin_shape(thigh))
    return statics_of(body, setup).at(thigh)


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: str(row["case"]))
def test_worked_case_is_met_to_the_printed_digits(row: dict[str, str]) -> None:
    number = {name: float(text) for name, text in row.items() if name not in {"case", "bar", "source", "known"}}
    body = replace(LIFTER, **OTHER_LENGTHS.get(row["case"], {}))
    shin, thigh = radians(number["shank_from_vertical_deg"]), radians(number["thigh_above_horizontal_deg"])
    carry = Carry("trunk", number["bar_along_trunk_m"], number["bar_anterior_m"])
    squat = solved(body, number["bar_kg"], carry, shin, thigh, number["balance_fraction_of_foot"])
    assert degrees(squat.trunk_lean) == pytest.approx(number["trunk_from_vertical_deg"], abs=PRINTED)
    assert degrees(squat.shin_angle + pi / 2 - thigh) == pytest.approx(number["knee_flexion_deg"], abs=PRINTED)
    assert degrees(squat.trunk_lean + pi / 2 - thigh) == pytest.approx(number["hip_flexion_deg"], abs=PRINTED)
    assert squat.ankle == pytest.approx(number["ankle_per_leg_Nm"], abs=PRINTED)
    assert squat.knee == pytest.approx(number["knee_per_leg_Nm"], abs=PRINTED)
    assert squat.hip == pytest.approx(number["hip_per_leg_Nm"], abs=PRINTED)
    assert squat.lumbosacral == pytest.approx(number["L5S1_total_Nm"], abs=PRINTED)
    assert squat.hip / squat.knee == pytest.approx(number["hip_to_knee"], abs=PRINTED / 10)


@pytest.fixture(scope="module")
def balanced() -> list[Case]:
    return random_cases(300, ("squat", "hinge", "pull"))


def legs(
    body: Body, load: float, carry: Carry, shin: float, thigh: float, balance: float
) -> tuple[float, float, float]:
    squat = solved(body, load, carry, shin, thigh, balance)
    return squat.ankle, squat.knee, squat.hip


def test_the_place_of_the_bar_changes_no_moment_of_the_leg() -> None:
    """Identity A1."""
    first = legs(LIFTER, 100.0, Carry("trunk", 0.03, -0.075), 0.5, 0.0, 0.48)
    for position in [(-0.02, -0.095), (0.035, 0.065), (-0.08, 0.20)]:
        assert legs(LIFTER, 100.0, Carry("trunk", *position), 0.5, 0.0, 0.48) == pytest.approx(first, rel=1e-9)


def test_knee_and_hip_together_depend_on_thigh_angle_and_load_alone(balanced: list[Case]) -> None:
    """Identities A2 and E3, about the mediolateral axis: twice (knee + hip) = g (upper body, load, thighs) reach."""
    for body, demand in balanced:
        reach = demand.setup.stance.thigh_ahead * body.thigh * cos(demand.posture.thigh_angle)
        expected = GRAVITY * reach * (body.upper_mass + demand.load + body.thighs_mass * (1 - body.thigh_centre))
        _, knee, _ = bilateral_moments(body, demand.posture, demand.load, demand.setup.carry)
        assert 2 * (knee + demand.moments.hip) == pytest.approx(expected, rel=1e-9)


def test_moments_from_above_are_those_from_the_ground(balanced: list[Case]) -> None:
    """Identity A3."""
    for body, demand in balanced:
        posture = demand.posture
        ground = supported_moments(
            body,
            body.mass + demand.load,
            posture.shin_angle,
            posture.thigh_angle,
            demand.setup.balance * body.foot,
            stance=demand.setup.stance,
        )
        per_leg = tuple(GRAVITY / 2 * moment for moment in (ground.ankle, ground.knee, ground.hip))
        joints = bilateral_moments(body, posture, demand.load, demand.setup.carry)
        assert joints == pytest.approx(per_leg, rel=1e-9, abs=1e-9)


def test_a_balance_point_further_forward_moves_its_weight_from_the_knee_to_ankle_and_hip() -> None:
    """Identity A4: by W d, W the weight of body and load."""
    carry, load, shift = Carry("trunk", 0.03, -0.075), 100.0, 0.05
    before = legs(LIFTER, load, carry, 0.5, 0.1, 0.45)
    after = legs(LIFTER, load, carry, 0.5, 0.1, 0.45 + shift)
    change = GRAVITY * (LIFTER.mass + load) * shift * LIFTER.foot / 2
    assert after[0] - before[0] == pytest.approx(change, rel=1e-9)
    assert after[1] - before[1] == pytest.approx(-change, rel=1e-9)
    assert after[2] - before[2] == pytest.approx(change, rel=1e-9)


def test_depth_alone_does_not_change_the_knee_moment() -> None:
    """Identity A5: at one shin angle; so a rule of shin against depth is needed."""
    carry = Carry("trunk", 0.03, -0.075)
    knees = [legs(LIFTER, 100.0, carry, 0.5, radians(angle), 0.48)[1] for angle in (60, 30, 0, -20)]
    assert knees == pytest.approx([knees[0]] * 4, rel=1e-9)


WORN: Final = {
    "high": "back_squat_high_bar",
    "low": "back_squat_low_bar",
    "front": "front_squat",
    "safety": "safety_bar_squat",
}


@pytest.mark.parametrize("row", worked_cases(), ids=lambda row: str(row["case"]))
def test_a_bar_lies_where_the_worked_cases_put_it(row: dict[str, str]) -> None:
    rule = EXERCISE_RULES[WORN[row["bar"]]]
    assert (rule.along, rule.anterior) == (float(row["bar_along_trunk_m"]), float(row["bar_anterior_m"]))
