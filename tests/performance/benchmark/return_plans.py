"""Random ways back as a clinic would ask for them, to see how the time of return-plan is spread.

Every lift of the catalogue, as it is done now or in one of its substitutes, lighter, shorter, slower or with less
range, with the plates of a gym in either unit, in usual steps and in steps that are too small.
Timed is the computation alone, from the bytes of the question to the answer's struct, by processor time.
"""

from __future__ import annotations

import time
from random import Random
from typing import Any, Final

import msgspec

from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import ReturnPlan
from service.api.serialization.json import Reader
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.substitutions import SUBSTITUTES
from tests.performance.benchmark.table import Spread

PLANS: Final = 1000
DIRECT: Final = "direct_way"
Request = dict[str, Any]
PLATES: Final = {
    "kg": ((1.25, 2.5, 5, 10, 15, 20), (0.25, 0.5, 1.25, 2.5, 5, 10, 20), (2.5, 5, 10, 20)),
    "lb": ((2.5, 5, 10, 25, 45), (1.25, 2.5, 5, 10, 25, 45)),
}
BARS: Final = {"kg": (10, 15, 20), "lb": (35, 45)}
INCREMENTS: Final = {"kg": (0.5, 1, 2, 2.5), "lb": (1, 2.5, 5)}
IN_ONE_KILOGRAM: Final = {"kg": 1.0, "lb": 2.0}
LOADS: Final = {
    "squat": (30, 160), "hinge": (40, 180), "split": (10, 60), "press": (20, 110), "pull": (10, 90),
    "calf": (30, 140), "carry": (20, 120), "core": (5, 20), "hip_machine": (20, 80),
}  # fmt: skip
STEPS: Final = (None, None, None, 0.05, 0.10, 0.15, 0.20, 0.30)
SLOW: Final = ("3-0-3-0", "4-0-2-0")


def measure() -> Spread:
    """The time of each random question [s], how many were refused, and how many got a direct way for want of work."""
    read = Reader(ReturnPlan).read
    times, refused, direct = [], 0, 0
    for seed in range(PLANS):
        body = msgspec.json.encode(plausible(seed))
        began = time.process_time()
        try:
            answer = return_plan(read(body))
        except Refusal:
            refused += 1
            answer = None
        times.append(time.process_time() - began)
        direct += answer is not None and any(one.code == DIRECT for one in answer.cautions)
    return Spread(tuple(sorted(times)), refused, direct)


def plausible(seed: int) -> Request:
    """One request; the same for the same seed."""
    chance = Random(seed)  # noqa: S311 - nothing secret
    exercise = chance.choice(sorted(EXERCISES))
    unit = chance.choice(("kg", "kg", "kg", "lb"))
    original = _original(chance, exercise, unit)
    body_mass, stature = chance.randint(50, 120), chance.randint(152, 198)
    request: Request = {
        "lifter": {"body_mass": _quantity(body_mass, "kg"), "stature": _quantity(stature, "cm")},
        "original": original,
        "adjusted": _adjusted(chance, original, unit),
        "region": chance.choice(EXERCISES[exercise].regions),
    }
    if chance.random() < 0.5:
        request["bar"] = {
            "bar": _quantity(chance.choice(BARS[unit]), unit),
            "plates": [{"plate": _quantity(plate, unit)} for plate in chance.choice(PLATES[unit])],
        }
    if chance.random() < 0.5:
        request["increment"] = _quantity(chance.choice(INCREMENTS[unit]), unit)
    if (step := chance.choice(STEPS)) is not None:
        request["step"] = step
    if chance.random() < 0.2:
        request["weeks_off"] = chance.choice((1, 2, 3, 6, 12))
    return request


def _original(chance: Random, exercise: str, unit: str) -> Request:
    lightest, heaviest = LOADS[EXERCISES[exercise].family]
    low = chance.randint(1, 12)
    found: Request = {
        "exercise": exercise,
        "sets": chance.randint(1, 6),
        "reps": {"low": low, "high": low + chance.randint(0, 3)},
        "load": _quantity(2.5 * round(IN_ONE_KILOGRAM[unit] * chance.uniform(lightest, heaviest) / 2.5), unit),
        "reps_in_reserve": chance.choice((0, 1, 2, 3)),
    }
    if chance.random() < 0.8:
        found["days_per_week"] = chance.randint(1, 4)
    return found


def _adjusted(chance: Random, original: Request, unit: str) -> Request:
    """The original with one to three things made less."""
    others = [one.exercise for one in SUBSTITUTES.get(original["exercise"], ())]
    exercise = chance.choice(others) if others and chance.random() < 0.5 else original["exercise"]
    share = chance.choice((0.5, 0.6, 0.7, 0.8, 0.9, 1.0))
    fewer = chance.randint(0, 3)
    found: Request = {
        **original,
        "exercise": exercise,
        "sets": max(1, original["sets"] - chance.randint(0, 3)),
        "reps": {end: max(1, value - fewer) for end, value in original["reps"].items()},
        "load": _quantity(2.5 * max(1, round(share * original["load"]["value"] / 2.5)), unit),
        "reps_in_reserve": chance.choice((2, 3, 4, 6)),
    }
    if "days_per_week" in original:
        found["days_per_week"] = max(1, original["days_per_week"] - chance.randint(0, 2))
    rule = EXERCISE_RULES.get(exercise)
    if rule is not None and rule.grip_height is None and chance.random() < 0.4:
        found["depth"] = {"thigh_below_horizontal": _quantity(chance.choice((-40, -30, -20, -10)), "deg")}
    if chance.random() < 0.2:
        found["tempo"] = chance.choice(SLOW)
    return found


def _quantity(value: float, unit: str) -> Request:
    return {"value": value, "unit": unit}
