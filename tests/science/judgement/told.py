"""Plausible consultations as lifters tell them now: more lifts and implements, finer regions, what the pain is like.

Drawn beside those of plausible.py, which stay as they are so that the counts of all versions can be compared. Every
weight is our own; told.csv has the lifts.
"""

from __future__ import annotations

from random import Random
from typing import Any, Final

from service.adjustment.prescription import body_moved
from service.knowledge.catalogue import EXERCISES
from service.training.load_repetition import person_curve
from tests.science.judgement.plausible import MASSES, REPS, STATURES, STRENGTH, Lift, Request, drawn, lifter, lifts_in

FIRST_SEED: Final = 41_000
_AIMS: Final = {"strength": 4, "muscle_size": 4, "maintain": 2}
_TENDONS: Final = ("front_of_knee", "calf_achilles", "elbow", "shoulder", "hamstring")
_PAINS: Final = {2.5: 1, 3: 5, 3.5: 1, 4: 5, 4.5: 1, 5: 4, 6: 2, 7: 1, 8: 0.5}
_PROVOKED: Final = {"load": 5, "range": 3, "volume": 3, "speed": 0.5}
_RANGES: Final = {"bottom": 5, "whole": 2, "middle": 1, "top": 1}
_SIDES: Final = {"left": 4, "right": 5, "both": 1}
_NOT_OF_A_SIDE: Final = ("low_back", "upper_back", "neck")
_BAR: Final = ("barbell",)
_DUMBBELLS: Final = ("dumbbells", "one_dumbbell")
_MACHINES: Final = ("machine", "cable")
_GYMS: Final = {_BAR: 1, _DUMBBELLS: 1.5, _MACHINES: 1, (*_MACHINES, *_DUMBBELLS): 1.5, (): 15}
_STEPS: Final = {"dumbbells": 2, "one_dumbbell": 2, "kettlebell": 4, "machine": 5, "cable": 5}
_EMPTY_BAR: Final = {"barbell": 20.0, "safety_bar": 25.0, "trap_bar": 25.0}
_HEAVIEST: Final = {"dumbbells": 40, "one_dumbbell": 40}


LIFTS: Final = lifts_in("told.csv")


def told(seed: int) -> Request:
    """The consultation of a seed."""
    random = Random(seed)  # noqa: S311 (nothing secret)
    lift = random.choices(LIFTS, [one.drawn for one in LIFTS])[0]
    sex = random.choice(["male", "female"])
    mass, stature = random.randint(*MASSES[sex]), random.randint(*STATURES[sex])
    region = drawn(random, lift.regions)
    aim = drawn(random, _AIMS | ({"tendon": 1} if region in _TENDONS else {}))
    prescription = _prescription(random, lift, sex, mass, aim)
    gym = _gym(random, lift.implement, prescription)
    return {
        "lifter": lifter(mass, stature, sex),
        "prescription": prescription,
        "complaint": _complaint(random, region),
        "aim": aim,
        **({"constraints": {"gym": gym}} if gym else {}),
    }


def _prescription(random: Random, lift: Lift, sex: str, mass: float, aim: str) -> Request:
    low = random.randint(*REPS[aim])
    high = low + random.choice([0, 0, 1, 2])
    reserve = random.choice([0, 1, 1, 2, 2, 3])
    limb = "arm" if EXERCISES[lift.exercise].family in ("press", "pull") else "leg"
    body = body_moved(lift.exercise, mass)
    maximum = (lift.of_body_mass * mass + body) * STRENGTH[sex][limb] * random.uniform(0.65, 1.35)
    wanted = person_curve(lift.exercise, 0).share_at(high + reserve) * maximum - body
    pair = 2 if lift.implement == "dumbbells" else 1
    step = pair * _STEPS.get(lift.implement, 2.5)
    least = 0.0 if body else _EMPTY_BAR.get(lift.implement, step)
    load = 0.0 if lift.implement == "body_weight" else max(least, step * round(wanted / step))
    return {
        "exercise": lift.exercise,
        "implement": lift.implement,
        "sets": random.choice([2, 3, 3, 4, 4, 5]),
        "reps": {"low": low, "high": high},
        "load": {"value": load, "unit": "kg"},
        "reps_in_reserve": reserve,
        "days_per_week": random.choice([1, 2, 2, 3]),
        **({"rest": {"value": random.choice([90, 120, 180]), "unit": "s"}} if random.random() < 0.5 else {}),
    }


def _complaint(random: Random, region: str) -> Request:
    pain = drawn(random, _PAINS)
    complaint: Request = {"region": region, "pain_in_session": pain}
    if region not in _NOT_OF_A_SIDE and random.random() < 0.7:
        complaint["side"] = drawn(random, _SIDES)
    if random.random() < 0.5:
        complaint["usual_pain"] = random.choice([0, 1, 1, 2])
        complaint["pain_next_morning"] = min(int(pain), complaint["usual_pain"] + random.choice([0, 0, 0, 1, 1, 2]))
    if random.random() < 0.6:
        complaint["provoked_by"] = [drawn(random, _PROVOKED)]
    if random.random() < 0.5:
        complaint["painful_range"] = drawn(random, _RANGES)
    if random.random() < 0.6:
        complaint["weeks"] = random.randint(0, 14)
        complaint["onset"] = "sudden" if random.random() < 0.1 else "gradual"
    return complaint


def _gym(random: Random, implement: str, prescription: Request) -> dict[str, Any] | None:
    """A gym that has what the lift is done with, None where nothing is said; the load is cut to its heaviest."""
    there = drawn(random, {one: weight for one, weight in _GYMS.items() if not one or implement in one})
    if not there:
        return None
    listed = [{"implement": name} | _sizes(name) for name in there if name != "barbell"]
    most = _HEAVIEST.get(implement, 1000) * (2 if implement == "dumbbells" else 1)
    prescription["load"]["value"] = min(prescription["load"]["value"], most)
    bar = {"bar": {"bar": {"value": 20, "unit": "kg"}}} if "barbell" in there else {}
    return bar | {"implements": listed or [{"implement": "body_weight"}]}


def _sizes(name: str) -> dict[str, Any]:
    step = {"step": {"value": _STEPS[name], "unit": "kg"}} if name in _STEPS else {}
    heaviest = {"heaviest": {"value": _HEAVIEST[name], "unit": "kg"}} if name in _HEAVIEST else {}
    return step | heaviest
