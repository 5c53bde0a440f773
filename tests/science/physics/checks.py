"""How far the service's moments and postures are from independent mechanics at most, for the page of evidence.

Every module of tests here has its rows; a test holds that.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, degrees, floor, log10, radians

from msgspec.structs import replace

from service.knowledge.evidence_records import Check
from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.balance import Carry
from service.mechanics.demand import JOINTS
from service.mechanics.peaks import MOMENTS
from tests.science.physics import (
    test_arm_inverse_dynamics,
    test_arm_virtual_work,
    test_arm_worked_cases,
    test_inverse_dynamics,
    test_stance,
    test_virtual_work,
    test_worked_cases,
)
from tests.science.physics.arms import SimulatedArm, random_arm_cases
from tests.science.physics.chains import moments_in_split_stance, moments_on_both_feet, whole_body
from tests.science.physics.lifters import random_cases

ON_BOTH_FEET = tuple(sorted({rule.family for rule in POSTURE_RULES.values()} - {"split"}))
CASES_ON_BOTH_FEET = 600
CASES_SPLIT = 200


def checks() -> list[Check]:
    """The rows of checks.csv."""
    return [*_inverse_dynamics(), *_virtual_work(), *_worked_cases(), *_arms()]


def _check(
    measured: tuple[str, ...],
    about: str,
    compared_with: str,
    module: str,
    tolerance: float,
    found: Iterable[float],
    unit: str = "N·m",
) -> Check:
    deviations = list(found)
    return Check(measured, about, compared_with, module, len(deviations), tolerance, _rounded_up(max(deviations)), unit)


def _rounded_up(deviation: float) -> float:
    """To one digit."""
    step = 10.0 ** floor(log10(max(deviation, 1e-15)))
    return float(f"{ceil(deviation / step) * step:.0e}")


def _inverse_dynamics() -> list[Check]:
    against = "inverse dynamics of a rigid-body simulator (mujoco), random lifters and setups"
    module, tolerance = "tests/science/physics/test_inverse_dynamics.py", test_inverse_dynamics.TOLERANCE
    both, splits = random_cases(CASES_ON_BOTH_FEET, ON_BOTH_FEET), random_cases(CASES_SPLIT, ("split",))
    body, largest = whole_body(), test_inverse_dynamics.largest_difference
    on_both = [largest(body, moments_on_both_feet, case, case.body, JOINTS) for case in both]
    on_split = [largest(body, moments_in_split_stance, case, case.body, JOINTS) for case in splits]
    balanced = [moments_in_split_stance(body, case.body, case.demand).left_over for case in splits]
    return [
        _check(JOINTS, "squats and pulls on both feet", against, module, tolerance, on_both),
        _check(JOINTS, "lead leg and trunk in split stances", against, module, tolerance, on_split),
        _check(("lead_share",), "forces at both feet of split stances", against, module, tolerance, balanced),
    ]


def _virtual_work() -> list[Check]:
    against = "virtual work: the gradient of potential energy, numerically"
    module, tolerance = "tests/science/physics/test_virtual_work.py", test_virtual_work.TOLERANCE
    both, splits = random_cases(CASES_ON_BOTH_FEET, ON_BOTH_FEET), random_cases(CASES_SPLIT, ("split",))
    worst = test_virtual_work.worst_difference
    return [
        _check(JOINTS, "squats and pulls on both feet", against, module, tolerance, worst(both, JOINTS)),
        _check(("lumbosacral",), "split stances", against, module, tolerance, worst(splits, ("lumbosacral",))),
    ]


def _worked_cases() -> list[Check]:
    found = list(map(_largest_of_worked, test_worked_cases.worked_cases()))
    against, module = (
        "postures worked out beforehand, to the printed digits",
        "tests/science/physics/test_worked_cases.py",
    )
    in_the_plane = _check((*JOINTS, "lean"), "squats", against, module, test_worked_cases.PRINTED, found, "N·m, deg")
    turned = [max(test_stance.deviations(row).values()) for row in test_stance.worked_cases()]
    module = "tests/science/physics/test_stance.py"
    about, tolerance = "squats with the legs turned out", test_stance.PRINTED
    return [in_the_plane, _check((*MOMENTS, "lean"), about, against, module, tolerance, turned, "N·m, deg")]


def _largest_of_worked(row: dict[str, str]) -> float:
    """Largest deviation of a worked case, over its moments [N·m] and its lean [deg]."""
    number = {name: float(text) for name, text in row.items() if name not in {"case", "bar", "source", "known"}}
    body = replace(test_worked_cases.LIFTER, **test_worked_cases.OTHER_LENGTHS.get(row["case"], {}))
    squat = test_worked_cases.solved(
        body,
        number["bar_kg"],
        Carry("trunk", number["bar_along_trunk_m"], number["bar_anterior_m"]),
        radians(number["shank_from_vertical_deg"]),
        radians(number["thigh_above_horizontal_deg"]),
        number["balance_fraction_of_foot"],
    )
    printed = {
        "ankle_per_leg_Nm": squat.ankle,
        "knee_per_leg_Nm": squat.knee,
        "hip_per_leg_Nm": squat.hip,
        "L5S1_total_Nm": squat.lumbosacral,
        "trunk_from_vertical_deg": degrees(squat.trunk_lean),
    }
    return max(abs(number[name] - computed) for name, computed in printed.items())


OF_ARM = ("shoulder", "elbow", "wrist")


def _arms() -> list[Check]:
    about, folder = "one arm in presses, pulls and raises", "tests/science/physics/"
    dynamics, work, worked = test_arm_inverse_dynamics, test_arm_virtual_work, test_arm_worked_cases
    simulated = SimulatedArm()
    cases = random_arm_cases(dynamics.CASES)
    by_dynamics = [dynamics.largest_difference(simulated, case, case.arm) for case in cases]
    by_hand = [worked.RELATIVE * worked.largest_deviation(row) for row in worked.worked_cases()]
    return [
        _check(
            OF_ARM,
            about,
            "inverse dynamics of a rigid-body simulator (mujoco), random arms and lifts",
            f"{folder}test_arm_inverse_dynamics.py",
            dynamics.TOLERANCE,
            by_dynamics,
        ),
        _check(
            OF_ARM,
            about,
            "virtual work: the gradient of potential energy, numerically",
            f"{folder}test_arm_virtual_work.py",
            work.TOLERANCE,
            work.worst_of_random_arms(500),
        ),
        _check(
            OF_ARM,
            about,
            "arms worked out beforehand, of the printed figure",
            f"{folder}test_arm_worked_cases.py",
            worked.RELATIVE,
            by_hand,
            "1",
        ),
    ]
