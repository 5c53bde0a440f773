"""How often intervals hold for lifters whose posture was seen, each in a repetition and with an error of their own.

A drawn lifter does a repetition, in which angles are read with the stated error; what was read goes into the question,
and the intervals of its answer are held against another repetition of the same lifter.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product
from typing import Any, Final

import msgspec
import numpy as np
from numpy.random import default_rng

from service.api.models.lifter import Lifter, body_of
from service.api.models.setup import technique_of
from service.errors import Refusal
from tests.science.calibration.bodies import DrawnLifter, Question, Truth
from tests.science.calibration.mechanics import JOINTS, LIFTERS, LIGHT
from tests.science.calibration.repetitions import Coverage
from tests.support.asking import Answered, ask, kg

SEED: Final = 41
LIFTS: Final = (
    "back_squat_high_bar",
    "front_squat",
    "good_morning",
    "deadlift_conventional",
    "deadlift_trap_bar",
    "romanian_deadlift",
    "split_squat",
    "lunge",
)
ERRORS: Final = {
    "eye": {"shin_angle": 6.0, "trunk_lean": 6.0, "thigh_angle": 6.0},
    "phone_video": {"shin_angle": 4.5, "trunk_lean": 3.5, "thigh_angle": 3.5},
    "inclinometer": {"shin_angle": 2.2, "trunk_lean": 2.2, "thigh_angle": 2.2},
}
"""Standard errors of reading, keyed in anew [deg]."""
ANGLES: Final = {
    "trunk": ("trunk_lean",),
    "shin": ("shin_angle",),
    "all three": ("shin_angle", "trunk_lean", "thigh_angle"),
}
LIFTER: Final = ("tall man", "measured woman")
RATIO: Final = 0.9
"""Load over body mass, half of it for LIGHT [1]."""
LESS: Final = 0.825


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Moments, ratio, lumbosacral load and lean of every lift, lifter, way of seeing and angles seen."""
    draw = default_rng(SEED)
    grid = product(LIFTS, LIFTER, ERRORS, ANGLES)
    return tuple(one for lift, name, by, angles in grid for one in _coverages(lift, name, by, angles, count, draw))


def _coverages(lift: str, name: str, by: str, angles: str, count: int, draw: np.random.Generator) -> Iterator[Coverage]:
    person = LIFTERS[name]
    load = RATIO * person["body_mass"]["value"] * (0.5 if lift in LIGHT else 1.0)
    known = msgspec.convert(person, Lifter)
    usual = technique_of(None, known)
    held: dict[tuple[str, str], list[tuple[Answered, float]]] = {}
    for _ in range(count):
        lifter = DrawnLifter(body_of(known), draw)
        loads = (load, load, LESS * load)
        seen, once, lighter = (lifter.once(Question(lift, one, None, usual)) for one in loads)
        if seen is None or once is None or lighter is None:
            continue
        try:
            answered = _asked(lift, person, load, _read(seen, by, angles, draw))
        except Refusal:
            continue
        for where, interval, truth in _estimates(answered, once, lighter):
            if interval is not None and interval.low != interval.high:
                held.setdefault(where, []).append((interval, truth))
    for (estimate, result), pairs in held.items():
        below = np.array([truth < one.low - 1e-5 * abs(truth) for one, truth in pairs])
        above = np.array([truth > one.high + 1e-5 * abs(truth) for one, truth in pairs])
        meaning = pairs[0][0].interval
        about = f"{by}, {angles}"
        yield Coverage(
            f"{estimate}, seen", lift, name, result, about, meaning, count, below, above, np.zeros(len(pairs), bool)
        )


def _read(seen: Truth, by: str, angles: str, draw: np.random.Generator) -> dict[str, Any]:
    """The technique as a request writes it: what was read of one repetition."""
    read = {name: getattr(seen, name) + draw.normal(0.0, ERRORS[by][name]) for name in ANGLES[angles]}
    return {"seen_by": by, **{name: {"value": float(one), "unit": "deg"} for name, one in read.items()}}


def _asked(lift: str, person: dict[str, Any], load: float, technique: dict[str, Any]) -> tuple[Any, Any]:
    # the depth is the usual one, which all lifters were asked for; a good morning's and a pull's follows
    depth = (
        {"depth": {"thigh_below_horizontal": {"value": 0, "unit": "deg"}}} if "squat" in lift or lift == "lunge" else {}
    )
    whole = {"exercise": lift, "load": kg(load), "technique": technique, **depth}
    setups = [{"label": "before", **whole}, {"label": "after", **whole, "load": kg(LESS * load)}]
    request = {"lifter": person, "setups": setups}
    return ask("joint-demand", request), ask("spinal-load", request)


def _estimates(
    answered: tuple[Any, Any], once: Truth, lighter: Truth
) -> Iterator[tuple[tuple[str, str], Answered, float]]:
    joints, spine = (one.setups for one in answered)
    for joint in JOINTS:
        truth = getattr(once, joint)
        yield ("joint-demand: moments", joint), getattr(joints[0].moments, joint), truth
        if truth:
            yield (
                ("joint-demand: relative", joint),
                getattr(joints[1].relative, joint),
                getattr(lighter, joint) / truth,
            )
    yield ("spinal-load: moment", "lumbosacral"), spine[0].moment, once.lumbosacral
    yield ("spinal-load: trunk_lean", "trunk_lean"), spine[0].trunk_lean, once.trunk_lean
    if joints[0].posture.split:
        yield (
            ("joint-demand: posture.split.lead_share", "lead_share"),
            joints[0].posture.split.lead_share,
            once.lead_share,
        )
