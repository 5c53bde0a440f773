"""Random weeks as a clinic would ask for them, to see how the time of week-adjustments is spread.

Lifts of the whole catalogue, of the legs and back or of the arms, on three to six days, some of them the same on two; a
region that many of them load, pain at which something is changed, every aim. Timed is the computation alone, from the
bytes of the question to the answer's struct, by processor time.
"""

from __future__ import annotations

import time
from collections import Counter
from random import Random
from typing import Any, Final, get_args

import msgspec

from service.api.operations.week_adjustments.handler import week_adjustments
from service.api.operations.week_adjustments.models import WeekAdjustments
from service.api.serialization.json import Reader
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.vocabulary import Aim
from tests.performance.benchmark.return_plans import LOADS
from tests.performance.benchmark.table import Spread

WEEKS: Final = 200
LIFTS: Final = 20
"""Of a week [count]."""
FAMILIES: Final = (tuple(LOADS), ("squat", "hinge", "split"), ("press", "pull"))
"""Of which the lifts of a week are."""
MANY: Final = 0.25
"""Part of the lifts that load the sore region, at least [1]."""
PAIN: Final = (3, 7)
"""Least and most, between nothing to be changed and a pause [points]."""
Request = dict[str, Any]


def measure(lifts: int) -> Spread:
    """The time of each random week of so many lifts [s]; how many were refused, and for how many none is offered."""
    read = Reader(WeekAdjustments).read
    times, refused, without = [], 0, 0
    for seed in range(WEEKS):
        body = msgspec.json.encode(plausible(seed, lifts))
        began = time.process_time()
        try:
            answer = week_adjustments(read(body))
        except Refusal:
            refused += 1
            answer = None
        times.append(time.process_time() - began)
        without += answer is not None and not answer.options
    return Spread(tuple(sorted(times)), refused, without)


def plausible(seed: int, lifts: int) -> Request:
    """One request; the same for the same seed."""
    chance = Random(seed)  # noqa: S311 - nothing secret
    days = sorted(chance.sample(range(1, 8), chance.randint(3, 6)))
    families = chance.choice(FAMILIES)
    exercises = sorted(one.id for one in EXERCISES.values() if one.family in families)
    week: list[Request] = []
    while len(week) < lifts:
        again = week and chance.random() < 0.2
        prescription = chance.choice(week)["prescription"] if again else _prescription(chance, chance.choice(exercises))
        week.append({"day": chance.choice(days), "prescription": prescription})
    loaded = [EXERCISES[one["prescription"]["exercise"]].regions for one in week]
    times = Counter(region for regions in loaded for region in regions)
    region = chance.choice(sorted(region for region in times if times[region] >= MANY * lifts))
    pain = chance.randint(*PAIN)
    request: Request = {
        "lifter": {
            "body_mass": _quantity(chance.randint(50, 120), "kg"),
            "stature": _quantity(chance.randint(152, 198), "cm"),
            "training": chance.choice(("novice", "trained")),
        },
        "week": week,
        "complaint": {"region": region, "pain_in_session": pain},
        "aim": chance.choice(get_args(Aim)),
    }
    if chance.random() < 0.5:
        request["complaint"]["pain_next_morning"] = chance.randint(0, pain)
    if chance.random() < 0.5:
        request["hurts"] = [chance.choice([entry for entry, regions in enumerate(loaded) if region in regions])]
    return request


def _prescription(chance: Random, exercise: str) -> Request:
    lightest, heaviest = LOADS[EXERCISES[exercise].family]
    low = chance.randint(3, 12)
    return {
        "exercise": exercise,
        "sets": chance.randint(2, 5),
        "reps": {"low": low, "high": low + chance.randint(0, 2)},
        "load": _quantity(2.5 * round(chance.uniform(lightest, heaviest) / 2.5), "kg"),
        "reps_in_reserve": chance.choice((1, 2, 3)),
    }


def _quantity(value: float, unit: str) -> Request:
    return {"value": value, "unit": unit}
