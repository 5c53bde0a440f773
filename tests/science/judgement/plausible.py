"""Plausible consultations, the same on every machine: what lifters of usual strength ask who are sore in usual places.

An exercise is drawn as often as it is trained, its region as often as it is sore in it, and the load follows from a
maximum of so many body masses and the repetitions of the aim. All of it is our own; lifts.csv has the lifts.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path
from random import Random
from typing import Any, Final

import msgspec

from service.training.load_repetition import person_curve

Request = dict[str, Any]

FIRST_SEED: Final = 20_250
REPS: Final = {"strength": (3, 6), "muscle_size": (6, 12), "tendon": (6, 12), "maintain": (5, 10)}
_AIMS: Final = {"strength": 4, "muscle_size": 4, "maintain": 1, "tendon": 1}
_PAINS: Final = {2.5: 1, 3: 4, 3.5: 1, 4: 4, 4.5: 1, 5: 4, 6: 2, 7: 1}
_TENDONS: Final = ("knee", "ankle", "elbow", "shoulder")
STRENGTH: Final = {"male": {"leg": 1.0, "arm": 1.0}, "female": {"leg": 0.75, "arm": 0.55}}
MASSES: Final = {"male": (62, 115), "female": (50, 90)}
STATURES: Final = {"male": (165, 195), "female": (152, 180)}
_HOME: Final = (["load", "reps", "sets", "rest", "tempo", "days", "range_of_motion", "technique"], 0.15)


class Lift(msgspec.Struct, frozen=True):
    """A lift that is drawn.

    Attributes:
        exercise: its id
        drawn: how often, against the others [1]
        of_body_mass: maximum of a man of middling strength, in body masses [1]
        regions: how often each region is sore in it, against the others [1]
        implement: with which it is done, empty where that is the usual one
    """

    exercise: str
    drawn: float
    of_body_mass: float
    regions: dict[str, float]
    implement: str = ""


def _lift(row: dict[str, str]) -> Lift:
    weights = {name: float(weight) for name, weight in (one.split(":") for one in row["regions"].split())}
    return Lift(row["exercise"], float(row["drawn"]), float(row["of_body_mass"]), weights, row.get("implement", ""))


def lifts_in(name: str) -> tuple[Lift, ...]:
    """The lifts of a file beside this one."""
    with (Path(__file__).parent / name).open(encoding="utf-8", newline="") as lines:
        return tuple(_lift(row) for row in csv.DictReader(lines, strict=True))


LIFTS: Final = lifts_in("lifts.csv")
_ARMS: Final = ("press", "pull", "row", "pulldown")


def drawn(random: Random, weights: Mapping[Any, float]) -> Any:  # noqa: ANN401 (whatever is drawn)
    """One of what is weighed."""
    return random.choices(list(weights), list(weights.values()))[0]


def lifter(mass: float, stature: float, sex: str) -> Request:
    """A lifter of a body mass [kg] and a stature [cm]."""
    return {"body_mass": {"value": mass, "unit": "kg"}, "stature": {"value": stature, "unit": "cm"}, "sex": sex}


def consultation(seed: int) -> Request:
    """The consultation of a seed."""
    random = Random(seed)  # noqa: S311 (nothing secret)
    lift = random.choices(LIFTS, [one.drawn for one in LIFTS])[0]
    sex = random.choice(["male", "female"])
    mass, stature = random.randint(*MASSES[sex]), random.randint(*STATURES[sex])
    region = drawn(random, lift.regions)
    aims = dict(_AIMS) if region in _TENDONS else {aim: n for aim, n in _AIMS.items() if aim != "tendon"}
    aim = drawn(random, aims)
    complaint: Request = {"region": region, "pain_in_session": drawn(random, _PAINS)}
    prescription = _prescription(random, lift, sex, mass, aim)
    if random.random() < 0.25 and lift.exercise != "pull_up":
        tolerated = 2.5 * round(prescription["load"]["value"] * random.uniform(0.65, 0.95) / 2.5)
        if 0 < tolerated < prescription["load"]["value"]:
            complaint["tolerated"] = {"load": {"value": tolerated, "unit": "kg"}}
    levers, share = _HOME
    constraints = {"constraints": {"levers": levers}} if random.random() < share else {}
    return {
        "lifter": lifter(mass, stature, sex),
        "prescription": prescription,
        "complaint": complaint,
        "aim": aim,
        **constraints,
    }


def _prescription(random: Random, lift: Lift, sex: str, mass: float, aim: str) -> Request:
    low = random.randint(*REPS[aim])
    high = low + random.choice([0, 0, 1, 2])
    reserve = random.choice([0, 1, 1, 2, 2, 3])
    limb = "arm" if any(word in lift.exercise for word in _ARMS) and lift.exercise != "leg_press" else "leg"
    body = mass if lift.exercise == "pull_up" else 0
    maximum = (lift.of_body_mass * mass + body) * STRENGTH[sex][limb] * random.uniform(0.65, 1.35)
    share = person_curve(lift.exercise, 0).share_at(high + reserve)
    least = 0.0 if body else (20.0 if "press" not in lift.exercise or limb == "arm" else 40.0)
    load = max(least, 2.5 * round((share * maximum - body) / 2.5))
    return {
        "exercise": lift.exercise,
        "sets": random.choice([2, 3, 3, 4, 4, 5]),
        "reps": {"low": low, "high": high},
        "load": {"value": load, "unit": "kg"},
        "reps_in_reserve": reserve,
        "days_per_week": random.choice([1, 2, 2, 3]),
        **({"rest": {"value": random.choice([90, 120, 180]), "unit": "s"}} if random.random() < 0.5 else {}),
    }
