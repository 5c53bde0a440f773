"""Who comes with what: the golden consultations, and random ones with kept seeds over the whole catalogue."""

from __future__ import annotations

from random import Random
from typing import Final, get_args

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.posture_rules import EXERCISE_RULES
from tests.science.episodes.body import Body
from tests.science.episodes.constants import CONSTANTS, LIFTS, Model
from tests.science.episodes.course import start, trained
from tests.science.episodes.lifter import chance, drawn
from tests.science.episodes.prescribed import Json
from tests.support.golden import consultation, files

MODELS: Final[tuple[Model, ...]] = get_args(Model)
AIMS: Final = ("strength", "muscle_size", "tendon", "maintain")
POUNDS: Final = 2.20462262
BARS: Final = {
    "kg": ((20.0, (1.25, 2.5, 5, 10, 15, 20, 25)), (15.0, (0.5, 1.25, 2.5, 5, 10, 20)), (20.0, (2.5, 5, 10, 20))),
    "lb": ((45.0, (2.5, 5, 10, 25, 45)), (35.0, (1, 2.5, 5, 10, 25, 45)), (45.0, (5, 10, 25, 45))),
}
INCREMENTS: Final = {"kg": (1.0, 2.0, 2.5, 5.0), "lb": (2.5, 5.0, 10.0)}
TEMPOS: Final = ("2-0-1-0", "3-1-X-1", "3-0-3-0")


class Case(msgspec.Struct, frozen=True):
    """A consultation with the lifter behind it.

    Attributes:
        name: of the file, or the number of a random one
        model: how the sore region answers
        request: what adjustments is asked
        body: the simulated lifter
    """

    name: str
    model: Model
    request: Json
    body: Body


def golden(model: Model) -> list[Case]:
    """The golden consultations that ask for an adjustment, as lifters whose original hurts as much as is said there."""
    cases = []
    for path in files():
        asked = consultation(path)
        if asked.operation == "adjustments":
            complaint = asked.request["complaint"]
            lifter = drawn(model, path.stem, complaint["pain_in_session"], complaint.get("usual_pain"))
            body = Body(lifter, asked.request["lifter"], asked.request["prescription"], complaint["region"])
            cases.append(Case(path.stem, model, asked.request, body))
    return cases


def random_case(number: int) -> Case:
    """A random consultation, the same for a number on every machine; the models take turns."""
    random = chance("consultation", number)
    model = MODELS[number % len(MODELS)]
    unit = random.choice(("kg", "kg", "lb"))
    stated = _lifter(random)
    exercise = random.choice(sorted(LIFTS))
    original = _prescription(random, exercise, unit, stated["body_mass"]["value"])
    region = random.choice(EXERCISES[exercise].regions)
    body = Body(drawn(model, f"random {number}"), stated, original, region)
    report = trained(body, start(body), original)[1].report
    complaint = {"region": region, "pain_in_session": report.pain_in_session, "usual_pain": report.usual_pain}
    if report.pain_next_morning is not None:
        complaint["pain_next_morning"] = report.pain_next_morning
    request: Json = {
        "lifter": stated,
        "prescription": original,
        "complaint": complaint,
        "aim": random.choice(AIMS),
        "constraints": _equipment(random, unit),
    }
    return Case(str(number), model, request, body)


def _lifter(random: Random) -> Json:
    stated: Json = {
        "body_mass": {"value": random.randrange(50, 121), "unit": "kg"},
        "stature": {"value": random.randrange(152, 199), "unit": "cm"},
    }
    if random.random() < 0.7:
        stated["sex"] = random.choice(("female", "male"))
    return stated


def _prescription(random: Random, exercise: str, unit: str, body_mass: float) -> Json:
    """Something that this lifter might well be doing: a load by strength, repetitions and reserve."""
    lift, low, reserve = LIFTS[exercise], random.randrange(3, 13), random.choice((0, 1, 2, 2, 3))
    high = low + random.randrange(3)
    best = body_mass * random.uniform(0.9, 2.0) * lift.maximum
    moved = best / (1 + (high + reserve) / CONSTANTS.strength.epley) - lift.body_lifted * body_mass
    step = random.choice((2.5, 5.0)) if unit == "kg" else 5.0
    load = step * round(moved * (1 if unit == "kg" else POUNDS) / step)
    prescription: Json = {
        "exercise": exercise,
        "sets": random.randrange(2, 6),
        "reps": {"low": low, "high": high},
        "load": {"value": max(load, 0.0 if lift.body_lifted else step), "unit": unit},
        "reps_in_reserve": reserve,
        "days_per_week": random.randrange(1, 4),
    }
    if lift.body_lifted and load < 0:
        prescription["assistance"] = {"value": -load, "unit": unit}
    if random.random() < 0.2:
        prescription["tempo"] = random.choice(TEMPOS)
    if random.random() < 0.3:
        prescription["rest"] = {"value": random.choice((60, 90, 120, 180)), "unit": "s"}
    if exercise in EXERCISE_RULES and lift.family == "squat" and random.random() < 0.2:
        prescription["depth"] = {"thigh_below_horizontal": {"value": random.choice((-10, 0, 5)), "unit": "deg"}}
    return prescription


def _equipment(random: Random, unit: str) -> Json:
    bar, plates = random.choice(BARS[unit])
    return {
        "bar": {
            "bar": {"value": bar, "unit": unit},
            "plates": [{"plate": {"value": plate, "unit": unit}} for plate in plates],
        },
        "increment": {"value": random.choice(INCREMENTS[unit]), "unit": unit},
    }
